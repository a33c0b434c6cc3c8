"""What may be promised in which week, of the crop plan as it stands."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from macros.amounts.crop.harvest import GRAMS, OUNCES, PROMISED
from macros.amounts.engine.number_format import house_unit, in_house_unit
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.water.watering import planted
from macros.calculations.crop.promises import days_within
from macros.calculations.rounding import round_to
from macros.house.records.crops import CropPlan, Planting, Variety

TOPIC = "Harvest"
MOST_WEEKS = 52
FLOWERS = 1.0
"""The step of what is promised by count; by mass those of a harvest."""


def fill(register: Register) -> None:
    """Enter the table of weeks."""
    plan = register.house.crop_plan
    if plan is not None:
        with register.attempt("promise_weeks", plan, "blocks"):
            _weeks(register, plan)


def _weeks(register: Register, plan: CropPlan) -> None:
    w = Working(register, "promise_weeks", "What may be promised, week by week", TOPIC)
    known = [v for v in planted(register) if register.of_id("harvest_first", variety=v.id)]
    if not known:
        raise Withheld("no planted variety has a day of its first harvest")
    sets = [[_Set(*_span(w, one), *_a_day(w, one)) for one in plan.plantings_of(v)] for v in known]
    weeks = _mondays(register.built_for, max(one.last for own in sets for one in own))
    if not weeks:
        raise Withheld("the last harvest of the plan has passed")
    rows = [[start.isoformat(), *(_given(start, own) for own in sets)] for start in weeks]
    w.assume(f"{PROMISED:g} of the reckoned harvest is promised (our own default)")
    w.assume("a week of 0 promises nothing: sow again for it")
    heads = [("week from Monday", ""), *((v.spoken, _unit(register, v)) for v in known)]
    w.table(heads, rows, "what is promised is rounded down", None)


class _Set(NamedTuple):
    """First and last day of harvest of a set, what may be promised of a day, and the step it is rounded to."""

    first: date
    last: date
    each: float
    step: float


def _given(start: date, sets: list[_Set]) -> float:
    """What the sets of a variety give in a week: each rounded down by itself."""
    week = (start, start + timedelta(days=6))
    return sum(
        round_to(one.each * days_within((one.first, one.last), week), one.step, "down") for one in sets
    )


def _mondays(first: date, last: date) -> list[date]:
    """The Monday of each week from the first day to the last, a year at most."""
    monday = first - timedelta(days=first.weekday())
    count = min(((last - monday).days // 7) + 1, MOST_WEEKS)
    return [monday + timedelta(days=7 * n) for n in range(count)]


def _span(w: Working, planting: Planting) -> tuple[date, date]:
    first, last = (
        date.fromisoformat(w.amount(id_, **planting.keys)) for id_ in ("harvest_first", "harvest_last")
    )
    return first, last


def _unit(register: Register, variety: Variety) -> str:
    if variety.yield_per_plant_week is not None:
        return variety.yield_unit or "flowers"
    return house_unit("g", register.house.us)


def _a_day(w: Working, planting: Planting) -> tuple[float, float]:
    """What may be promised of a day of harvest of a set in the house's unit, and the step it is rounded to."""
    variety = planting.variety
    plants = sum(w.fact(block, "plants") for block in planting.blocks)
    if variety.yield_per_plant_week is not None:
        each = plants * w.fact(variety, "yield_per_plant_week") / 7 * PROMISED
        w.add_line(
            f"{planting.spoken}: {plants:g} plants, {each:.4g} {_unit(w.register, variety)} a day of harvest"
        )
        return each, FLOWERS
    window = w.fact(variety, "last_harvest_day") - w.fact(variety, "first_harvest_day")
    if window < 1:
        raise Withheld(f"the harvest of {variety.id} ends before it begins")
    grams = plants * w.fact(variety, "yield_per_plant", "g") / window * PROMISED
    value, unit = in_house_unit(grams, "g", w.register.house.us)
    w.add_line(f"{planting.spoken}: {plants:g} plants, {grams:.4g} g a day of harvest")
    return value, GRAMS if unit == "g" else OUNCES
