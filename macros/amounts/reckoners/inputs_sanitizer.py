"""The facts of strips and batches: what passes, what may be made, in which vessel, with how much on the shelf."""

from __future__ import annotations

from typing import Any

from macros.amounts.engine.number_format import brief, house_unit, number_text, shown_unit, step_for, trimmed
from macros.amounts.engine.pours import Bench, water_bench
from macros.amounts.engine.register import NotFound, Register
from macros.amounts.engine.working import Working
from macros.amounts.reckoners.words import sentence
from macros.amounts.sanitizer.batches import Task, as_on_label, grams_per_litre
from macros.amounts.sanitizer.rinsing import residue_allowed
from macros.amounts.sanitizer.sanitizing import (
    MOST_BATCH_POURS,
    batch_step,
    tasks_of,
    water_step,
    water_tools,
)
from macros.amounts.water import reservoir
from macros.calculations.rounding import round_to
from macros.ground.units import convert
from macros.house.records.systems import System


def with_text(**values: float) -> dict[str, float | str]:
    """Each figure by its name, and its text beside it: `low` and `low_text`."""
    return {**values, **{f"{name}_text": brief(value) for name, value in values.items()}}


def own_tasks(register: Register, system: System) -> list[Task]:
    """The sanitizing tasks of a system."""
    return [task for task in tasks_of(register) if task.system is system]


def strip_facts(register: Register, aside: Working, system: System) -> dict[str, Any]:
    """For each task its strip, dilution and band; and what the last rinse may show."""
    rules: dict[str, Any] = {}
    tops = {strip.name: max(pad.to("mg/L") for pad in strip.pads) for strip in register.house.test_strips}
    for task in own_tasks(register, system):
        found = register.of_id("strip_band", **task.keys)
        if not found:
            continue
        band, top = found[0].exact, tops[found[0].tool]
        rules[task.name] = {
            "label": task.label,
            "strip": found[0].tool,
            **with_text(top=top, low=band["low"], high=band["high"]),
            "dilution": register.get("strip_dilution", **task.keys).exact,
            "life": register.get("batch_life_end", **task.keys).printed,
        }
    allowed = residue_allowed(aside, own_tasks(register, system))
    if allowed is not None:
        rinse = register.house.sanitizing.rinse if register.house.sanitizing else None
        named = (rinse.verify_with if rinse else None) or "strip"
        top = tops.get(named, max(tops.values()))
        rules["residue"] = {
            "label": "last rinse",
            "strip": named,
            **with_text(top=top, allowed=allowed),
        }
    return rules


def batch_facts(register: Register, aside: Working, system: System) -> dict[str, Any]:
    """For each task what another size of its batch must keep to."""
    rules = {}
    for task in own_tasks(register, system):
        try:
            rules[task.name] = _batch(register, aside, task)
        except NotFound:
            continue
    return rules


def _batch(register: Register, aside: Working, task: Task) -> dict[str, Any]:
    register.get("strength_made", **task.keys)
    printed = register.get(task.volume_id, **task.keys)
    chemical = register.house.chemical(task.data.chemical)
    small = task.volume_id in ("batch_spray", "batch_tool_dip")
    unit, step = batch_step(register.house.us, small)
    if task.volume_id == "loop_volume":
        unit, step = printed.unit, printed.rounding.step or step
    per_unit = convert(1.0, unit, "L")
    least, most, why = _range(register, aside, task, printed.rounded, per_unit)
    least = min(round_to(least, step, "up"), printed.rounded)
    most = max(round_to(most, step, "down"), printed.rounded)
    now = register.get("stock_strength_now", chemical=chemical.id)
    return {
        "label": task.label,
        "chemical": chemical.name,
        "shown": shown_unit(unit),
        "small_unit": unit == "fl_oz",
        "step": step,
        "litres_per_unit": per_unit,
        "least": least,
        "most": most,
        "least_text": _text(least, step),
        "most_text": _text(most, step),
        "printed_text": _text(printed.rounded, step),
        "why": why,
        "loop": task.volume_id == "loop_volume",
        "target": grams_per_litre(aside, task.data, "target"),
        "ceiling": grams_per_litre(aside, task.data, "ceiling"),
        "target_text": as_on_label(register.house, task.data, "target"),
        "ceiling_text": as_on_label(register.house, task.data, "ceiling"),
        "now": now.exact,
        "fresh": register.get("stock_strength", chemical=chemical.id).exact,
        "now_text": number_text(now.rounded, now.rounding.step or 0.01),
        "shelf": _shelf(register, aside, task),
    }


def _text(value: float, step: float) -> str:
    return trimmed(number_text(round_to(value, step, "nearest"), step))


def _range(
    register: Register, aside: Working, task: Task, printed: float, per_unit: float
) -> tuple[float, float, str]:
    """Least and most in the task's unit, and what sets them."""
    tools = water_tools(register)
    least = min((tool.smallest_use.to("L") for tool in tools), default=0.0) / per_unit
    if task.volume_id == "loop_volume":
        full = register.get("res_fill", system=task.system.id).exact / per_unit
        return printed, full, sentence("batch.why_loop")
    if task.volume_id == "batch_tool_dip":
        return least, printed, sentence("batch.why_jar")
    if task.volume_id == "batch_soak":
        return least, _tub(register, aside, task) / per_unit, sentence("batch.why_tub")
    largest = tools[-1].capacity.to("L") / per_unit if tools else printed
    vessel = tools[-1].name if tools else "the printed batch"
    return least, largest, sentence("batch.why_vessel", vessel=vessel)


def _tub(register: Register, aside: Working, task: Task) -> float:
    """Solution the tub takes over a load of parts, up to its working depth [L]."""
    tub = register.house.soak_tub
    length, width, depth = (
        aside.fact(tub, name, "m") for name in ("inside_length", "inside_width", "working_depth")
    )
    solid = sum(
        aside.fact(part, "count_per_system") * aside.fact(part, "solid_volume_each", "L")
        for part in register.house.parts_to_soak
    )
    loads: int = register.get("soak_loads", **task.keys).exact
    return length * width * depth * 1000 - solid / loads


def _shelf(register: Register, aside: Working, task: Task) -> float | None:
    """What stands on the shelf [mL], where the house counts it by volume."""
    chemical = register.house.chemical(task.data.chemical)
    if not register.of_id("stock_total", system=task.system.id, chemical=chemical.id):
        return None
    return aside.fact(chemical, "containers_in_stock") * aside.fact(chemical, "container", "mL")


def water_benches(register: Register, aside: Working) -> dict[str, tuple[Bench, float]]:
    """The tools for water and for batches, and the step small and large amounts are printed in: `water_small`."""
    us = register.house.us
    return {
        f"{group}_{name}": water_bench(register, aside, group, *water_step(us, small))
        for group in ("water", "sanitizer")
        for name, small in (("small", True), ("large", False))
    }


def water_facts(register: Register, aside: Working) -> dict[str, Any]:
    """The units and steps small and large amounts of water are printed in, and those read on the tank's scale."""
    benches = water_benches(register, aside)
    unit = house_unit("L", register.house.us)
    sizes = {"loop": (unit, step_for(unit))}
    for name in ("small", "large"):
        bench, step = benches[f"water_{name}"]
        sizes[name] = (bench.unit, step)
    facts: dict[str, Any] = {
        name: {"shown": shown_unit(unit), "step": step, "per_litre": convert(1.0, "L", unit)}
        for name, (unit, step) in sizes.items()
    }
    return {**facts, "most_pours": MOST_BATCH_POURS}


def scale_facts(register: Register) -> dict[str, Any]:
    """The tank's scale: its name, its mark, and marks to a metre."""
    name, step, unit = reservoir.scale(register)
    return {"name": name, "step": step, "shown": unit, "per_metre": convert(1.0, "m", unit)}
