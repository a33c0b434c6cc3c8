"""How fast a reading drifts between one visit to the tank and the next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from macros.ground.problems import RangeProblem


@dataclass(frozen=True)
class Visit:
    """A reading as found, and as it was left: the same, unless something was added."""

    day: date
    found: float
    left: float


def drift(visits: Sequence[Visit]) -> tuple[float, int]:
    """What the reading moved by itself over all the visits, and the days between the first and the last [days].

    What a dose did is left out: each visit counts from what the one before left. visits: 2 or more in the order of
    their days, over 1 day at least. Raises RangeProblem outside these. Source: arithmetic.
    """
    days = (visits[-1].day - visits[0].day).days if visits else 0
    if len(visits) < 2 or days < 1:
        raise RangeProblem("a drift needs readings of two days")
    moved = sum(later.found - earlier.left for earlier, later in pairwise(visits))
    return moved, days
