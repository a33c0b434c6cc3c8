"""What a day takes of each stock: changes and top-ups, acid, the tool dip, and cleanouts on their days."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta

from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.feed.parts import rate_of
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import NutrientPart
from macros.house.records.systems import System

DIP = "tool_dip"
DIP_EVERY = 1.0
"""[days] A fresh dip each day: our own default, the safe side."""


def part_use(w: Working, part: NutrientPart, system: System) -> float:
    """What a system takes of a part, changes and top-ups together [mL/day, of a dry one g/day]; 0 where its stage has none."""
    house = w.register.house
    stage = house.nutrients.stages.get(system.fill_stage)
    w.raw(system, "fill_stage")
    if stage is None or part.id not in stage.rates:
        return 0.0
    rate = rate_of(w, stage, part)
    full, use = _water(w, system)
    margins = house.margins
    strength = (
        w.fact(margins, "topup_strength")
        if margins is not None and margins.topup_strength is not None
        else 0.5
    )
    return full * rate + use * rate * strength


def acid_use(w: Working, acid: Chemical, system: System) -> float:
    """What a system takes of an acid, fresh water brought from the tap's pH to its target [mL/day]."""
    stage = w.register.house.nutrients.stages.get(system.fill_stage)
    if stage is None:
        return 0.0
    over = w.fact(w.register.house.water_source, "ph") - w.fact(stage, "ph_target")
    each: float = w.amount("ph_log_response", system=system.id, chemical=acid.id)
    full, use = _water(w, system)
    return max(0.0, (full + use) * each * over)


def _water(w: Working, system: System) -> tuple[float, float]:
    """Fresh water of the changes, and of the top-ups [L/day]."""
    change = w.fact(w.register.house.policies, "reservoir_change_every", "day")
    if change <= 0:
        raise Withheld("the solution is changed every 0 days")
    full: float = w.amount("res_fill", system=system.id)
    use: float = w.amount("water_use_day", system=system.id, growth_stage="full")
    return full / change, use


def dip_use(w: Working, chemical: Chemical) -> tuple[float, int]:
    """Stock of one fresh tool dip [mL], and how many days one lasts; 0 where this stock makes none.

    One jar serves the room, so that the greatest of its systems counts.
    """
    house = w.register.house
    task = house.sanitizing.tasks.get(DIP) if house.sanitizing is not None else None
    if task is None or task.chemical != chemical.id or task.batch is None:
        return 0.0, 1
    made = w.register.of_id("stock_for_batch", task=DIP)
    if not made:
        raise Withheld("the stock of a tool dip is not worked out", rests_on=("stock_for_batch", ()))
    assumed = "a fresh tool dip every day; set supplies.tool_dip_every (our own default)"
    every = w.fact_or(house.supplies, "tool_dip_every", "day", DIP_EVERY, assumed)
    most = max(w.amount("stock_for_batch", **dict(amount.of)) for amount in made)
    return float(most), max(1, int(every + 1e-9))


def cleanout_days(register: Register) -> list[tuple[date, System]]:
    """The cleanouts of the plan, and of each rack one after its last harvest, each with its system."""
    plan = register.house.crop_plan
    if plan is None:
        return []
    found: set[tuple[date, str]] = set()
    for system in register.house.systems:
        planned = plan.cleanout_of(system.id)
        if planned is not None:
            found.add((planned, system.id))
    ends: dict[str, date] = {}
    for variety in register.house.varieties:
        for amount in register.of_id("harvest_last", variety=variety.id):
            day = date.fromisoformat(amount.exact) + timedelta(days=1)
            ends[variety.system] = max(day, ends.get(variety.system, day))
    found |= {(day, system) for system, day in ends.items()}
    return [(day, register.house.system(system)) for day, system in sorted(found)]


def takes_of(w: Working, chemical: Chemical, first: date, days: int) -> list[float]:
    """Stock a chemical loses on each day from `first` on [mL]. A cleanout makes the dip of its day."""
    taken: dict[int, float] = defaultdict(float)
    for day, system in cleanout_days(w.register):
        index = (day - first).days
        if 0 <= index < days and w.register.of_id("stock_total", system=system.id, chemical=chemical.id):
            taken[index] += w.amount("stock_total", system=system.id, chemical=chemical.id)
    cleanouts = set(taken)
    dip, every = dip_use(w, chemical)
    for index in range(0, days, every):
        if index not in cleanouts:
            taken[index] += dip
    if chemical in w.register.house.chemicals_with_role("acid")[:1]:
        daily = sum(acid_use(w, chemical, system) for system in w.register.house.systems)
        for index in range(days):
            taken[index] += daily
    return [taken[index] for index in range(days)]
