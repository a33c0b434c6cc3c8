"""Checklists as they really stand on the rendered sheets, against the steps that must not be missed: both ways."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from macros.ground.problems import Place, Problem
from macros.manual.checklists.checklists import LEAST, MOST
from macros.manual.checklists.day_list import is_named
from macros.manual.checklists.must_not_be_missed import critical, must_not_be_missed
from macros.page_model.checklist import ChecklistView
from macros.page_model.page import PageView
from macros.published.labour.jobs import job

_ITEM = re.compile(r'data-item="([^"]+)"')
_ELSEWHERE = re.compile(r'data-also="([^"]+)"')


def checklist_mistakes(
    files: Mapping[str, str], checklists: Sequence[ChecklistView], pages: Sequence[PageView]
) -> list[Problem]:
    """A step that must not be missed and stands on no line of its checklist, or a line without such a step.

    Parameters
    ----------
    files : finished sheets by address
    checklists, pages : what they were made of
    """
    problems = [
        _mistake(view, what) for view in checklists for what in _wrong_lines(files[view.address], view, pages)
    ]
    problems += _pages_on_none(checklists, pages)
    return problems


def _pages_on_none(checklists: Sequence[ChecklistView], pages: Sequence[PageView]) -> Iterator[Problem]:
    """Pages that ask for a checklist of their own, or are of the day, and are on none."""
    on_day = {key for view in checklists if view.one_page for key in view.pages}
    own = {key for view in checklists if not view.one_page for key in view.pages}
    for page in filter(must_not_be_missed, pages):
        asks = page.checklist and page.key not in own
        if asks or (page.job == "cleanout" and page.key not in on_day):
            yield Problem(Place(page.page_address, 1), "checklist", f"{page.key} stands on no checklist")


def _wrong_lines(text: str, view: ChecklistView, pages: Sequence[PageView]) -> Iterator[str]:
    """What is wrong with a sheet. On the one page of a job a step is an item, or named at its foot."""
    marked = _wanted(view, pages)
    if not view.one_page:
        yield from _wrong_items(_ITEM.findall(text), marked)
        return
    own = [page for page in pages if page.key in view.pages]
    chosen = _chosen(own)
    yield from _wrong_items(_ITEM.findall(text), [one for one in chosen if one in marked])
    yield from _wrong_items(_ELSEWHERE.findall(text), [one for one in _critical(own) if one not in chosen])
    for block in view.blocks:
        if not LEAST <= len(block.rows) <= MOST:
            yield f"{block.name} has {len(block.rows)} items"


def _chosen(pages: Sequence[PageView]) -> list[str]:
    """The steps jobs.yml names for the one page."""
    named = [step for block in job("cleanout").checklist for row in block.rows for step in row.steps]
    return [
        f"{page.key}/{step.id}"
        for page in pages
        for step in page.steps
        if any(is_named(page, step, one) for one in named)
    ]


def _critical(pages: Sequence[PageView]) -> list[str]:
    """The critical steps of the pages, without those another page does."""
    left_out = {(page.document, step) for page in job("cleanout").pages for step in page.left_out}
    return [
        f"{page.key}/{step.id}"
        for page in pages
        for step in critical(page)
        if step.timing is None or (page.document, step.timing.step) not in left_out
    ]


def _wanted(view: ChecklistView, pages: Sequence[PageView]) -> list[str]:
    own = (page for page in pages if page.key in view.pages)
    return [f"{page.key}/{step.id}" for page in own for step in must_not_be_missed(page)]


def _wrong_items(items: Sequence[str], wanted: Sequence[str]) -> Iterator[str]:
    yield from (f"the step {one} is missing" for one in wanted if one not in items)
    yield from (f"{one} is no step that must not be missed" for one in items if one not in wanted)
    yield from (f"{one} stands there twice" for one in dict.fromkeys(items) if items.count(one) > 1)


def _mistake(view: ChecklistView, what: str) -> Problem:
    return Problem(
        Place(view.address, 1),
        "checklist",
        what,
        "The items are the critical, hold and easily missed steps of its pages, each once; on the one page of a day those "
        "jobs.yml names, the other critical ones at its foot",
        "Mend the template, the cutting of blocks or the list in jobs.yml",
    )
