"""How many of a thing are in use on each day, from the stretches over which each use lasts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from macros.ground.problems import RangeProblem


@dataclass(frozen=True)
class Use:
    """`count` of a thing from the day `first` until the day before `free`, on which it may be used again."""

    first: date
    free: date
    count: int
    by: str = ""


@dataclass(frozen=True)
class Stretch:
    """Days from `first` to `last`, both included, with the same `needed` in use."""

    first: date
    last: date
    needed: int


def stretches(uses: Iterable[Use]) -> list[Stretch]:
    """What is in use, as stretches of days with one count, in the order of days; days without a use are left out.

    uses: counts [pieces] 0 or more, `free` on or after `first`. Raises RangeProblem outside these. Source: counting.
    """
    steps: Counter[date] = Counter()
    for use in uses:
        if use.count < 0 or use.free < use.first:
            raise RangeProblem("a use counts 0 or more and ends after it begins")
        steps[use.first] += use.count
        steps[use.free] -= use.count
    found: list[Stretch] = []
    needed, days = 0, [day for day in sorted(steps) if steps[day]]
    for day, following in pairwise(days):
        needed += steps[day]
        if needed:
            found.append(Stretch(day, following - timedelta(days=1), needed))
    return found


def overbooked(found: Iterable[Stretch], owned: int) -> list[Stretch]:
    """The runs of days on which more are needed than owned, each with its most needed.

    found: as `stretches` gives them; owned [pieces] 0 or more. Raises RangeProblem below 0. Source: counting.
    """
    if owned < 0:
        raise RangeProblem("nobody owns less than 0")
    runs: list[Stretch] = []
    for one in found:
        if one.needed <= owned:
            continue
        if runs and runs[-1].last + timedelta(days=1) == one.first:
            runs[-1] = Stretch(runs[-1].first, one.last, max(runs[-1].needed, one.needed))
        else:
            runs.append(one)
    return runs


__all__ = ["Stretch", "Use", "overbooked", "stretches"]
