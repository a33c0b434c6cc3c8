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
        with register.attempt("water_use_logged", system.reservoir, "fill_mark_height", system=system.id):
            _use(register, system)


def rows_of(register: Register, system: System) -> list[LogRow]:
    """The rows of a system up to the day of use, oldest first."""
    own = [row for row in register.house.log if row.system == system.id and row.date <= register.day]
    return sorted(own, key=lambda row: row.date)


def responses(w: Working, system: System, chemical: str) -> list[Response]:
    """The last readings of acid against pH, none where they are too few; each row used is an input."""
    found = [
        row
        for row in rows_of(w.register, system)
        if row.acid_chemical == chemical and None not in (row.acid, row.ph, row.ph_after)
    ]
    if len(found) < LEAST_READINGS:
        return []
    shape = shape_of(system.reservoir, w)
    readings = []
    for row in found[-LAST_READINGS:]:
        acid, before, after = w.fact(row, "acid", "mL"), w.fact(row, "ph"), w.fact(row, "ph_after")
        level = (
            w.fact(row, "level", "m")
            if row.level is not None
            else w.fact(system.reservoir, "fill_mark_height", "m")
        )
        litres = volumes.volume_to_height(shape, level)
        readings.append(Response(row, acid / litres / (before - after)))
    return readings


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
