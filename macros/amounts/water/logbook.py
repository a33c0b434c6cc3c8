"""What the house log says: how the tank answers to acid, and how much water is really used."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.water.reservoir import shape_of
from macros.calculations.water import volumes
from macros.house.records.log import LogRow
from macros.house.records.systems import System

TOPIC = "House log"
LEAST_READINGS, LAST_READINGS = 3, 5
"""Readings the response to acid needs, and the most it looks back at: our own figures."""
LEAST_TOPUPS = 2
FAR, WRONG_UNIT = 5.0, 15.0
"""A response of the tank further than this from the sum is left out; further than the second it is a slip of the unit, for a
fluid ounce is 30 mL: our own figures."""
MUCH = 0.20
"""A water use further than this from the plan's is told: our own figure."""


@dataclass(frozen=True)
class Response:
    """Acid that took the tank down, for a litre and a pH unit [mL/L], read from one row."""

    row: LogRow
    slope: float


def fill(register: Register) -> None:
    """Enter the water use of every system that has a log."""
    for system in register.house.systems:
        _over_the_tank(register, system)
        with register.attempt("water_use_logged", system.reservoir, "fill_mark_height", system=system.id):
            _use(register, system)


def _over_the_tank(register: Register, system: System) -> None:
    """A row that adds more than the tank holds has its column in another unit."""
    brim = register.of_id("res_gross", system=system.id)
    for row in register.house.log if brim else ():
        if row.system != system.id or row.added is None or row.added.to("L") <= brim[0].exact:
            continue
        what = f"{row.added.written.replace('us_gal', 'gal')} were added to tank {system.id}"
        allowed = f"Brim-full it holds {brim[0].printed}"
        remedy = "Look at the unit of the column, L or gal, and mend the row"
        register.report_problem(row, "added", what, allowed, remedy)


def rows_of(register: Register, system: System) -> list[LogRow]:
    """The rows of a system up to the day of use, oldest first."""
    own = [row for row in register.house.log if row.system == system.id and row.date <= register.day]
    return sorted(own, key=lambda row: row.date)


def responses(w: Working, system: System, chemical: str, expected: float | None) -> list[Response]:
    """The last readings of acid against pH, none where they are too few; each row used is an input.

    Those far from what the sum expects [mL/L for one pH unit] are told and left out.
    """
    found = [
        row
        for row in rows_of(w.register, system)
        if row.acid_chemical == chemical and None not in (row.acid, row.ph, row.ph_after)
    ]
    if len(found) < LEAST_READINGS:
        return []
    aside = Working(w.register, w.id, w.label, w.topic, **w.of)
    readings = [_response(aside, system, row) for row in found]
    fit = [one.row for one in readings if expected is None or not _far_off(w.register, one, expected)]
    return [_response(w, system, row) for row in fit[-LAST_READINGS:]] if len(fit) >= LEAST_READINGS else []


def _response(w: Working, system: System, row: LogRow) -> Response:
    shape = shape_of(system.reservoir, w)
    acid, before, after = w.fact(row, "acid", "mL"), w.fact(row, "ph"), w.fact(row, "ph_after")
    marked = row.level is not None
    level = w.fact(row, "level", "m") if marked else w.fact(system.reservoir, "fill_mark_height", "m")
    return Response(row, acid / volumes.volume_to_height(shape, level) / (before - after))


def _far_off(register: Register, reading: Response, expected: float) -> bool:
    """Whether a reading is so far from the sum that it drives no dose: told, and refused where only a wrong unit makes it so."""
    times = reading.slope / expected
    if 1 / FAR <= times <= FAR:
        return False
    row = reading.row
    assert row.acid is not None
    said = f"{times:.0f} times as much" if times > 1 else f"{1 / times:.0f} times less"
    mixed_up = times >= WRONG_UNIT or times <= 1 / WRONG_UNIT
    register.report_problem(
        row,
        "acid",
        f"{row.acid.written.replace('_', ' ')} of acid took pH from {row.ph:g} to {row.ph_after:g}: {said} as the alkalinity of "
        "the water asks for",
        f"A tank answers within {FAR:g} times of that sum; the row drives no dose",
        "Look at the unit of its column, mL or fl oz, and at pH before and after; mend the row, or empty its acid",
        severity="error" if mixed_up else "warning",
    )
    return True


def usual_response(readings: list[Response]) -> float:
    """The median: one odd reading does not move it."""
    return float(median(reading.slope for reading in readings))


def _use(register: Register, system: System) -> None:
    """Litres added over the days since the tank last stood at its mark."""
    rows = rows_of(register, system)
    if not rows:
        raise Withheld(f"no log of system {system.id}")
    w = Working(register, "water_use_logged", "Water a day, by the log", TOPIC, system=system.id)
    full = w.fact(system.reservoir, "fill_mark_height", "m")
    since, litres, days, count = None, 0.0, 0, 0
    for row in rows:
        added = w.fact(row, "added", "L") if row.added is not None else 0.0
        if added > 0 and since is not None and row.date > since:
            litres, days, count = litres + added, days + (row.date - since).days, count + 1
        if added > 0 or (row.level is not None and w.fact(row, "level", "m") >= full - 0.005):
            since = row.date
    if count < LEAST_TOPUPS:
        raise Withheld(f"the log of system {system.id} holds {count} top-ups; {LEAST_TOPUPS} are needed")
    w.add_line(f"{count} top-ups: {brief(litres)} L / {days} days = {brief(litres / days)} L/day")
    w.number(litres / days, "L/day", "up", "water use is rounded up", step=0.01)
