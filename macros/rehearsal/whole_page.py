"""R-14, R-15: what looks at a whole page: vessels that are in use twice, and conditions that nobody brings about."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from functools import cache
from pathlib import Path

from macros.amounts import Register
from macros.ground.problems import Problem
from macros.manual.pages.build_page import BuiltPage
from macros.manual.procedures.shipped_folder import shipped_procedures
from macros.published import names
from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.finding import Finding
from macros.rehearsal.model.steps import RunStep
from macros.rehearsal.rules.water import LEAVE_OUT

BROUGHT_ABOUT = ("supply", "people", "owner", "look")
"""Who brings a condition about where no page and no rhythm does."""

VESSELS = {"tub": "parts_soak", "tall jar": "tool_dip"}
"""The vessels of the batches."""


@cache
def _shipped() -> tuple[str, ...]:
    """The ids of the pages that come with the program: a manual of fewer pages may name them."""
    return tuple(path.name[:6].upper() for path in shipped_procedures(Path()).glob("sop-*.md"))


def conditions(page: BuiltPage, pages: Collection[str]) -> Iterator[Problem]:
    """R-15: each condition of "Before you start" is brought about by a page, a supply, a rhythm or a person."""
    data = page.data
    known = {*pages, *_shipped(), *names.declared("frequencies", "frequencies"), *BROUGHT_ABOUT}
    for one in data.before if data else ():
        lacking = [name for name in one.by if name not in known]
        if one.by and not lacking:
            continue
        what = f'nobody brings about "{one.say}"'
        if lacking:
            what = f"{', '.join(lacking)} brings nothing about: the manual has no such page or rhythm"
        yield Problem(
            one.place("by"),
            one.key("by"),
            what,
            f"by: a page, a rhythm of the house, or one of {', '.join(BROUGHT_ABOUT)}",
            "Write who sees to it, or take the line away",
            "R-15",
        )


def vessels(steps: Sequence[RunStep], register: Register) -> Iterator[Finding]:
    """R-14: a vessel that holds a batch is not there for anything else, unless the house owns a second one."""
    house, held = register.house, set[str]()
    owned = {one.thing: one.count for one in house.inventory}
    if house.soak_tub:
        owned["tub"] = house.soak_tub.count
    for step in steps:
        for thing, task in VESSELS.items():
            if thing in step.uses and task in held and step.task != task and owned.get(thing, 1) < 2:
                what = f"the {thing} holds the batch for {task.replace('_', ' ')}, and this step takes it for something else"
                allowed = f"The house owns {owned.get(thing, 1)}"
                yield Finding("R-14", step, what, allowed, (LEAVE_OUT,))
        held |= {step.task} if step.does.make else set()
        held -= {step.task} if step.does.dump else set()


def proved(steps: Sequence[RunStep], of: Equipment) -> Iterator[Finding]:
    """R-07: a batch that a page makes is proved with a strip where the house has one."""
    for number, step in enumerate(steps):
        facts = of.batches.get(step.task)
        makes = step.does.make or step.does.pour == "stock"
        later = (one for one in steps[number:] if one.action == "test_strip" and one.task == step.task)
        if makes and facts and facts.provable and next(later, None) is None:
            what = f"the batch for {step.task.replace('_', ' ')} is made and no step reads a strip of it"
            yield Finding("R-07", step, what, "A batch is proved before it is trusted")
