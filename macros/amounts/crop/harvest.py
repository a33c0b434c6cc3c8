"""When a crop is picked, how sets follow one another, what may be promised, and moving plants to soil (W09)."""

from __future__ import annotations

import math
from datetime import date, timedelta

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.water.watering import planted
from macros.calculations.crop import succession
from macros.ground.problems import RangeProblem
from macros.ground.units import QuantityMistake
from macros.house.records.crops import MovedToSoil, Planting, Variety

TOPIC = "Harvest"
GRAMS, OUNCES = 10.0, 0.5
"""Steps of a harvest by mass: 10 g, half an ounce."""
PROMISED = 0.85
"""Share of the reckoned harvest that is promised: our own default, no source."""
HOLD_BACK = 2
"""[days] The first day promised to the kitchen comes this much after the first day reckoned: our own default."""


def fill(register: Register) -> None:
    """Enter the harvest amounts of every planted variety, and the soil for plants that leave the rack."""
    plan = register.house.crop_plan
    if plan is None:
        return
    for variety in planted(register):
        keys = {"variety": variety.id}
        for planting in plan.plantings_of(variety):
            _days(register, planting)
        with register.attempt("succession", variety, "last_harvest_day", **keys):
            _succession(register, variety)
        with register.attempt("expected_harvest", variety, "yield_per_plant", **keys):
            _expected(register, variety)
    for id_, what, field in (
        ("use_by", "flowers", "flower_shelf_life"),
        ("use_by_leaves", "leaves", "leaf_shelf_life"),
    ):
        with register.attempt(id_, register.house, "policies"):
            _use_by(register, id_, what, field)
    if plan.moved_to_soil is not None:
        for id_ in ("soil_volume", "soil_bags", "first_water"):
            with register.attempt(id_, plan.moved_to_soil, "pot_volume"):
                _soil(register, plan.moved_to_soil, id_)


def _days(register: Register, planting: Planting) -> None:
    """First and last day of harvest of a set."""
    for id_, label, field, later in (
        ("harvest_first", "First harvest promised", "first_harvest_day", HOLD_BACK),
        ("harvest_last", "Last harvest", "last_harvest_day", 0),
    ):
        with register.attempt(id_, planting.variety, field, **planting.keys):
            _day(register, planting, id_, label, field, later)


def _day(register: Register, planting: Planting, id_: str, label: str, field: str, later: int) -> None:
    w = Working(register, id_, f"{label}, {planting.spoken}", TOPIC, **planting.keys)
    sown = date.fromisoformat(w.amount("sow_date", **planting.keys))
    days = int(w.fact(planting.variety, field))
    day = sown + timedelta(days=days + later)
    if later:
        w.assume(f"promised {later} days after the first reckoned day (our own default)")
    w.add_line(f"sown {sown} + {days} days{f' + {later} days' if later else ''} = {day}")
    w.date(day, "counted from sowing", "none")


def _window(w: Working, variety: Variety) -> tuple[int, int]:
    """Days a set is harvested over, and days it stands on the rack; of several sets the one that stands longest."""
    first, last = int(w.fact(variety, "first_harvest_day")), int(w.fact(variety, "last_harvest_day"))
    plan = w.register.house.crop_plan
    assert plan is not None
    sets = plan.plantings_of(variety)
    ages = [
        (w.day(one.record, "planting_day") - date.fromisoformat(w.amount("sow_date", **one.keys))).days
        for one in sets
    ]
    age = min(ages)
    if len(sets) > 1:
        w.assume(
            f"of its {len(sets)} sets the one planted youngest, {age} days old, stands longest: it counts"
        )
    if last <= first or last <= age:
        raise RangeProblem(
            f"{variety.id} is harvested until day {last}; the first harvest and planting come before"
        )
    return last - first, last - age


def _demand(w: Working, variety: Variety) -> tuple[float, str]:
    """What the kitchen wants in a week: a count, or grams."""
    plan = w.register.house.crop_plan
    assert plan is not None
    if variety.id not in plan.weekly_demand:
        raise Withheld(f"crop_plan.weekly_demand names no {variety.id}")
    text = str(w.raw(plan, f"weekly_demand.{variety.id}"))
    try:
        wanted, unit = plan.demand(variety.id)
        return wanted, unit or variety.yield_unit or "flowers"
    except QuantityMistake as mistake:
        raise RangeProblem(
            f'"{text}" is no demand: a count of flowers, or a mass such as 0.60 kg'
        ) from mistake


def _succession(register: Register, variety: Variety) -> None:
    w = Working(register, "succession", f"Sets of {variety.spoken}", TOPIC, variety=variety.id)
    window, stay = _window(w, variety)
    demand, unit = _demand(w, variety)
    if variety.yield_per_plant_week is not None:
        each = w.fact(variety, "yield_per_plant_week")
        found = succession.flower_succession(demand, each, window, stay)
        w.add_line(
            f"{brief(demand)} {unit} a week / {brief(each)} of one plant = {found.per_set} plants a set"
        )
    else:
        each = w.fact(variety, "yield_per_plant", "g")
        found = succession.leaf_succession(demand, each, window, stay)
        w.add_line(
            f"{brief(demand)} g a week x {window} days / 7 / {brief(each)} g of one plant = {found.per_set} plants a set"
        )
    w.add_line(
        f"{stay} days on the rack / {window} days of harvest = {found.sets} sets at once, {found.sites} places"
    )
    places = places_of(w, variety)
    if found.sites > places:
        fits = demand * (places // found.sets) / found.per_set if places >= found.sets else 0.0
        what = f"a steady {brief(demand)} {unit} a week of {variety.id} takes {found.sites} places"
        remedy = f"Promise {brief(fits, 3)} {unit} a week, or give it more plates"
        register.report_problem(variety, "spacing", what, f"Its plates have {places}", remedy, "", "warning")
    rows = [[found.every_days, found.per_set, found.sets, found.sites]]
    w.table(
        [("sow every", "days"), ("plants a set", ""), ("sets at once", ""), ("places", "")],
        rows,
        "sets are counted up",
        None,
    )


def places_of(w: Working, variety: Variety) -> int:
    """Places on the plates the plan gives a variety."""
    house = w.register.house
    plan, system = house.crop_plan, house.system(variety.system)
    assert plan is not None
    tray = w.amount("sites_per_flood_tray", variety=variety.id)
    plates = system.trays.cup_plates_per_flood_tray or 1
    own = sum(len(block.cup_plates) for block in plan.blocks if block.variety == variety.id)
    return int(tray * own / plates + 1e-9)


def _expected(register: Register, variety: Variety) -> None:
    """What the plants of the plan keep up week by week; W09 where the kitchen wants more. What a set gives in the weeks it
    is picked is another figure: `promise_weeks`.
    """
    steady = "" if variety.yield_per_plant_week is not None else ", kept up by sets sown in turn"
    label = f"Harvest a week, {variety.spoken}{steady}"
    w = Working(register, "expected_harvest", label, TOPIC, variety=variety.id)
    plan = register.house.crop_plan
    assert plan is not None
    counts = [int(sum(w.fact(b, "plants") for b in one.blocks)) for one in plan.plantings_of(variety)]
    plants = sum(counts)
    if variety.yield_per_plant_week is not None:
        if len(counts) > 1:
            plants = min(counts)
            w.assume(
                f"its {len(counts)} sets are picked at different times: the smallest, {plants} plants, is counted on"
            )
        each, unit = w.fact(variety, "yield_per_plant_week"), variety.yield_unit or "flowers"
        whole = plants * each
        w.add_line(f"{plants} plants x {brief(each)} {unit} a week = {brief(whole)}")
        step = 1.0
    else:
        each, unit, step = (
            w.fact(variety, "yield_per_plant", "g"),
            "g",
            OUNCES if register.house.us else GRAMS,
        )
        window, stay = _window(w, variety)
        sets = math.ceil(stay / window - 1e-9)
        whole = plants * each * 7 / (sets * window)
        w.add_line(
            f"{plants} plants x {brief(each)} g x 7 days / ({sets} sets x {window} days) = {brief(whole)} g a week"
        )
    w.assume(f"{PROMISED:g} of it is counted on (our own default)")
    promised = whole * PROMISED
    w.add_line(
        f"x {PROMISED:g} = {brief(promised)} {unit}; with one plate in two lost, {brief(promised / 2)} {unit}"
    )
    if variety.id in plan.weekly_demand:
        demand, _ = _demand(w, variety)
        if promised < demand:
            what = f"{variety.id}: {brief(promised, 3)} {unit} a week can be kept up, {brief(demand, 3)} {unit} are wanted"
            allowed = "A promise stays under the harvest"
            remedy = "Promise less, or plant more"
            register.report_problem(
                plan, f"weekly_demand.{variety.id}", what, allowed, remedy, "W09", "warning"
            )
    w.number(promised, unit, "down", "what is counted on is rounded down", step=step)


def _use_by(register: Register, id_: str, what: str, field: str) -> None:
    w = Working(register, id_, f"Use {what} within", TOPIC)
    policies = register.house.policies
    days = math.floor(w.fact(policies, field, "day") + 1e-9)
    w.add_line(f"picked + {days} days")
    w.count(days, "days", "a use-by is rounded down", "earlier")


def _soil(register: Register, moved: MovedToSoil, id_: str) -> None:
    labels = {
        "soil_volume": "Potting mix",
        "soil_bags": "Bags of potting mix",
        "first_water": "First water of the pots",
    }
    w = Working(register, id_, labels[id_], TOPIC)
    plants, pot = w.fact(moved, "plants"), w.fact(moved, "pot_volume", "L")
    if id_ == "first_water":
        w.add_line(
            f"a quarter of each pot: {brief(pot)} L x {plants:g} pots / 4 = {brief(plants * pot / 4)} L"
        )
        w.source("a quarter of the pot: common practice, no source")
        w.number(plants * pot / 4, "L", "up", "water is rounded up")
        return
    if id_ == "soil_bags":
        volume, bag = w.amount("soil_volume"), w.fact(moved, "bag_volume", "L")
        if bag <= 0:
            raise RangeProblem("a bag holds something")
        bags = math.ceil(volume / bag - 1e-9)
        over = volume - (bags - 1) * bag
        w.add_line(
            f"{brief(volume)} L / {brief(bag)} L = {brief(volume / bag)}: {bags} bags, the last for {brief(over)} L"
        )
        w.count(bags, "bags", "bags are counted up")
        return
    settle = w.fact(moved, "settle_allowance") if moved.settle_allowance is not None else 0.15
    if moved.settle_allowance is None:
        w.assume("mix settles by 15 % (common practice, no source)")
    plug = w.fact(register.house.plug, "volume", "L") if register.house.plug is not None else 0.0
    volume = plants * pot * (1 + settle) - plants * plug
    w.add_line(
        f"{plants:g} x {brief(pot)} L x {brief(1 + settle)} - {plants:g} plugs x {brief(plug)} L = {brief(volume)} L"
    )
    w.number(volume, "L", "up", "mix is rounded up")
