"""Photographs beside the steps they belong to, and those that belong to nothing of this manual."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches

from macros.ground.problems import Place, Problem
from macros.house import House
from macros.manual.pages.build_page import BuiltPage
from macros.page_model.page import PageContent, StepView
from macros.page_model.photo import PhotoView
from macros.photographs import Photograph, Photographs
from macros.photographs.photographs import FOLDER, Subject
from macros.published.pages.findings import findings

MOST_AT_A_STEP = 2
"""Photographs beside one step: its own, then one of a thing or place that is new on the page."""
_CUT_AT = {"harvest_flower": ("flower", "petal"), "harvest_leaf": ("leaf",)}
"""Action of a step -> parts of the plants whose place of the cut is shown beside it."""


def photo_view(photograph: Photograph) -> PhotoView:
    """A photograph as pages show it."""
    return PhotoView(
        name="/".join(photograph.subject),
        code=photograph.code[:16],
        alt=photograph.alt,
        caption=photograph.caption,
        address=photograph.screen_address,
        paper=f"data:image/webp;base64,{base64.b64encode(photograph.copies.paper).decode()}",
        width=photograph.copies.width,
        height=photograph.copies.height,
        arrows=photograph.arrows,
        circles=photograph.circles,
    )


def named_view(photograph: Photograph, name: str) -> PhotoView:
    """A photograph among others: its caption begins with what it shows."""
    view = photo_view(photograph)
    return replace(view, caption=f"{name}. {view.caption}" if view.caption else f"{name}.")


def with_photographs(page: BuiltPage, photographs: Photographs, house: House) -> BuiltPage:
    """The page with its photographs.

    That of the step itself, each thing and place where the page first comes to it, and where a step picks, the place of
    the cut of each plant it picks.
    """
    if not photographs.by_subject:
        return page
    seen: set[Subject] = set()
    actions = {step.id: step.data.action for step in page.planned}
    steps = tuple(
        _with_cuts(
            _with_photos(step, page.content, photographs, seen), actions.get(step.id, ""), photographs, house
        )
        for step in page.content.steps
    )
    return replace(page, content=replace(page.content, steps=steps))


def _with_cuts(step: StepView, action: str, photographs: Photographs, house: House) -> StepView:
    picked = [one for one in house.varieties if one.part in _CUT_AT.get(action, ())]
    found = [(one, photographs.of("varieties", one.id.lower(), "cut")) for one in picked]
    cuts = tuple(named_view(photograph, one.spoken) for one, photograph in found if photograph is not None)
    return replace(step, photos=(*step.photos, *cuts)) if cuts else step


def as_named(words: str) -> str:
    """A thing or place as the name of a file: `drain valve` is `drain_valve`."""
    return re.sub(r"[^a-z0-9]+", "_", words.lower()).strip("_")


def names_of_photographs(pages: Sequence[PageContent], house: House) -> Mapping[str, set[str]]:
    """Folder of `photos/` -> the names a photograph may have in it, for this house."""
    known: dict[str, set[str]] = {
        "things": set(),
        "places": set(),
        "findings": {one.id for one in findings().findings},
    }
    for page in pages:
        steps = known.setdefault(page.document.lower(), set())
        for step in page.steps:
            steps.add(own_id(step))
            known["things"] |= {as_named(tool) for tool in step.tools}
            known["places"] |= {as_named(step.where)} if step.where else set()
    known["varieties"] = {one.id.lower() for one in house.varieties}
    return known


def homeless(photographs: Photographs, pages: Sequence[PageContent], house: House) -> Iterator[Problem]:
    """A photograph of what this manual does not know: it would never be seen."""
    known = names_of_photographs(pages, house) if photographs.by_subject else {}
    for photograph in photographs.by_subject.values():
        folder, name = photograph.subject[:2]
        names = known.get(folder, set())
        if name in names:
            continue
        near = get_close_matches(name, names, 1)
        yield Problem(
            Place(f"{FOLDER}/{photograph.file}", 1),
            FOLDER,
            f"{name} is nothing of {folder} in this manual" if names else f"this house has no page {folder}",
            f"Did you mean {near[0]}?" if near else "",
            "Rename it; trayside pack photos lists the names",
        )


def own_id(step: StepView) -> str:
    """The id of a step in its file: one that is repeated has what it is repeated for behind a hyphen."""
    return step.id.partition("-")[0]


def _with_photos(step: StepView, page: PageContent, photographs: Photographs, seen: set[Subject]) -> StepView:
    own: Subject = (page.document.lower(), own_id(step))
    others = _others(step, seen)
    found = [one for one in (photographs.of(*subject) for subject in (own, *others)) if one is not None]
    shown = found[:MOST_AT_A_STEP]
    seen |= {one.subject for one in shown if one.subject != own}
    return replace(step, photos=tuple(photo_view(one) for one in shown)) if shown else step


def _others(step: StepView, seen: Iterable[Subject]) -> list[Subject]:
    things = [("things", as_named(tool)) for tool in step.tools]
    places = [("places", as_named(step.where))] if step.where else []
    return [one for one in (*things, *places) if one not in seen]
