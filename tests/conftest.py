"""What every test run shares."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.site.site import Site
from tests.making import HOUSES, made_site


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """The browser tests are read only when asked for by `-m browser`: their libraries are an extra of their own."""
    if collection_path.name == "browser" and config.getoption("markexpr") != "browser":
        return True
    return None


@pytest.fixture(scope="session")
def sites() -> dict[str, Site]:
    """second: US units and no varieties; fourth: all kinds of thing; fifth: one rack, hypochlorite."""
    return {name: made_site(HOUSES / name) for name in ("second", "fourth", "fifth")}


@pytest.fixture(scope="session")
def all_kinds(sites: dict[str, Site]) -> Site:
    """The manual of the house that has every kind of thing. Tests only look at it."""
    return sites["fourth"]
