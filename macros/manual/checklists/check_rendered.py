"""Checklists as they really stand on the rendered sheets, against the steps that must not be missed: both ways."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

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
    problems = []
    listed: dict[str, list[str]] = {}
    for view in checklists:
        items = listed.setdefault(view.address, _ITEM.findall(files[view.address]))
        wanted = [
            f"{page.key}/{step.id}"
            for page in pages
            if page.key in view.pages
            for step in must_not_be_missed(page)
        ]
        problems += [_mistake(view, f"the step {one} is missing") for one in wanted if one not in items]
        problems += [
            _mistake(view, f"{one} is no step that must not be missed") for one in items if one not in wanted
        ]
        problems += [
            _mistake(view, f"{one} stands there twice")
            for one in dict.fromkeys(items)
            if items.count(one) > 1
        ]
    for page in pages:
        on_one = any(page.key in view.pages for view in checklists)
        if not on_one and (page.checklist or page.job == "cleanout") and must_not_be_missed(page):
            problems.append(
                Problem(Place(page.page_address, 1), "checklist", f"{page.key} stands on no checklist")
            )
    return problems


def _mistake(view: ChecklistView, what: str) -> Problem:
    return Problem(
        Place(view.address, 1),
        "checklist",
        what,
        "The items are the critical, hold and easily missed steps of its pages, each once",
        "Mend the template or the cutting of blocks",
    )
