"""Checklists as they really stand on the rendered sheets, against the steps that must not be missed: both ways."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from macros.ground.problems import Place, Problem
from macros.manual.checklists.checklists import must_not_be_missed
from macros.page_model.page import ChecklistView, PageView

_ITEM = re.compile(r'data-item="([^"]+)"')


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
        _mistake(view, what)
        for view in checklists
        for what in _wrong_items(_ITEM.findall(files[view.address]), _wanted(view, pages))
    ]
    listed = {key for view in checklists for key in view.pages}
    problems += [
        Problem(Place(page.page_address, 1), "checklist", f"{page.key} stands on no checklist")
        for page in pages
        if page.key not in listed and _needs_one(page)
    ]
    return problems


def _wanted(view: ChecklistView, pages: Sequence[PageView]) -> list[str]:
    own = (page for page in pages if page.key in view.pages)
    return [f"{page.key}/{step.id}" for page in own for step in must_not_be_missed(page)]


def _wrong_items(items: Sequence[str], wanted: Sequence[str]) -> Iterator[str]:
    yield from (f"the step {one} is missing" for one in wanted if one not in items)
    yield from (f"{one} is no step that must not be missed" for one in items if one not in wanted)
    yield from (f"{one} stands there twice" for one in dict.fromkeys(items) if items.count(one) > 1)


def _needs_one(page: PageView) -> bool:
    return bool((page.checklist or page.job == "cleanout") and must_not_be_missed(page))


def _mistake(view: ChecklistView, what: str) -> Problem:
    return Problem(
        Place(view.address, 1),
        "checklist",
        what,
        "The items are the critical, hold and easily missed steps of its pages, each once",
        "Mend the template or the cutting of blocks",
    )
