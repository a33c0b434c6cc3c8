"""What of this house has no photograph yet, worth first: steps where an error hurts, plants that are taken for others."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from macros.house import House
from macros.house.records.crops import Variety
from macros.manual.pages.photographs import as_named, own_id
from macros.page_model.page import PageContent, StepView
from macros.photographs.photographs import PARTS_OF_A_VARIETY, Subject
from macros.published.pages.findings import findings


@dataclass(frozen=True)
class Shot:
    """One photograph to take: its name below `photos/`, what it shows, where, and why it is worth the walk."""

    name: str
    shows: str
    where: str
    why: str


def shot_list(house: House, pages: Sequence[PageContent], taken: Sequence[Subject]) -> list[Shot]:
    """Every photograph that is missing, each once; the first are those that spare the worst mistakes."""
    wanted = [
        *_alike(house),
        *_cuts(house),
        *_steps(pages, "an error here hurts", lambda step: step.critical),
        *_steps(pages, "a second look here", lambda step: step.hold or step.easily_missed),
        *_things(pages),
        *(
            Shot(f"findings/{one.id}", one.seen.say, one.look.say, "found sooner")
            for one in findings().findings
        ),
    ]
    have = {"/".join(subject) for subject in taken}
    missing: dict[str, Shot] = {}
    for shot in wanted:
        if shot.name not in have:
            missing.setdefault(shot.name, shot)
    return list(missing.values())


def _steps(pages: Sequence[PageContent], why: str, asked: Callable[[StepView], bool]) -> Iterator[Shot]:
    for page in pages:
        for step in page.steps:
            if asked(step):
                name = f"{page.document.lower()}/{own_id(step)}"
                yield Shot(
                    f"{name}",
                    f"Step {step.number} of {page.document}: {step.short or step.do}",
                    step.where,
                    why,
                )


def _alike(house: House) -> Iterator[Shot]:
    groups = [variety.look_alike_group or "none" for variety in house.varieties]
    for variety, group in zip(house.varieties, groups, strict=True):
        if group != "none" and groups.count(group) > 1:
            for part in PARTS_OF_A_VARIETY[:2]:
                yield _of(variety, part, f"{part} against white paper", "taken for another")


def _cuts(house: House) -> Iterator[Shot]:
    for variety in house.varieties:
        yield _of(variety, "cut", "finger at the place of the cut", "cut at the right place")


def _of(variety: Variety, part: str, shows: str, why: str) -> Shot:
    name = variety.id.replace("_", " ")
    return Shot(
        f"varieties/{variety.id.lower()}/{part}", f"{name[0].upper()}{name[1:]}: {shows}", "rack", why
    )


def _things(pages: Sequence[PageContent]) -> Iterator[Shot]:
    """Things by how many steps use them, then places: a helper's first question is where it is."""
    uses: dict[str, int] = {}
    places: dict[str, int] = {}
    for page in pages:
        for step in page.steps:
            for tool in step.tools:
                uses[tool] = uses.get(tool, 0) + 1
            if step.where:
                places[step.where] = places.get(step.where, 0) + 1
    for tool in sorted(uses, key=lambda one: (-uses[one], one)):
        yield Shot(f"things/{as_named(tool)}", tool, "", f"used in {uses[tool]} steps")
    for place in sorted(places, key=lambda one: (-places[one], one)):
        yield Shot(f"places/{as_named(place)}", place, place, f"{places[place]} steps are done here")
