"""How a batch is brought onto a strip with the house's own tools: so much of it, made up to so much."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief, shown_unit
from macros.amounts.engine.pours import Bench, benches
from macros.amounts.engine.register import Reason, Register
from macros.amounts.engine.working import Working
from macros.amounts.sanitizer.batches import STRENGTH_TOPIC, Task
from macros.calculations.sanitizer.measured_dilution import MeasuredDilution, measured_dilution
from macros.ground.problems import Problem
from macros.ground.units import convert

SAMPLE = 2.0
"""Size of the sample the advice is given for, in the unit of the tools: our own choice."""
_IDS = ("strip_sample", "strip_made_up")


def fill(register: Register, task: Task) -> None:
    """Enter sample and made-up volume of a task that has a dilution; a problem where no two tools measure it."""
    dilution = register.of_id("strip_dilution", **task.keys)
    batch = register.of_id(task.volume_id, **task.keys)
    if not dilution or not batch:
        return
    if dilution[0].exact == 1:
        for id_ in _IDS:
            register.withhold(id_, task.keys, Reason("the strip is read in the batch itself"))
        return
    w = Working(register, _IDS[0], f"Sample for the strip, {task.label}", STRENGTH_TOPIC, **task.keys)
    parts = w.amount("strip_dilution", **task.keys)
    litres = convert(batch[0].rounded, batch[0].unit, "L")
    owned = benches(register, w, "sanitizer")
    for tools in owned:
        found = measured_dilution(parts, tools.tools, convert(litres, "L", tools.unit), tools.limit)
        if found is not None:
            _give(w, tools, found, parts)
            return
    register.problems.append(_no_tools(task, parts, owned[0]))
    for id_ in _IDS:
        register.withhold(id_, task.keys, Reason("no measuring tools of the house fit"))


def _give(w: Working, tools: Bench, found: MeasuredDilution, parts: int) -> None:
    shown = shown_unit(tools.unit)
    w.add_line(
        f"the smallest sample the house's tools make 1 part in {parts} of: {brief(found.made_up)} {shown} / {parts} = "
        f"{brief(found.sample)} {shown}"
    )
    rule = "a mark of the tool"
    sample = convert(found.sample, tools.unit, "mL")
    w.number(
        sample,
        "mL",
        "nearest",
        rule,
        step=found.sample_tool.mark,
        tool=found.sample_tool.name,
        print_unit=tools.unit,
    )
    made_up = Working(w.register, _IDS[1], w.label.replace("Sample", "Made up"), w.topic, **w.of)
    sample = made_up.amount(_IDS[0], **w.of)
    made_up.add_line(f"{parts} x {brief(sample)} mL = {brief(parts * sample)} mL")
    made_up.number(
        parts * sample,
        "mL",
        "nearest",
        rule,
        step=found.made_up_tool.mark,
        tool=found.made_up_tool.name,
        print_unit=tools.unit,
    )


def _no_tools(task: Task, parts: int, tools: Bench) -> Problem:
    """E24, with a pair that would do: the sample at ten of its marks, what it is made up to at twenty."""
    shown, made_up = shown_unit(tools.unit), parts * SAMPLE
    what = f"Sample for the strip, {task.label}: 1 part in {parts} is measured by no two tools for sanitizer of the house"
    allowed = f"Both volumes stand at a mark, and half a mark is at most {tools.limit:.0%} of them"
    remedy = (
        f"Own one that holds {SAMPLE:g} {shown} or a little more, with marks of {SAMPLE / 10:g} {shown}, used from "
        f"{SAMPLE:g} {shown}; and one that holds {made_up:g} {shown}, with marks of {made_up / 20:g} {shown}, used from "
        f"{made_up:g} {shown}; both for: [sanitizer]"
    )
    return Problem(
        task.data.place("target"), f"{_IDS[0]} ({task.system.id}, {task.name})", what, allowed, remedy, "E24"
    )
