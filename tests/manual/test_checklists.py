"""Checklists: which steps stand on one, how they are cut into blocks, what the doer answers."""

from __future__ import annotations

import pytest

from macros.manual.checklists import split_evenly
from tests.making import HOUSES, made_site

BANNED = {"ok", "okay", "checked", "set", "done", "complete", "yes", "fine"}
"""Answers that say nothing of the state (Degani and Wiener, NASA CR-177549, guideline 1; list is ours)."""


@pytest.mark.parametrize("count", range(5, 120))
def test_blocks_hold_five_to_nine_items(count: int) -> None:
    """Source: Gawande and others, A Checklist for Checklists: fewer than ten items; five at least is ours."""
    sizes = split_evenly(count)
    assert sum(sizes) == count
    assert all(5 <= size <= 9 for size in sizes)
    assert max(sizes) - min(sizes) <= 1


def test_short_lists_are_one_block_and_none_is_none() -> None:
    assert split_evenly(3) == [3]
    assert split_evenly(0) == []


@pytest.mark.parametrize("name", ["second", "third"])
def test_items_are_the_steps_that_must_not_be_missed(name: str) -> None:
    site = made_site(HOUSES / name)
    assert site.checklists
    for view in site.checklists:
        pages = [page for page in site.views if page.job == "cleanout" and page.system == view.system]
        wanted = [
            (p.document, s.number) for p in pages for s in p.steps if s.critical or s.hold or s.easily_missed
        ]
        items = [item for block in view.blocks for item in block.items]
        assert [(item.procedure, item.step) for item in items] == wanted
        assert [item.number for item in items] == list(range(1, len(items) + 1))
        for item in items:
            assert item.response.lower().strip(". ") not in BANNED
            assert len(item.text.split()) <= 14


def test_a_house_without_sanitizing_has_no_cleanout_checklist() -> None:
    assert made_site(HOUSES / "first").checklists == []
