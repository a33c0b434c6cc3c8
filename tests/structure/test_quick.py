"""The quick tests: every room has one, and they stay few."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.making import ROOT

MOST_OF_A_ROOM = 3


def quick_tests(room: Path) -> list[str]:
    """The marked tests that stand in the folder of this name under `tests/`."""
    files = sorted((ROOT / "tests" / room.name).rglob("test_*.py"))
    marked = r"^@pytest\.mark\.quick\n(?:@.*\n|[ )].*\n)*def (test_\w+)"
    return [name for file in files for name in re.findall(marked, file.read_text(encoding="utf-8"), re.M)]


@pytest.mark.parametrize(
    "room",
    sorted(path.parent for path in (ROOT / "macros").glob("*/__init__.py")),
    ids=lambda room: room.name,
)
def test_every_room_has_one_to_three_quick_tests(room: Path) -> None:
    """`python -m pytest -m quick` says within 20 s whether any room is broken."""
    assert 1 <= len(quick_tests(room)) <= MOST_OF_A_ROOM, f"mark one to three fast tests in tests/{room.name}"
