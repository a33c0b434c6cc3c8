"""Feed doses, the top-up table, and what EC should read and how it is mended."""

from __future__ import annotations

import math

from macros.amounts.engine import number_format as printing
from macros.amounts.engine.number_format import brief
from macros.amounts.engine.pours import give_poured
from macros.amounts.engine.register import Reason, Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.feed.parts import (
    dose_unit,
    ec_each,
    in_ratio,
    measured,
    parts_of,
    rate_of,
    rate_text,
    tools_of,
)
from macros.calculations import pours
from macros.calculations.feed import feeding
from macros.calculations.rounding import round_to
from macros.ground.units import convert
from macros.house.records.feeding import FeedStage
from macros.house.records.systems import System
from macros.house.records.tools import Meter

TOPIC = "Feed"
MOST_USED = 1.5
"""More water short than this share of what is short at the refill mark is looked into as a leak (SOP-09): our own limit."""
_RATIO_RULE = "nearest mark, all parts with one tool so that their ratio holds"


def fill(register: Register) -> None:
    """Enter doses and EC amounts of every system for the stage its tank is mixed for."""
    house = register.house
    for system in house.systems:
        if system.fill_stage not in house.nutrients.stages:
            continue
        stage = house.nutrients.stages[system.fill_stage]
        keys = {"system": system.id}
        with register.attempt("dose_full", system, "fill_stage", **keys):
            _doses(register, system, stage)
        with register.attempt("topup_table", system, "fill_stage", **keys):
            _topup_table(register, system, stage)
        with register.attempt("ec_band", stage, "ec_target", **keys):
            _ec_band(register, system, stage)
        with register.attempt("ec_expected", stage, "ec_target", **keys):
            _ec_expected(register, system, stage)
        with register.attempt("ec_raise", stage, "ec_target", **keys):
            _ec_raise(register, system, stage)
        with register.attempt("ec_dilute", stage, "ec_target", **keys):
            _ec_lower(register, system, stage, "ec_dilute")
        with register.attempt("ec_swap", stage, "ec_target", **keys):
            _ec_lower(register, system, stage, "ec_swap")


def _doses(register: Register, system: System, stage: FeedStage) -> None:
    """One dose a part, all poured with tools of one class."""
    workings: list[Working] = []
    exact: list[float] = []
    for part in [one for one in register.house.nutrients.parts_in_order() if one.id in stage.rates]:
        w = Working(
            register,
            "dose_full",
            f"Full dose, {part.name}",
            TOPIC,
            system=system.id,
            part=part.id,
            feed_stage=system.fill_stage,
        )
        w.raw(system, "fill_stage")
        volume = w.amount("res_fill", system=system.id)
        rate, unit = rate_of(w, stage, part), dose_unit(stage, part)
        dose = feeding.dose_full(volume, rate, 1.0)
        w.add_line(f"{brief(volume)} L x {rate_text(w, stage, part)} = {brief(dose)} {unit}")
        workings.append(w)
        exact.append(dose)
    if not workings:
        raise Withheld(f"no part has a rate in the stage {system.fill_stage}")
    tools = [tools_of(w, stage, [[dose] for dose in exact]) for w in workings].pop()
    plans: list[pours.PourPlan | None]
    try:
        plans = list(in_ratio(exact, tools))
    except pours.NoTool:
        plans = [None] * len(exact)
    for w, dose, own, plan in zip(workings, exact, tools, plans, strict=True):
        give_poured(w, dose, own, "nearest", _RATIO_RULE, stage.place("rates"), plan=plan)


def _topup_table(register: Register, system: System, stage: FeedStage) -> None:
    w = Working(register, "topup_table", "Top-up doses", TOPIC, system=system.id)
    w.raw(system, "fill_stage")
    strength = topup_strength(w)
    us = register.house.us
    step, unit = topup_step(us)
    parts = parts_of(w, stage)
    rates = [rate_of(w, stage, part) for part in parts]
    last = topup_last_row(w, system)
    waters = [round(step * row, 6) for row in range(1, int(last / step + 1e-9) + 1)]
    ways = {f"{strength:g}": strength, "full": 1.0}
    tools = tools_of(
        w,
        stage,
        [[convert(one, unit, "L") * rate * way for one in waters for way in ways.values()] for rate in rates],
    )
    cells = [(share, n) for share in ways for n in range(len(parts))]
    columns = [("water to add", unit)]
    columns += [(f"{parts[n].name}, at {share} strength", tools[n].unit) for share, n in cells]
    rows = [
        [one, *(measured(convert(one, unit, "L") * rates[n] * ways[share], tools[n]) for share, n in cells)]
        for one in waters
    ]
    _too_coarse(w, system, rows, unit)
    told = ", ".join(rate_text(w, stage, part) for part in parts)
    w.add_line(f"each dose = water added x rate x strength; rates {told}")
    w.add_line(
        f"the last row is {last:g} {printing.shown_unit(unit)}: {MOST_USED:g} times what is short at the refill mark"
    )
    w.add_line(
        "an empty cell: no tool of the house measures so little; wait, at most down to the refill mark, then add plain water and read EC"
    )
    w.table(columns, rows, "nearest mark of the house's tools", None)


def _too_coarse(w: Working, system: System, rows: list[list[float | None]], unit: str) -> None:
    """A warning where no row that can be poured is reached before the tank stands at its refill mark.

    Where the measures are too coarse for a full dose, that is told already.
    """
    if not w.register.of_id("dose_full", system=system.id):
        return
    full, refill = (w.amount(id_, system=system.id) for id_ in ("res_fill", "res_refill"))
    wanted = convert(full - refill, "L", unit)
    row = [row for row in rows if row[0] is not None and row[0] <= max(wanted, rows[0][0] or 0.0)][-1]
    if any(dose is not None for dose in row[1:]):
        return
    shown = printing.shown_unit(unit)
    w.register.report_problem(
        system.reservoir,
        "refill_mark_height",
        f"tank {system.id} takes {brief(wanted, 3)} {shown} from its refill mark to its fill mark, and no measure of the "
        "house for feed pours what goes with so little water",
        "A top-up is due at the refill mark at the latest",
        "Own a finer measure for feed; until then such a top-up is plain water, and its EC is read",
        severity="warning",
    )


def topup_strength(w: Working) -> float:
    """Share of full strength at which a tank in its band is topped up; half where the house does not say."""
    margins = w.register.house.margins
    assumed = "top-ups at half strength (common practice, no source); set margins.topup_strength"
    return w.fact_or(margins, "topup_strength", "", 0.5, assumed)


def topup_step(us: bool) -> tuple[float, str]:
    """The distance of the table's rows, and its unit."""
    return (1.0, "us_gal") if us else (5.0, "L")


def topup_last_row(w: Working, system: System) -> float:
    """The last row of the top-up table, in the unit of its rows: nobody adds more without looking for a leak."""
    full, refill, usable = (
        w.amount(id_, system=system.id) for id_ in ("res_fill", "res_refill", "res_usable")
    )
    step, unit = topup_step(w.register.house.us)
    wanted = round_to(convert(MOST_USED * (full - refill), "L", unit), step, "up")
    return max(step, min(wanted, round_to(convert(usable, "L", unit), step, "down")))


def _ec_band(register: Register, system: System, stage: FeedStage) -> None:
    w = Working(register, "ec_band", "EC band", TOPIC, system=system.id)
    w.raw(system, "fill_stage")
    low, target, high = (w.fact(stage, name, "mS/cm") for name in ("ec_low", "ec_target", "ec_high"))
    w.add_line(f"{brief(low)} to {brief(high)} mS/cm, target {brief(target)}")
    w.band(low, target, high, "mS/cm", 0.1, "as the house set it")


def strength_of_feed(
    w: Working, register: Register, stage: FeedStage
) -> tuple[float, list[tuple[float, float]]]:
    """EC that the full feed adds, and (rate, EC a mL/L) of each part; of a dry one g/L.

    Raises
    ------
    Withheld
        a part has no measured EC.
    """
    pairs = [(rate_of(w, stage, part), ec_each(w, stage, part)) for part in parts_of(w, stage)]
    return sum(rate * each for rate, each in pairs), pairs


def _ec_expected(register: Register, system: System, stage: FeedStage) -> None:
    w = Working(register, "ec_expected", "EC after mixing", TOPIC, system=system.id)
    w.raw(system, "fill_stage")
    water = w.fact(register.house.water_source, "ec", "mS/cm")
    _, pairs = strength_of_feed(w, register, stage)
    low, high = w.fact(stage, "ec_low", "mS/cm"), w.fact(stage, "ec_high", "mS/cm")
    ec = feeding.ec_expected(water, pairs)
    sums = " + ".join(f"{brief(rate)} x {brief(each)}" for rate, each in pairs)
    w.add_line(f"{brief(water)} + {sums} = {brief(ec)} mS/cm")
    if not low <= ec <= high:
        _out_of_band(register, system, stage, ec, low, high)
        return
    off = pen_accuracy(w, "ec")
    if off is not None:
        w.add_line(
            f"a pen that reads {brief(off)} mS/cm off shows {brief(ec - off)} to {brief(ec + off)} for a good mix; a tank "
            f"at {brief(high)} may read {brief(high - off)}"
        )
        if ec + off > high or ec - off < low:
            meter = _meter_record(register, "ec")
            assert meter is not None
            register.report_problem(
                meter,
                "accuracy",
                f"{meter.name} reads up to {brief(off)} mS/cm off: that alone carries {brief(ec)} mS/cm of tank {system.id} "
                "out of its band",
                f"The band is {brief(low)} to {brief(high)} mS/cm",
                "Use a better pen, or widen the band where the crop allows it",
            )
    w.number(
        ec,
        "mS/cm",
        "nearest",
        "two decimals, as the meter shows",
        step=0.01,
        tool=_meter(register, "ec"),
        bounds=(low, high),
        as_read=True,
    )


def _out_of_band(
    register: Register, system: System, stage: FeedStage, ec: float, low: float, high: float
) -> None:
    """The feed as written misses its own band: a problem at the stage's target."""
    what = f"the doses of this stage give {brief(ec, 3)} mS/cm in tank {system.id}"
    allowed = f"The band of the stage is {brief(low)} to {brief(high)} mS/cm"
    remedy = "Change the rates, the band, or measure the EC of each part again"
    register.report_problem(stage, "ec_target", what, allowed, remedy)
    reason = Reason("the doses miss the band of their own stage")
    register.withhold("ec_expected", {"system": system.id}, reason)


def _readings(first: float, last: float, spacing: float) -> list[float]:
    """The rows of a table that leaves the band at `first`: that reading, then round ones, `last` included."""
    sign = 1 if last > first else -1
    count = math.floor(sign * first / spacing + 1e-9) + 1
    rows = [round(first, 3)]
    while sign * round(sign * count * spacing, 3) < sign * last - 1e-9:
        rows.append(round(sign * count * spacing, 3))
        count += 1
    return [*rows, round(last, 3)] if sign * last > sign * rows[-1] else rows


def _row_spacing(target: float, edge: float) -> float:
    """[mS/cm] Between two rows: half of what lies between target and edge at most, so that the row's dose ends in the band."""
    return max((step for step in (0.1, 0.05, 0.02) if step <= abs(edge - target) / 2 + 1e-9), default=0.01)


def _ec_raise(register: Register, system: System, stage: FeedStage) -> None:
    """A table of readings under the band, down to the tap water's own, and what to add of each part."""
    w = Working(register, "ec_raise", "EC too low: add", TOPIC, system=system.id)
    w.raw(system, "fill_stage")
    volume = w.amount("res_fill", system=system.id)
    target, low = w.fact(stage, "ec_target", "mS/cm"), w.fact(stage, "ec_low", "mS/cm")
    water = w.fact(register.house.water_source, "ec", "mS/cm")
    total, pairs = strength_of_feed(w, register, stage)
    parts = parts_of(w, stage)
    tools = tools_of(w, stage, [[] for _ in parts])
    rows: list[list[float | None]] = []
    share = 0.0
    first = low - last_digit(w, "ec")
    for read in _readings(first, min(first, water), _row_spacing(target, low)):
        share = feeding.ec_raise(read, target, total)
        doses = [volume * rate * share for rate, _ in pairs]
        rows.append([read, *(measured(dose, own, "down") for dose, own in zip(doses, tools, strict=True))])
    w.add_line(
        f"share of a full dose = (target {brief(target)} - reading) / {brief(total)}; at {brief(rows[-1][0] or 0)} "
        f"mS/cm, the tap water's own, it is {brief(share)}, times {brief(volume)} L times the rate of each part"
    )
    w.add_line("between two rows the upper one, the smaller dose")
    columns = [("EC read", "mS/cm"), *((part.name, own.unit) for part, own in zip(parts, tools, strict=True))]
    w.table(columns, rows, "down to a mark, then read again", None)


def _ec_lower(register: Register, system: System, stage: FeedStage, id_: str) -> None:
    """EC too high: water to add while there is room, or litres to drain and refill."""
    label = "EC too high: water to add" if id_ == "ec_dilute" else "EC too high: drain and refill"
    w = Working(register, id_, label, TOPIC, system=system.id)
    w.raw(system, "fill_stage")
    volume = w.amount("res_fill", system=system.id)
    target, high = w.fact(stage, "ec_target", "mS/cm"), w.fact(stage, "ec_high", "mS/cm")
    water = w.fact(register.house.water_source, "ec", "mS/cm")
    compute = feeding.ec_dilute if id_ == "ec_dilute" else feeding.ec_swap
    us = register.house.us
    unit = printing.house_unit("L", us)
    rows = []
    first = high + last_digit(w, "ec")
    last = max(first, 2 * target - water)
    for read in _readings(first, last, _row_spacing(target, high)):
        litres = compute(volume, read, target, water)
        rows.append(
            [
                read,
                round_to(printing.in_house_unit(litres, "L", us)[0], printing.step_for(unit), "up"),
            ]
        )
    divisor = (
        f"({brief(target)} - {brief(water)})" if id_ == "ec_dilute" else f"({brief(last)} - {brief(water)})"
    )
    litres = compute(volume, last, target, water)
    w.add_line(
        f"at {brief(last)} mS/cm: {brief(volume)} L x ({brief(last)} - {brief(target)}) / {divisor} = {brief(litres)} L"
    )
    w.add_line("the last row is where half of the tank would be drained; between two rows the upper one")
    if id_ == "ec_dilute":
        w.add_line("only as far as there is room under the fill mark; otherwise drain and refill")
    w.table([("EC read", "mS/cm"), ("water", unit)], rows, "up to a readable step", printing.step_for(unit))


def _meter(register: Register, measures: str) -> str:
    meter = _meter_record(register, measures)
    return str(meter.name) if meter is not None else f"{measures.upper()} meter"


def _meter_record(register: Register, measures: str) -> Meter | None:
    return next((meter for meter in register.house.meters if meter.measures == measures), None)


def last_digit(w: Working, measures: str) -> float:
    """The smallest step the house's pen shows [mS/cm, or pH units]; 0.01 mS/cm and pH 0.1 where it does not say."""
    meter = _meter_record(w.register, measures)
    if meter is not None:
        w.raw(meter, "resolution")
        if (shown := meter.shows) is not None:
            return shown
    return 0.1 if measures == "ph" else 0.01


def pen_accuracy(w: Working, measures: str) -> float | None:
    """How far the house's pen may read off [mS/cm, or pH units]; None where the house has none or does not say."""
    meter = _meter_record(w.register, measures)
    if meter is None:
        return None
    w.raw(meter, "accuracy")
    if meter.reads_off is None:
        w.assume(f"the accuracy of {meter.name} is not a number that can be read; its error is left out")
    return meter.reads_off
