"""When the plan of a day begins each step."""

from __future__ import annotations

import math

from macros.day_plan.rows import done
from macros.day_plan.schedule import PlannedDay


def step_times(day: PlannedDay) -> dict[str, str]:
    """`SOP-05-A/lower` -> the clock time it begins, the first time it is done; rounded down to the minute."""
    found: dict[str, str] = {}
    for one in done(day):
        minute = float(one.start + one.activity.extra)
        for step in one.activity.steps:
            found.setdefault(f"{one.activity.page.key}/{step.id}", day.clock(math.floor(minute)))
            minute += step.minutes
    return found
