"""The plain facts each reckoner needs, taken from the register: constants, limits, tables and tools of one system."""

from __future__ import annotations

import json
from typing import Any

from macros.amounts.engine import number_format as printing
from macros.amounts.engine.amount import plain
from macros.amounts.engine.number_format import brief, shown_unit, with_unit
from macros.amounts.engine.pours import Bench, bench, scales
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.amounts.feed.feeding import (
    pen_accuracy,
    strength_of_feed,
    topup_last_row,
    topup_step,
    topup_strength,
)
from macros.amounts.feed.parts import rate_of
from macros.amounts.reckoners.inputs_order import order_crops, order_facts
from macros.amounts.reckoners.inputs_sanitizer import (
    batch_facts,
    scale_facts,
    strip_facts,
    water_benches,
    water_facts,
    with_text,
)
from macros.amounts.water.reservoir import level_unit, shape_of
from macros.calculations.water.volumes import full_height
from macros.ground.units import convert
from macros.house.records.systems import System

MOST_DOSES = 2
"""pH doses in 24 h, as the printed pages: then stop and ask (common practice, no source)."""
PH_REACH = 1.0
"""How far outside its band a pH is reckoned at the least [pH units]; our own limit."""

NEEDS: dict[str, tuple[str, ...]] = {
    "level": ("res_fill", "level_table"),
    "ec": ("res_fill", "level_table", "ec_band", "ec_raise"),
    "ph": ("res_fill", "level_table", "ph_band"),
    "missed_flood": ("missed_flood_clock",),
    "strip": ("strip_band",),
    "batch": ("stock_for_batch", "strength_made"),
    "order": ("planting_day",),
}
"""The reckoners in the order of the page, and the amounts without which each is left out."""


def offered(register: Register, system: str) -> tuple[str, ...]:
    """The reckoners a system has."""
    there = [
        name for name, needs in NEEDS.items() if all(register.of_id(id_, system=system) for id_ in needs)
    ]
    if "order" in there and not order_crops(register, register.house.system(system)):
        there.remove("order")
    return tuple(there)


_POURED = {
    "nutrients": "dose_full",
    "acids": "ph_first_dose",
    "bases": "ph_up_first_dose",
    "sanitizer": "stock_for_batch",
}
"""Each group of liquids, and the amount that tells which of its tools are used."""


def _doses(register: Register, id_: str, system: System) -> list[float]:
    """The doses of a system that are poured [mL]."""
    return [amount.exact for amount in register.of_id(id_, system=system.id) if amount.exact_unit == "mL"]


def collect(register: Register, system: System) -> dict[str, Any]:
    """Everything the reckoners of a system need, as plain data; a reckoner it lacks is None."""
    aside = Working(register, "reckoner", "Reckoners", "Reckoners", system=system.id)
    there = offered(register, system.id)
    data: dict[str, Any] = {
        "system": system.id,
        "name": system.name,
        "responsible": register.house.house.who_decides,
        "offered": list(there),
        "tools": {
            **{
                group: _bench_facts(bench(register, aside, group, *_doses(register, id_, system)))
                for group, id_ in _POURED.items()
            },
            **({"dry_feed": _bench_facts(scales(aside, "dry_feed"))} if _weighs(register, system) else {}),
            **{name: _bench_facts(found) for name, (found, _) in water_benches(register, aside).items()},
        },
        "tank": _tank(register, aside, system) if "level" in there else None,
        "feed": _feed(register, aside, system) if "level" in there else None,
        "ec": _ec(register, aside, system) if "ec" in there else None,
        "ph": _ph(register, aside, system) if "ph" in there else None,
        "missed_flood": _missed_flood(register, system) if "missed_flood" in there else None,
        "strip": strip_facts(register, aside, system) if "strip" in there else None,
        "batch": batch_facts(register, aside, system) if "batch" in there else None,
        "order": order_facts(register, aside, system) if "order" in there else None,
        "water": water_facts(register, aside),
        "scale": scale_facts(register),
    }
    result: dict[str, Any] = plain(data)
    return result


def reckoners_json(register: Register) -> str:
    """The facts of every system as sorted JSON text: the same bytes on every run."""
    rows = {system.id: collect(register, system) for system in register.house.systems}
    return json.dumps(rows, sort_keys=True, ensure_ascii=False) + "\n"


def _weighs(register: Register, system: System) -> bool:
    """Whether a system is fed dry feed that the house can weigh."""
    stage = register.house.nutrients.stages.get(system.fill_stage)
    return stage is not None and bool(register.house.scales) and any(map(stage.weighs, stage.rates))


def _bench_facts(found: Bench) -> dict[str, Any]:
    return {
        "unit": found.unit,
        "shown": shown_unit(found.unit),
        "limit": found.limit,
        "per_mL": convert(1.0, found.dose_unit, found.unit),
        "to_mL": convert(1.0, found.unit, found.dose_unit),
        "tools": [
            {**vars(tool), "own": shown_unit(own), "per_own": convert(1.0, found.unit, own)}
            for tool in found.tools
            for own in (found.own_units[tool.name],)
        ],
    }


def _exact(register: Register, id_: str, system: System) -> float:
    value: float = register.get(id_, system=system.id).exact
    return value


def _tank(register: Register, aside: Working, system: System) -> dict[str, Any]:
    us = register.house.us
    level, volume = level_unit(register), printing.house_unit("L", us)
    tank, shape = system.reservoir, shape_of(system.reservoir, aside)
    low, high, refill = (
        aside.fact(tank, name, "m")
        for name in ("pump_minimum_height", "fill_mark_height", "refill_mark_height")
    )
    order = system.plumbing.flood_order if system.plumbing is not None else "simultaneous"
    draw = register.of_id(f"draw_{order}", system=system.id)

    def text(metres: float) -> str:
        return brief(convert(metres, "m", level), 4)

    return {
        "shape": {"kind": type(shape).__name__, **vars(shape)},
        "metres_per_level": convert(1.0, level, "m"),
        "per_litre": convert(1.0, "L", volume),
        "volume_step": printing.step_for(volume),
        "level_shown": level,
        "volume_shown": shown_unit(volume),
        "full": _exact(register, "res_fill", system),
        "dead": _exact(register, "res_dead", system),
        "draw": draw[0].exact if draw else None,
        "draw_text": draw[0].printed if draw else "",
        "rim": full_height(shape),
        "pump_minimum": low,
        "fill": high,
        "refill": refill,
        "rim_text": text(full_height(shape)),
        "pump_minimum_text": text(low),
        "fill_text": text(high),
        "refill_text": text(refill),
    }


def _feed(register: Register, aside: Working, system: System) -> dict[str, Any] | None:
    """What the top-up table rests on."""
    stage = register.house.nutrients.stages.get(system.fill_stage)
    if stage is None or not register.of_id("topup_table", system=system.id):
        return None
    step, unit = topup_step(register.house.us)
    parts = [part for part in register.house.nutrients.parts_in_order() if part.id in stage.rates]
    low, _, high = (aside.fact(stage, name, "mS/cm") for name in ("ec_low", "ec_target", "ec_high"))
    return {
        "row_step": step,
        "last_row": topup_last_row(aside, system),
        "litres_per_row": convert(1.0, unit, "L"),
        "strength": topup_strength(aside),
        "ec_low": brief(low),
        "ec_high": brief(high),
        "parts": [
            {
                "id": part.id,
                "name": part.name,
                "rate": rate_of(aside, stage, part),
                "tools": "dry_feed" if stage.weighs(part.id) else "nutrients",
            }
            for part in parts
        ],
    }


def _ec(register: Register, aside: Working, system: System) -> dict[str, Any]:
    stage = register.house.nutrients.stages[system.fill_stage]
    low, target, high = (aside.fact(stage, name, "mS/cm") for name in ("ec_low", "ec_target", "ec_high"))
    total, _ = strength_of_feed(aside, register, stage)
    water = aside.fact(register.house.water_source, "ec", "mS/cm")
    swaps = register.of_id("ec_swap", system=system.id)
    lower = bool(swaps) and bool(register.of_id("ec_dilute", system=system.id))
    most = max(high, swaps[0].exact["rows"][-1][0]) if lower else high
    feed = _feed(register, aside, system)
    unit = printing.house_unit("L", register.house.us)
    return {
        **with_text(low=low, target=target, high=high, least=water, most=most),
        "full_feed": total,
        "lower": lower,
        "water_ec": water,
        "water_step": printing.step_for(unit),
        "parts": feed["parts"] if feed else [],
    }


def _ph(register: Register, aside: Working, system: System) -> dict[str, Any]:
    stage = register.house.nutrients.stages[system.fill_stage]
    low, target, high = (aside.fact(stage, name) for name in ("ph_low", "ph_target", "ph_high"))
    table = register.of_id("ph_next_dose", system=system.id)
    ends = [high + PH_REACH, *(row[0] for amount in table for row in amount.exact["rows"])]
    tap = register.house.water_source.ph
    most = round(max(ends if tap is None else [*ends, tap]), 6)
    off = pen_accuracy(aside, "ph")
    least = round(low - PH_REACH, 6)
    return {
        **with_text(low=low, high=high, least=least, most=most),
        "target": target,
        "most_doses": MOST_DOSES,
        "pen_text": "0.1" if off is None else brief(off),
        "down": _down(register, system),
        "up": _up(register, system),
    }


def _down(register: Register, system: System) -> dict[str, Any] | None:
    table = register.of_id("ph_next_dose", system=system.id)
    first = register.of_id("ph_first_dose", system=system.id)
    slope = register.of_id("ph_log_response", system=system.id)
    if not table or not first or not slope:
        return None
    chemical = dict(first[0].of)["chemical"]
    return {
        "chemical": register.house.chemical(chemical).name,
        "volume": _exact(register, "res_fill", system),
        "slope": slope[0].exact,
        "slope_text": with_unit(brief(slope[0].value, 3), slope[0].unit),
        "first": first[0].exact,
        "first_text": first[0].printed,
    }


def _up(register: Register, system: System) -> dict[str, Any] | None:
    first = register.of_id("ph_up_first_dose", system=system.id)
    if not first:
        return None
    chemical = dict(first[0].of)["chemical"]
    return {
        "chemical": register.house.chemical(chemical).name,
        "first": first[0].exact,
        "first_text": first[0].printed,
    }


def _missed_flood(register: Register, system: System) -> dict[str, Any]:
    rows = register.get("missed_flood_clock", system=system.id).exact["rows"]
    return {"crops": [{"name": name, "young": young, "grown": grown} for name, young, grown in rows]}


__all__ = ["NEEDS", "collect", "offered", "reckoners_json"]
