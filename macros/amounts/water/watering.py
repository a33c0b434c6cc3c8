"""Floods a day, how long roots last without one, water use, and when the tank needs more (E15)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import time

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.water.logbook import MUCH
from macros.calculations.rounding import whole_steps
from macros.calculations.water import watering
from macros.house.records.crops import Variety
from macros.house.records.systems import Lights, System

TOPIC = "Water and thirst"
DEPLETION, DRY_LIMIT, DARK = 0.5, 0.7, 0.2
"""Share of a plug's water drawn between floods, lost before roots suffer, and the thirst of a dark hour over a light
one: our own defaults, no source."""
YOUNG_USE, HALF_USE = 10.0, 40.0
"""[mL/day] Water of a young and of a half-grown plant: our own defaults, no source."""
EVAPORATION = 0.3
"""[L/day] From open water: our own default, no source."""
UNMEASURED = "water use is from memory, not measured: act at half this time"


@dataclass(frozen=True)
class Stage:
    """How big a plant is: the share of its root mat, and the most it drinks where the house says no more [mL/day]."""

    name: str
    root_mat: float
    most: float | None


STAGES = (Stage("young", 0.0, YOUNG_USE), Stage("half", 0.5, HALF_USE), Stage("full", 1.0, None))


def fill(register: Register) -> None:
    """Enter the water amounts of planted varieties and of every system."""
    house = register.house
    for variety in planted(register):
        system = house.system(variety.system)
        keys = {"variety": variety.id}
        with register.attempt("floods_per_day", variety, "water_per_day", "E15", **keys):
            _floods(register, variety, system)
        for stage in (STAGES[0], STAGES[2]):
            with register.attempt("dry_hours", variety, "water_per_day", **keys, growth_stage=stage.name):
                _dry_hours(register, variety, system, stage)
    for system in house.systems:
        keys = {"system": system.id}
        with register.attempt("longest_gap_check", system, "timer", **keys):
            _longest_gap(register, system)
        with register.attempt("missed_flood_clock", system, "timer", **keys):
            _missed_flood_clock(register, system)
        for stage in STAGES:
            with register.attempt("water_use_day", system, "trays", **keys, growth_stage=stage.name):
                _use(register, system, stage)
            with register.attempt("days_to_topup", system, "reservoir", **keys, growth_stage=stage.name):
                _days(register, system, stage)


def planted(register: Register) -> list[Variety]:
    """The varieties of the crop plan that stand on a system of the house."""
    plan = register.house.crop_plan
    names = {block.variety for block in plan.blocks} if plan else set()
    systems = {system.id for system in register.house.systems}
    return [v for v in register.house.varieties if v.id in names and v.system in systems]


def held(w: Working, stage: Stage) -> float:
    """What a plant of this size can draw on between floods [mL]."""
    plug = w.register.house.plug
    volume, available = w.fact(plug, "volume", "mL"), w.fact(plug, "available_water_fraction")
    mat = 0.0
    if stage.root_mat:
        assert plug is not None
        if plug.root_mat_water_full_grown is None:
            w.assume("the root mat holds no water; set plug.root_mat_water_full_grown")
        else:
            mat = stage.root_mat * w.fact(plug, "root_mat_water_full_grown", "mL")
    water = watering.root_water(volume, available, mat)
    w.add_line(
        f"{brief(volume)} mL plug x {brief(available)} + root mat {brief(mat)} mL = {brief(water)} mL at hand"
    )
    return water


def thirst(w: Working, variety: Variety, stage: Stage) -> float:
    """What a plant of this size drinks [mL/day]."""
    full = w.fact(variety, "water_per_day", "mL")
    if stage.most is None:
        return full
    size = "young" if stage.name == "young" else "half-grown"
    w.assume(
        f"a {size} plant drinks {stage.most:g} mL a day, or as much as a full-grown one where that is less (our own default)"
    )
    return min(full, stage.most)


def share(w: Working, field: str, default: float) -> float:
    """A share of the plug as the house gives it, else the default, told as assumed."""
    plug = w.register.house.plug
    if plug is not None and getattr(plug, field) is not None:
        return w.fact(plug, field)
    w.assume(f"plug.{field} taken as {default:g} (our own default)")
    return default


def light_times(w: Working, lights: Lights | None) -> tuple[int, int, float]:
    """On and off [minutes after midnight] and the hours between."""
    on, off = (_minutes(w.raw(lights, name)) for name in ("on", "off"))
    return on, off, ((off - on) % 1440) / 60


def _minutes(clock: time) -> int:
    return clock.hour * 60 + clock.minute


def _floods(register: Register, variety: Variety, system: System) -> None:
    w = Working(register, "floods_per_day", f"Floods a day for {variety.spoken}", TOPIC, variety=variety.id)
    stage = STAGES[2]
    water, use = held(w, stage), thirst(w, variety, stage)
    depletion = share(w, "allowed_depletion", DEPLETION)
    exact = watering.floods_per_day(use, water, depletion)
    needed = math.ceil(exact - 1e-9)
    w.add_line(f"{brief(use)} mL/day / ({brief(water)} mL x {brief(depletion)}) = {brief(exact)}")
    timer = system.timer
    if timer is not None:
        w.raw(timer, "floods_set")
        if len(timer.floods_set) < needed:
            what = f"system {system.id} floods {len(timer.floods_set)} times a day; {variety.id} at full size needs {needed}"
            allowed = "Between two floods a plug gives up only part of its water"
            register.report_problem(timer, "floods_set", what, allowed, "Add a flood", "E15")
    w.count(needed, "floods a day", "floods are counted up")


def _dry_hours(register: Register, variety: Variety, system: System, stage: Stage) -> None:
    """From the last good flood until roots suffer, by the thirst of the size: the rule of the gap check and of top-ups."""
    size = "young plug" if stage.name == "young" else "full-grown"
    w = Working(
        register,
        "dry_hours",
        f"Hours without a flood, {variety.spoken}, {size}",
        TOPIC,
        variety=variety.id,
        growth_stage=stage.name,
    )
    water, use = held(w, stage), thirst(w, variety, stage)
    limit, dark = share(w, "dry_limit", DRY_LIMIT), share(w, "dark_use_fraction", DARK)
    _, _, hours = light_times(w, system.lights)
    hourly = watering.hourly_use(use, hours, dark)
    lasting = watering.dry_hours(water, limit, hourly)
    w.add_line(
        f"{brief(use)} mL/day / ({brief(hours)} h light + {brief(dark)} x {brief(24 - hours)} h dark) = {brief(hourly)} mL/h"
    )
    w.add_line(f"{brief(water)} mL x {brief(limit)} / {brief(hourly)} mL/h = {brief(lasting)} h in the light")
    w.assume(UNMEASURED)
    w.number(lasting, "h", "down", "a time that may be left is rounded down", step=0.5, tool="clock")


def _longest_gap(register: Register, system: System) -> None:
    """E15: no plant may dry between two floods of the timer, each size with its own water and thirst."""
    w = Working(register, "longest_gap_check", "Longest time between floods", TOPIC, system=system.id)
    timer = system.timer
    floods = sorted(_minutes(flood) for flood in w.raw(timer, "floods_set"))
    on, off, hours = light_times(w, system.lights)
    dark = share(w, "dark_use_fraction", DARK)
    gap = watering.longest_gap(floods, on, off, dark)
    w.add_line(
        f"lights {on // 60:02d}:{on % 60:02d} to {off // 60:02d}:{off % 60:02d}; a dark hour counts {brief(dark)}"
    )
    light, night = watering.longest_gap_parts(floods, on, off, dark)
    w.add_line(
        f"the longest time between two floods counts: {brief(light)} h light + {brief(dark)} x {brief(night)} h dark = "
        f"{brief(gap)} light hours"
    )
    own = [variety for variety in planted(register) if variety.system == system.id]
    stands: list[tuple[float, str]] = []
    for variety in own:
        for stage in STAGES:
            aside = Working(register, "longest_gap_check", "", TOPIC, system=system.id)
            limit = share(aside, "dry_limit", DRY_LIMIT)
            hourly = watering.hourly_use(thirst(w, variety, stage), hours, dark)
            stands.append(
                (
                    watering.dry_hours(held(aside, stage), limit, hourly),
                    f"{variety.spoken} at {stage.name} size",
                )
            )
    if stands:
        plug = register.house.plug
        for name in ("volume", "available_water_fraction", "root_mat_water_full_grown", "dry_limit"):
            if plug is not None and getattr(plug, name) is not None:
                w.raw(plug, name)
        least, who = min(stands)
        w.add_line(f"{who} stands the shortest: {brief(least)} light hours")
        if gap > least:
            assert timer is not None
            what = f"longest gap is {gap:.1f} light-hour equivalents; {who} stands {least:.1f}"
            allowed = "Roots must not dry between two floods"
            remedy = f"Add a flood at {_clock(_middle_of_gap(floods, on, off, dark))}"
            register.report_problem(timer, "floods_set", what, allowed, remedy, "E15")
    w.number(gap, "h", "up", "a time without water is rounded up", step=0.1)


def _middle_of_gap(floods: list[int], on: int, off: int, dark: float) -> int:
    """Half-way through the thirst of the longest gap, to a half hour [minutes after midnight]."""

    def weight(a: int, b: int) -> float:
        return sum(1.0 if watering.is_light(m % 1440, on, off) else dark for m in range(a, b))

    gaps = list(zip(floods, [*floods[1:], floods[0] + 1440], strict=True))
    first, last = max(gaps, key=lambda gap: weight(*gap))
    half, minute = weight(first, last) / 2, first
    while weight(first, minute) < half:
        minute += 1
    if not watering.is_light(minute % 1440, on, off):
        minute = first + (off - first) % 1440
    return round(minute / 30) * 30


def _clock(minutes: int) -> str:
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


def _missed_flood_clock(register: Register, system: System) -> None:
    """Hours from the last good flood, in the light, by variety and size."""
    w = Working(register, "missed_flood_clock", "Missed flood: time left", TOPIC, system=system.id)
    own = [variety for variety in planted(register) if variety.system == system.id]
    if not own:
        raise Withheld(f"nothing is planted on system {system.id}")
    rows = []
    for variety in own:
        rows.append(
            [
                variety.spoken,
                *(
                    w.rounded("dry_hours", variety=variety.id, growth_stage=size)
                    for size in ("young", "full")
                ),
            ]
        )
    w.add_line(
        "the clock runs from the last good flood, not from the finding; with the lights off it runs slower"
    )
    w.table([("crop", ""), ("young plug", "h"), ("full-grown", "h")], rows, "down to half an hour", 0.5)


def _use(register: Register, system: System, stage: Stage) -> None:
    w = Working(
        register,
        "water_use_day",
        f"Water a day, {_size(stage)}",
        TOPIC,
        system=system.id,
        growth_stage=stage.name,
    )
    plan = register.house.crop_plan
    blocks = [
        (block, variety)
        for block in (plan.blocks if plan else ())
        for variety in planted(register)
        if variety.id == block.variety and variety.system == system.id
    ]
    if not blocks:
        raise Withheld(f"nothing is planted on system {system.id}")
    size = stage
    if plan is not None and plan.sets_of(system.id, planted(register)):
        size = STAGES[2]
        w.assume(
            "its sets are planted on several days and stand at several sizes: each plant counts as full-grown"
        )
    pieces = [(w.fact(block, "plants"), thirst(w, variety, size)) for block, variety in blocks]
    plants = sum(count * each for count, each in pieces) / 1000
    margins = register.house.margins
    assumed = f"{EVAPORATION:g} L/day leave from open water (our own default)"
    open_water = w.fact_or(margins, "open_water_evaporation", "L/day", EVAPORATION, assumed)
    w.add_line(
        f"({' + '.join(f'{count:g} x {brief(each)} mL' for count, each in pieces)}) / 1000 mL/L = {brief(plants)} L; "
        f"{brief(plants)} L + {brief(open_water)} L from open water = {brief(plants + open_water)} L/day"
    )
    w.number(plants + open_water, "L/day", "up", "water use is rounded up", step=0.01)


def _days(register: Register, system: System, stage: Stage) -> None:
    w = Working(
        register,
        "days_to_topup",
        f"Days until the refill mark, {_size(stage)}",
        TOPIC,
        system=system.id,
        growth_stage=stage.name,
    )
    full, refill = (w.amount(id_, system=system.id) for id_ in ("res_fill", "res_refill"))
    use = w.amount("water_use_day", system=system.id, growth_stage=stage.name)
    if stage.name == "full":
        use = _logged(w, system, use)
    days = watering.days_to_refill(full, refill, use)
    w.add_line(f"({brief(full)} L - {brief(refill)} L) / {brief(use)} L/day = {brief(days)} days")
    if days < 1:
        what = f"system {system.id}, {_size(stage)}: from the fill mark to the refill mark the water lasts {brief(days, 2)} days"
        remedy = "Lower the refill mark, or grow less on this tank"
        register.report_problem(system.reservoir, "refill_mark_height", what, "At least 1 day", remedy)
    policies = register.house.policies
    whole = whole_steps(days, 1, "down")
    if policies is not None and policies.reservoir_change_every is not None:
        change = whole_steps(w.fact(policies, "reservoir_change_every", "day"), 1, "down")
        w.add_line(f"the solution is changed every {change} days, so the calendar takes {min(whole, change)}")
        whole = min(whole, change)
    w.count(whole, "days", "days a thing lasts are rounded down", "down")


def _logged(w: Working, system: System, planned: float) -> float:
    """The log's water use where there is one, full-grown plants; over a fifth off the plan's is told."""
    try:
        logged: float = w.amount("water_use_logged", system=system.id)
    except Withheld:
        return planned
    w.add_line(f"the log says {brief(logged)} L/day, the plan {brief(planned)} L/day: the log is taken")
    if abs(logged / planned - 1) > MUCH:
        what = f"the log of system {system.id} shows {brief(logged, 3)} L/day, the plan {brief(planned, 3)} L/day"
        allowed = "Over 20 % apart the plan's water_per_day is not this room's"
        remedy = "Write the plants' real use under varieties"
        w.register.report_problem(system, "id", what, allowed, remedy, "", "warning")
    return logged


def _size(stage: Stage) -> str:
    return {"young": "young plants", "half": "half-grown plants", "full": "full-grown plants"}[stage.name]
