"""Cautions as they really stand on the finished pages and sheets, against the triggers: both ways."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from macros.ground.problems import Place, Problem
from macros.manual.cautions.check_rendered import check_page
from macros.manual.pages.build_page import BuiltPage
from macros.page_model.addresses import source_address

_BEFORE_A_STEP = re.compile(r'data-caution="([^"]+)"|data-step(?:-id)?="([^"]+)"')


def caution_mistakes(texts: Mapping[str, str], built: Sequence[BuiltPage]) -> list[Problem]:
    """What is missing or needless on the `texts` by their addresses, which were made of the pages `built`."""
    problems = []
    for page in built:
        for address in (source_address(page.content.page_address), page.content.sheet_address):
            if text := texts.get(address):
                messages = check_page(cautions_before_steps(text), page.cautions)
                problems += [Problem(Place(address, 1), "cautions", message) for message in messages]
    return problems


def cautions_before_steps(text: str) -> dict[str, list[str]]:
    """Step id -> the cautions that stand directly before it in a rendered page or sheet."""
    found: dict[str, list[str]] = {}
    waiting: list[str] = []
    for caution, step in _BEFORE_A_STEP.findall(text):
        if caution:
            waiting.append(caution)
        for one in step.split():  # the first of the steps a sheet folds into one row has the cautions
            if one not in found:
                found[one], waiting = waiting, []
    return found
