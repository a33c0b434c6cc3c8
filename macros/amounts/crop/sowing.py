"""How much to sow, on which sheet and day, and when plugs leave the dome and may be planted (E17-E20)."""

from __future__ import annotations

import math
from datetime import date, timedelta
from itertools import combinations, pairwise

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.water.watering import planted
from macros.calculations.crop import sowing
from macros.ground.problems import RangeProblem
from macros.house.records.crops import CropPlan, Planting, SeedLot, Variety

TOPIC = "Sowing"
CERTAINTY = 0.95
"""Chance of enough plants: our own default, a policy of the house (margins.sowing_certainty)."""
FEW_SEEDS = 10
"""Seeds a share counts as tested by where the house does not say: the test the pages ask for, our own figure."""
NEARLY_FULL = 0.95
"""A sheet filled to more than this share has no room for a mishap: our own figure."""

SLACK = 1
"""[days] Between planting day and the last day a plug may be planted: one leak test done again. Our own."""


def fill(register: Register) -> None:
    """Enter the sowing amounts of every planted variety and of the sheets they share."""
    plan = register.house.crop_plan
    if plan is None:
        return
    _first_is_first(register, plan)
    for own in plan.all_days():
        if own.cleanout_day is not None and own.planting_day < own.cleanout_day:
            what = f"planting_day {own.planting_day} is before cleanout_day {own.cleanout_day}"
            allowed = "Clean first, then plant"
            register.report_problem(own, "planting_day", what, allowed, "Mend one of the dates", "E20")
    for system in sorted({variety.system for variety in planted(register)}):
        with register.attempt("planting_day", plan, "planting_day", system=system):
            _planting_day(register, system)
    for variety in planted(register):
        _order(register, variety)
        for planting in plan.plantings_of(variety):
            _sowing(register, plan, planting)
    for sheet in register.house.sow_layout:
        with register.attempt("sheet_fit", register.house, "sow_layout", sheet=sheet):
            _sheet(register, sheet)


def _sowing(register: Register, plan: CropPlan, planting: Planting) -> None:
    """The sowing amounts of what is planted of a variety on one day."""
    variety, keys = planting.variety, planting.keys
    with register.attempt("sow_plugs", variety, "germination", **keys):
        _plugs(register, planting)
    with register.attempt("seed_count", variety, "seeds_per_plug", **keys):
        _seeds(register, planting)
    if plan.sow_weekday is not None:
        with register.attempt("sow_date", variety, "transplant_day_min", "E19", **keys):
            _sow_date(register, plan, planting)
    for id_, label, field in (
        ("window_opens", "Planting window opens", "transplant_day_min"),
        ("window_closes", "Planting window closes", "transplant_day_max"),
    ):
        with register.attempt(id_, variety, field, **keys):
            _days_after(register, planting, id_, f"{label}, {planting.spoken}", field)


def _first_is_first(register: Register, plan: CropPlan) -> None:
    """E20: the first planting day of a system is the one its pages, its cleanout and its replant count from."""
    for variety in planted(register):
        first = plan.days_of(variety.system).planting_day
        for block in (block for one in plan.plantings_of(variety) for block in one.blocks):
            if block.planting_day is not None and block.planting_day < first:
                what = f"{variety.spoken} is planted on {block.planting_day}, before {first}, the planting day of its system"
                allowed = "planting_day of a system is its first"
                remedy = f"Write {block.planting_day} as planting_day of system {variety.system} and {first} at its other blocks"
                register.report_problem(block, "planting_day", what, allowed, remedy, "E20")


def _order(register: Register, variety: Variety) -> None:
    """E20: dome, planting window and harvest follow one another."""
    names = ("dome_days", "transplant_day_min", "transplant_day_max", "first_harvest_day", "last_harvest_day")
    known = [(name, getattr(variety, name)) for name in names if getattr(variety, name) is not None]
    for (one, earlier), (other, later) in pairwise(known):
        if later < earlier:
            what = f"{variety.id}: {other} {later} is before {one} {earlier}"
            allowed = "Days count from sowing: dome, planting, harvest"
            register.report_problem(variety, other, what, allowed, "Mend one of the days", "E20")


def _lot(register: Register, variety: Variety) -> SeedLot | None:
    """The lot tested last."""
    lots = [
        lot for lot in register.house.seed_lots if lot.variety == variety.id and lot.germination is not None
    ]
    return max(lots, key=lambda lot: lot.tested or date.min, default=None)


def _test(w: Working, variety: Variety) -> tuple[int, int, bool]:
    """Seeds that came up, of how many, and whether anybody tested the lot in the drawer.

    A share of which nobody knows of how many seeds it is counts as of few, the safe side.
    """
    lot = _lot(w.register, variety)
    if lot is None or lot.tested is None:
        w.assume(f"W03: germination of {variety.spoken} from the packet, the lot in the drawer is not tested")
        share, tested = w.fact(variety, "germination"), None
    else:
        share = w.fact(lot, "germination")
        tested = None if lot.seeds_tested is None else int(w.fact(lot, "seeds_tested"))
    if tested is not None:
        return round(share * tested), tested, True
    came_up = math.floor(share * FEW_SEEDS + 1e-9)
    w.assume(
        f"how many seeds the {share:.0%} of {variety.spoken} rest on is not given: counted as {came_up} of {FEW_SEEDS}, the "
        "safe side"
    )
    return came_up, FEW_SEEDS, lot is not None and lot.tested is not None


def wanted_certainty(w: Working) -> float:
    """The chance of enough plants that is asked for."""
    assumed = f"enough plants {CERTAINTY:.0%} of the times (our own default)"
    return w.fact_or(w.register.house.margins, "sowing_certainty", "", CERTAINTY, assumed)


def plugs_of_orders(w: Working, variety: Variety, most: int) -> list[int]:
    """Plugs to sow for 1 plant, 2 plants and so on up to `most`."""
    came_up, tested, _ = _test(w, variety)
    seeds, survival = int(w.fact(variety, "seeds_per_plug")), w.fact(variety, "survival")
    return sowing.plugs_for_each(most, wanted_certainty(w), came_up, tested, seeds, survival)


def _plugs(register: Register, planting: Planting) -> None:
    variety = planting.variety
    w = Working(register, "sow_plugs", f"Plugs to sow, {planting.spoken}", TOPIC, **planting.keys)
    came_up, tested, by_us = _test(w, variety)
    if not by_us and planting == _plan(register).plantings_of(variety)[0]:
        what = f"germination of {variety.id} is the packet's"
        allowed = "A test of the lot in the drawer beats the packet"
        remedy = "Put 10 seeds in damp paper and write the lot under seed_lots"
        register.report_problem(variety, "germination", what, allowed, remedy, "W03", "warning")
    seeds, survival = int(w.fact(variety, "seeds_per_plug")), w.fact(variety, "survival")
    wanted = int(sum(w.fact(block, "plants") for block in planting.blocks))
    certainty = wanted_certainty(w)
    share = sowing.share_after_test(came_up, tested)
    chance = sowing.plug_chance(share, seeds, survival)
    count = sowing.plugs_to_sow(wanted, certainty, came_up, tested, seeds, survival)
    w.source("beta-binomial distribution: a test of few seeds says less than one of many (Bayes 1763)")
    w.add_line(
        f"{came_up} of {tested} came up: ({came_up} + 1) / ({tested} + 2) = {brief(share, 4)} is expected"
    )
    w.add_line(
        f"a plug gives a plant with chance (1 - (1 - {brief(share, 4)})^{seeds}) x {brief(survival)} = {brief(chance, 4)}"
    )
    here, fewer = (
        sowing.chance_after_test(plugs, wanted, came_up, tested, seeds, survival) * 100
        for plugs in (count, count - 1)
    )
    w.add_line(
        f"{count} plugs give at least {wanted} plants {here:.1f} times in a hundred; {count - 1} plugs {fewer:.1f} times"
    )
    w.count(count, "plugs", "sowings are counted up")


def _plan(register: Register) -> CropPlan:
    plan = register.house.crop_plan
    assert plan is not None
    return plan


def _seeds(register: Register, planting: Planting) -> None:
    w = Working(register, "seed_count", f"Seeds, {planting.spoken}", TOPIC, **planting.keys)
    plugs, each = w.amount("sow_plugs", **planting.keys), int(w.fact(planting.variety, "seeds_per_plug"))
    w.add_line(f"{plugs} plugs x {each} = {plugs * each}")
    w.count(plugs * each, "seeds", "seeds are counted up")


def _planting_day(register: Register, system: str) -> None:
    w = Working(register, "planting_day", f"Planting day of system {system}", TOPIC, system=system)
    plan = _plan(register)
    later = plan.sets_of(system, planted(register))
    if later:
        sets = "; ".join(
            f"{one.plants} {one.variety.spoken} on {w.day(one.record, 'planting_day')}" for one in later
        )
        w.add_line(f"the first day counts, on which the clean rack is planted; later sets: {sets}")
    w.date(w.day(plan.days_of(system), "planting_day"), "as the plan says", "none")


def _sow_date(register: Register, plan: CropPlan, own: Planting) -> None:
    variety = own.variety
    w = Working(register, "sow_date", f"Sow {own.spoken}", TOPIC, **own.keys)
    planting, weekday = w.day(own.record, "planting_day"), w.raw(plan, "sow_weekday")
    young, old = int(w.fact(variety, "transplant_day_min")), int(w.fact(variety, "transplant_day_max"))
    if young > old:
        raise Withheld("the planting window ends before it opens")
    try:
        day, age = sowing.sowing_day(planting, young, old, weekday)
    except RangeProblem as none:
        raise RangeProblem(_other_days(variety, planting, young, old, weekday)) from none
    w.add_line(
        f"planting {planting} ({planting:%A}); ages {young} to {old} days on {weekday}s: {day} gives {age} days"
    )
    if old - age < SLACK:
        what = f"{variety.id} is planted on {planting}, {age} days old: the last day it may be"
        allowed = f"{SLACK} day at least to spare: a leak test that fails moves planting"
        remedy = f"Sow on another weekday than {weekday}, or move planting day"
        register.report_problem(variety, "transplant_day_max", what, allowed, remedy, "", "warning")
    w.date(day, "the age nearest the middle of the window, a tie the earlier")


def _other_days(variety: Variety, planting: date, young: int, old: int, weekday: str) -> str:
    """E19, with a day to sow on instead, or a day to plant on instead."""
    ages = sowing.ages_on(planting, old, young, weekday)
    middle = (young + old) // 2
    instead = planting - timedelta(days=middle)
    days = [planting + timedelta(days=shift) for shift in sorted(range(-7, 8), key=abs) if shift]
    shifted = next(
        ((day, found[1]) for day in days if (found := _try(day, young, old, weekday)) is not None), None
    )
    plant = f", or plant on {shifted[0]} ({weekday} sowing, {shifted[1]} days)" if shifted else ""
    return (
        f"{variety.id} must be {young}-{old} days old on {planting}; {weekday}s give {' or '.join(map(str, ages))}. "
        f"Sow on {instead:%A} {instead} ({middle} days){plant}"
    )


def _try(planting: date, young: int, old: int, weekday: str) -> tuple[date, int] | None:
    try:
        return sowing.sowing_day(planting, young, old, weekday)
    except RangeProblem:
        return None


def _days_after(register: Register, planting: Planting, id_: str, label: str, field: str) -> None:
    w = Working(register, id_, label, TOPIC, **planting.keys)
    sown = date.fromisoformat(w.amount("sow_date", **planting.keys))
    days = int(w.fact(planting.variety, field))
    day = sown + timedelta(days=days)
    w.add_line(f"{sown} + {days} days = {day}")
    w.date(day, "counted from sowing", "none")


def _sheet(register: Register, sheet: str) -> None:
    w = Working(register, "sheet_fit", f"Plugs on {sheet.replace('_', ' ')}", TOPIC, sheet=sheet)
    house, germination = register.house, register.house.germination
    if germination is None:
        raise Withheld("the house does not give germination.sheet", "germination.sheet")
    places = int(w.fact(germination.sheet, "rows") * w.fact(germination.sheet, "columns"))
    own = [v for name in house.sow_layout[sheet] for v in planted(register) if v.id == name]
    _look_alikes(register, sheet, own)
    first = [_plan(register).plantings_of(variety)[0] for variety in own]
    counts = [(one.variety, w.amount("sow_plugs", **one.keys)) for one in first]
    total = sum(count for _, count in counts)
    if any(one.several for one in first):
        w.assume("the sheet carries the first set of each variety; a later set has a sheet of its own")
    w.add_line(" + ".join(f"{v.spoken} {count}" for v, count in counts) + f" = {total} of {places} plugs")
    _room_on_sheet(register, sheet, total, places)
    _days_of_sheet(register, sheet, first)
    w.count(total, "plugs", "sowings are counted up")


def _look_alikes(register: Register, sheet: str, own: list[Variety]) -> None:
    """E17: look-alikes on one sheet."""
    for one, other in combinations(own, 2):
        if one.looks_like(other):
            what = f"{one.id} and {other.id} share look_alike_group {one.look_alike_group} and both stand on {sheet}"
            allowed, field = "Look-alikes are sown on different sheets", f"sow_layout.{sheet}"
            register.report_problem(register.house, field, what, allowed, "Move one of them", "E17")


def _room_on_sheet(register: Register, sheet: str, total: int, places: int) -> None:
    """E18 for too many plugs."""
    house, field = register.house, f"sow_layout.{sheet}"
    if total > places:
        what, remedy = f"{sheet} carries {total} plugs", "Move a variety to another sheet"
        register.report_problem(house, field, what, f"It has {places}", remedy, "E18")
    elif total > NEARLY_FULL * places:
        what, allowed = (
            f"{sheet} carries {total} of its {places} plugs",
            "Over 95 % there is no room for a mishap",
        )
        register.report_problem(house, field, what, allowed, "Start another sheet", "W08", "warning")


def _days_of_sheet(register: Register, sheet: str, own: list[Planting]) -> None:
    """A sheet is sown on one day."""
    days = {found.exact for one in own for found in register.of_id("sow_date", **one.keys)}
    if len(days) > 1:
        what = f"{sheet} is sown on {' and '.join(sorted(days))}"
        allowed = "Under one dome the first are stretched before the last are up (common practice, no source)"
        remedy, field = "Give each sowing day its own sheet", f"sow_layout.{sheet}"
        register.report_problem(register.house, field, what, allowed, remedy, "", "warning")
