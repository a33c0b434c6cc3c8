"""Cautions of the house's own, placed before the steps it names, after those of ours with the same word."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from macros.ground.problems import Problem
from macros.house import House
from macros.house.records.own_cautions import OwnCaution
from macros.manual.procedures.load_files import ProcedureFile
from macros.page_model.page import PlacedCaution
from macros.published.safety.cautions import Caution
from macros.published.safety.conditions import Condition


def own_cautions(
    house: House, document: str, steps: Mapping[str, str]
) -> dict[str, tuple[PlacedCaution, ...]]:
    """What stands before each step of a page; `steps` are the ids of its steps, repeats told apart, with those of the file."""
    placed = {
        step: tuple(_placed(one) for one in house.own_cautions if f"{document} {id_}" in one.before)
        for step, id_ in steps.items()
    }
    return {step: found for step, found in placed.items() if found}


def own_caution_problems(house: House, files: Sequence[ProcedureFile]) -> Iterator[Problem]:
    """Steps that no page has: the caution would be told to nobody."""
    steps = {file.id: [step.id for step in file.data.steps] for file in files}
    known = {f"{page} {step}" for page, own in steps.items() for step in own}
    for one in house.own_cautions:
        for index, named in enumerate(one.before):
            if named not in known:
                page = next((page for page in steps if page in named), "")
                allowed = (
                    f"Steps of {page}: {', '.join(steps[page])}" if page else f"Pages: {', '.join(steps)}"
                )
                what = f'{one.id} stands before "{named}", which is no step'
                place = one.item_place("before", index)
                yield Problem(
                    place, one.key("before"), what, allowed, "Write page and step, as SOP-91 unplug"
                )


def _placed(one: OwnCaution) -> PlacedCaution:
    """The caution in the form of ours: its sheet has no shorter words, so it prints the whole."""
    entry = Caution.model_construct(
        id=one.id,
        title=one.title,
        hazard=one.hazard,
        consequence=one.consequence,
        avoidance=one.avoidance,
        short_hazard=one.hazard,
        short_avoidance=f"{one.consequence} {one.avoidance}",
        ppe=(),
        first_aid=(),
        label=frozenset(),
        trigger=Condition.model_construct(action=()),
    )
    return PlacedCaution(
        entry, one.word, one.hazard, one.consequence, one.avoidance, why=("the house says so",)
    )
