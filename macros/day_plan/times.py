"""The waits of pages in whole minutes for a day's plan; and minutes as clock times."""

from __future__ import annotations

import re

from macros.ground.problems import Problem
from macros.page_model.clock_times import whole_minutes
from macros.page_model.page import StepTiming, WaitView
from macros.published.labour import jobs

DAY = 24 * 60


def wait_of(name: str, wait: WaitView, timing: StepTiming) -> tuple[int, int | None] | Problem:
    """Least [min, rounded up] and greatest [min, rounded down; None no limit] of the wait of a step `SOP-05/lower`, or why it is none."""
    exact, most = wait.least_minutes, wait.greatest_minutes
    meant = jobs.rules().waits.get(name)
    if meant is not None:
        exact, most = meant.least.to("min"), meant.greatest.to("min") if meant.greatest else None
    elif exact is None and wait.least:
        return _no_time(timing, "least", wait.least)
    elif most is None and wait.greatest:
        return _no_time(timing, "greatest", wait.greatest)
    least = whole_minutes(exact or 0.0, up=True)
    greatest = None if most is None else whole_minutes(most, up=False)
    if greatest is not None and greatest < least:
        return Problem(
            timing.place,
            f"steps[{timing.step}].wait",
            f"it lasts at least {least} min and at most {greatest} min",
            "The least may not be over the greatest",
            "Mend one of the two, or the fact it comes from",
        )
    return least, greatest


def _no_time(timing: StepTiming, field: str, text: str) -> Problem:
    return Problem(
        timing.place,
        f"steps[{timing.step}].wait.{field}",
        f'"{text}" cannot be read as a time',
        "A day's plan needs one plain time, as 15 min or 2 h",
        "Write it so, or say under rules.waits of macros/published/labour/jobs.yml what it means in one day",
    )


def clock(start: int, minutes: int) -> str:
    """The clock `minutes` after a start given in minutes from midnight; past midnight it says which day."""
    days, inside = divmod(start + minutes, DAY)
    text = f"{inside // 60:02d}:{inside % 60:02d}"
    return text if days == 0 else f"{text} next day" if days == 1 else f"{text} on day {days + 1}"


def from_midnight(text: str) -> int:
    """`08:30` as minutes. Raises ValueError with a whole sentence for anything else."""
    typed = re.fullmatch(r"([01]\d|2[0-3]):([0-5]\d)", text, re.ASCII)
    if typed:
        return int(typed[1]) * 60 + int(typed[2])
    raise ValueError(f'"{text}" is not a clock time. Write hours and minutes on the 24 h clock, as 08:30.')


def length(minutes: int) -> str:
    """`45 min`, `1 h 05 min`, `2 h`: a stretch of time for reading."""
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d} min" if rest else f"{hours} h"
