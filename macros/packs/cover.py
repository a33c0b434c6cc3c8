"""The cover of a pack: what it holds, which sheets are drafts, what the build warned of."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator

from macros.ground.problems import Problem
from macros.house import House
from macros.packs.on_the_wall import on_the_wall
from macros.packs.pack import PackContext
from macros.page_model.page import ControlView
from macros.published.labour.jobs import job
from macros.published.paper.packs import ASKED

MOST_WARNINGS = 3
"""Warnings told on a cover; the rest are counted and `trayside check` tells them."""


def manual_code(pack: PackContext) -> str:
    """Fingerprint of the whole manual: of the values codes of all its pages and checklists, as `7dd0 0a16`."""
    codes = [f"{key} {control.values_code}" for key, control in controls(pack).items()]
    digest = hashlib.sha256("\n".join(sorted(codes)).encode()).hexdigest()
    return f"{digest[:4]} {digest[4:8]}"


def controls(pack: PackContext) -> dict[str, ControlView]:
    """The control block of every document a sheet of the pack may come from, by the sheet's key."""
    pages = {view.key: view.control for view in pack.views}
    return pages | {view.key: view.control for view in pack.checklists}


def draft_lines(found: Iterable[tuple[str, ControlView]]) -> tuple[str, ...]:
    """One line for each reason to call sheets drafts, with the sheets it is about."""
    by_reason: dict[str, list[str]] = {}
    found = list(found)
    for key, control in found:
        for reason in control.draft_reasons:
            by_reason.setdefault(reason, []).append(key)
    return tuple(
        f"DRAFT: {'every sheet of a page' if len(keys) == len(found) else ', '.join(keys)}. {reason}"
        for reason, keys in by_reason.items()
    )


def alone_words(house: House) -> str:
    """What the house says about one person with sanitizer or acid in the room."""
    policies = house.policies
    if policies is not None and policies.peroxide_or_acid_alone_in_room:
        return "The house lets one person alone handle sanitizer or acid; somebody still knows of it."
    return "Nobody handles sanitizer or acid alone in the room: a second person is within call, and knows it."


def build_warnings(pack: PackContext) -> tuple[str, ...]:
    """What the build warned of, without what is said of other systems only."""
    own = list(_of_own_system(pack))
    assumed = dict.fromkeys(one.key.removesuffix(".basis") for one in own if one.severity == "measure this")
    told = dict.fromkeys(_sentence(one) for one in own if one.severity != "measure this")
    lines = [*([f"Assumed, not measured: {', '.join(assumed)}."] if assumed else []), *told]
    if len(lines) <= MOST_WARNINGS:
        return tuple(lines)
    rest = len(lines) - MOST_WARNINGS
    return (*lines[:MOST_WARNINGS], f"{rest} more: run trayside check.")


def _of_own_system(pack: PackContext) -> Iterator[Problem]:
    others = "|".join(re.escape(one.id) for one in pack.house.systems if pack.system not in ("", one.id))
    of_others = re.compile(rf"\b(?:systems?|tank|rack) ?\[?(?:{others})\b") if others else None
    for one in pack.warnings:
        if not (of_others and of_others.search(f"{one.key} {one.what}")):
            yield one


def _sentence(problem: Problem) -> str:
    """The first sentences of a warning; `trayside check` tells what to do about it."""
    what = problem.what[0].upper() + problem.what[1:]
    return f"{what.rstrip('.')}.".replace(" degC", " °C").replace(" degF", " °F")


def cover_notes(pack: PackContext) -> Iterable[str]:
    """What is left out."""
    if on_the_wall(pack):
        yield "What says “wall” hangs in this revision and is not printed."
    asked = dict.fromkeys(entry.document for entry in pack.plan.parts if entry.document not in ("", ASKED))
    if pack.plan.job:
        asked |= {
            one.document: None for one in job(pack.plan.job).pages if one.next_day == pack.plan.next_day
        }
    missing = [document for document in asked if not pack.pages(document)]
    if missing:
        yield f"Left out, as this house has no such page: {', '.join(missing)}."
