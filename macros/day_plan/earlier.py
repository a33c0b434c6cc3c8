"""An earlier start that ends the day on its own day: the flood of the timer it reaches, found by planning it."""

from __future__ import annotations

from collections.abc import Callable

from macros.amounts import Register
from macros.day_plan.limits import flood_starts
from macros.day_plan.schedule import PlannedDay, ready_for
from macros.day_plan.times import DAY
from macros.ground.problems import RangeProblem

EARLIER_BY_MOST = 60
"""A start so much earlier at most is proposed [min]."""
STEP = 5
"""Starts are told in steps of so many minutes."""
TRIES = 3
"""Starts planned; each costs a search."""


def earlier_day(day: PlannedDay, plan: Callable[[int], PlannedDay], register: Register) -> PlannedDay | None:
    """The day begun up to an hour earlier, which then ends before midnight; None where it does so as it is, or never.

    `plan` plans the day anew from a start [min from midnight].
    """
    timed, floods = day.work.timed, flood_starts(register, day.work.system)
    if timed is None or not floods or day.start + day.plan.finish < DAY:
        return None
    needed = ready_for(day.work, timed, day.people)
    earliest = max(0, day.start - EARLIER_BY_MOST)
    latest = min((floods[-1] - needed) // STEP * STEP, day.start - STEP)
    for start in range(latest, earliest - 1, -STEP * TRIES)[:TRIES]:
        try:
            found = plan(start)
        except RangeProblem:
            continue
        if start + found.plan.finish < DAY:
            return found
    return None
