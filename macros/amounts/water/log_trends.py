"""EC and pH rising or falling over the last days of the log: what it means and what comes next."""

from __future__ import annotations

import math
from datetime import timedelta

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.water.logbook import rows_of
from macros.calculations.rounding import round_to
from macros.calculations.water.trend import Visit, drift
from macros.house.records.feeding import FeedStage
from macros.house.records.log import LogRow
from macros.house.records.systems import System
from macros.published.amounts.trends import Trend, trends
from macros.published.labour.calendar import calendar

TOPIC = "House log"
READ_OFF = {"ec": 0.05, "ph": 0.1}
"""How far a pen without a written accuracy may read off [mS/cm, pH units]: our own default."""
_UNIT, _NAME, _STEP = {"ec": "mS/cm", "ph": ""}, {"ec": "EC", "ph": "pH"}, {"ec": 0.01, "ph": 0.01}


def fill(register: Register) -> None:
    """Enter the trend of EC and of pH of every system whose log tells one."""
    for system in register.house.systems:
        for name, published in (("ec", trends().ec), ("ph", trends().ph)):
            with register.attempt(f"trend_{name}", system, "fill_stage", system=system.id):
                _trend(register, system, name, published)


def _trend(register: Register, system: System, name: str, published: Trend) -> None:
    w = Working(
        register,
        f"trend_{name}",
        f"{_NAME[name]} over the last days, tank {system.id}",
        TOPIC,
        system=system.id,
    )
    visits = _visits(w, system, name)
    moved, days = drift(visits)
    off = _read_off(w, name)
    way = "steady" if abs(moved) <= off + 1e-9 else "rising" if moved > 0 else "falling"
    meaning = getattr(published, way)
    w.add_line(
        f"{len(visits)} readings from {visits[0].day} to {visits[-1].day}, doses left out: {moved:+.2f} {_UNIT[name]} "
        f"in {days} days".replace("  ", " ")
    )
    w.add_line(f"the pen may read {brief(off)} off: {way}")
    w.source(meaning.source)
    stage = register.house.nutrients.stages.get(system.fill_stage)
    leaves = _leaves(w, stage, name, visits[-1].left, moved / days) if way != "steady" and stage else "no"
    row = [
        _NAME[name], way, round_to(moved / days, _STEP[name], "nearest"), visits[0].day.isoformat(),
        visits[-1].day.isoformat(), leaves, meaning.means, meaning.next,
    ]  # fmt: skip
    heads = [
        ("reading", ""), ("way", ""), ("a day", _UNIT[name]), ("from", ""), ("to", ""), ("leaves its band", ""), ("means", ""),
        ("next", ""),
    ]  # fmt: skip
    w.table(heads, [row], "a drift is rounded to the nearest", _STEP[name])


def _visits(w: Working, system: System, name: str) -> list[Visit]:
    """The readings of the days that count."""
    rules, what = trends(), f"{_NAME[name]} in the log of system {system.id}"
    read = [row for row in _since_change(w, system) if getattr(row, name) is not None]
    if not read:
        raise Withheld(f"there is no {what} since the last change")
    last = read[-1].date
    age = (w.register.built_for - last).days
    if age > rules.oldest:
        raise Withheld(
            f"the last {what} is {age} days old; over {rules.oldest} days it tells nothing of today"
        )
    counted = [row for row in read if row.date > last - timedelta(days=rules.days)]
    if len(counted) < rules.least or counted[0].date == last:
        raise Withheld(
            f"{len(counted)} readings of {what} lie in the {rules.days} days to {last} and after the last change; "
            f"{rules.least} are needed, on two days at least"
        )
    return [_visit(w, row, name) for row in counted]


def _since_change(w: Working, system: System) -> list[LogRow]:
    """The rows of a system up to today, from its last change of the solution on."""
    rows = [row for row in rows_of(w.register, system) if row.date <= w.register.built_for]
    notes = calendar().change_notes
    changed = [number for number, row in enumerate(rows) if (row.note or "").strip().lower() in notes]
    return rows[changed[-1] if changed else 0 :]


def _visit(w: Working, row: LogRow, name: str) -> Visit:
    found = w.fact(row, name, _UNIT[name]) if _UNIT[name] else w.fact(row, name)
    after = f"{name}_after"
    if getattr(row, after) is None:
        return Visit(row.date, found, found)
    return Visit(row.date, found, w.fact(row, after, _UNIT[name]) if _UNIT[name] else w.fact(row, after))


def _read_off(w: Working, name: str) -> float:
    for meter in w.register.house.meters:
        if meter.measures == name and meter.reads_off is not None:
            w.raw(meter, "accuracy")
            return meter.reads_off
    w.assume(f"the {_NAME[name]} pen may read {READ_OFF[name]:g} off (our own default)")
    return READ_OFF[name]


def _leaves(w: Working, stage: FeedStage, name: str, now: float, a_day: float) -> str:
    """When the reading leaves its band at this rate, in whole days rounded down: too early is the safe side."""
    low, high = ((w.fact(stage, f"{name}_{end}", _UNIT[name])) for end in ("low", "high"))
    if not low <= now <= high:
        return "is outside now"
    days = ((high if a_day > 0 else low) - now) / a_day
    return f"in {math.floor(days + 1e-9)} days"
