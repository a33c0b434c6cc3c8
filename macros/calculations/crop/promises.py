"""Orders and days: what a stretch of harvest gives in a week, and when seed must be in the plug for a day."""

from __future__ import annotations

import math
from datetime import date, timedelta

from macros.calculations.crop.sowing import WEEKDAYS
from macros.ground.problems import RangeProblem


def days_within(one: tuple[date, date], other: tuple[date, date]) -> int:
    """Days two stretches share, first and last days included [days]; 0 where they do not meet.

    one, other: first and last day. A stretch that ends before it begins has no day. Raises nothing. Source:
    counting.
    """
    first, last = max(one[0], other[0]), min(one[1], other[1])
    return max(0, (last - first).days + 1)


def plants_for(wanted: float, each_week: float, days: int, promised: float) -> int:
    """Plants that give an order from the picks of its last days [plants].

    wanted [pieces or g] above 0; each_week [pieces or g a week] of one plant, above 0; days [days] of picking that
    count, 1 to 7; promised [1] the share of a harvest that may be promised, above 0 to 1. Raises RangeProblem outside
    these. Source: arithmetic.
    """
    if wanted <= 0 or each_week <= 0 or not 1 <= days <= 7 or not 0 < promised <= 1:
        raise RangeProblem(
            "an order and a yield are above 0, picked over 1 to 7 days, a share of it promised"
        )
    return math.ceil(wanted / (each_week * days / 7 * promised) - 1e-9)


def sow_by(wanted_on: date, first: int, held_back: int, days: int, weekday: str) -> date:
    """The last sowing day for an order: by then the first of its picks is due.

    wanted_on: the day; first [days] from sowing to the first harvest, held_back [days] the promise is later than
    that, 0 or more; days [days] of picking that count, 1 or more; weekday: one of `WEEKDAYS`. Raises RangeProblem
    outside these. Source: arithmetic of dates.
    """
    if first < 0 or held_back < 0 or days < 1 or weekday not in WEEKDAYS:
        raise RangeProblem("days are 0 or more, and a weekday has a name")
    latest = wanted_on - timedelta(days=first + held_back + days - 1)
    return latest - timedelta(days=(latest.weekday() - WEEKDAYS.index(weekday)) % 7)
