"""What every test run shares."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from macros.site.site import Site


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """The browser tests are read only when asked for by `-m browser`: their libraries are an extra of their own.

    Where `-m quick` asks for few tests, files without one are not read: that would take longer than the tests.
    """
    asked = config.getoption("markexpr")
    if collection_path.name == "browser" and asked != "browser":
        return True
    if asked == "quick" and collection_path.match("test_*.py"):
        return "@pytest.mark.quick" not in collection_path.read_text(encoding="utf-8")
    return None


def pytest_collection_finish() -> None:
    """What was imported stays to the end, and houses are many objects: looking for garbage among them took a fifth of the time."""
    gc.freeze()
    gc.set_threshold(100_000, 50, 50)


class _Manuals(Mapping[str, "Site"]):
    """Each is made when it is first asked for, so that one test waits for one house."""

    names = ("second", "fourth", "fifth")

    def __getitem__(self, name: str) -> Site:
        if name not in self.names:
            raise KeyError(name)
        from tests.making import (
            manual_of,  # reads the whole program, which a test of one function does without
        )

        return manual_of(name)

    def __iter__(self) -> Iterator[str]:
        return iter(self.names)

    def __len__(self) -> int:
        return len(self.names)


@pytest.fixture(scope="session")
def sites() -> Mapping[str, Site]:
    """second: US units and no varieties; fourth: all kinds of thing; fifth: one rack, hypochlorite."""
    return _Manuals()


@pytest.fixture(scope="session")
def all_kinds(sites: Mapping[str, Site]) -> Site:
    """The manual of the house that has every kind of thing. Tests only look at it."""
    return sites["fourth"]
