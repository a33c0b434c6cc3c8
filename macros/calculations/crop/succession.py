"""Steady harvest: sets of plants that follow one another, and what a set gives."""

from __future__ import annotations

import math
from dataclasses import dataclass

from macros.ground.problems import RangeProblem


@dataclass(frozen=True)
class Succession:
    """Sow `per_set` plants every `every_days`; `sets` stand on the rack at once."""

    every_days: int
    sets: int
    per_set: int

    @property
    def sites(self) -> int:
        """Places all sets take together."""
        return self.sets * self.per_set


def leaf_succession(demand: float, yield_per_plant: float, window: int, stay: int) -> Succession:
    """Sets of a crop that is cut and done; the next set is sown every `window` days.

    demand [g/week], yield_per_plant [g] over its whole harvest, above 0; window [days] a set can be harvested over,
    stay [days] from planting to the last harvest, 1 or more. Raises RangeProblem outside these. Source: arithmetic;
    arithmetic, checked by hand.
    """
    if min(demand, yield_per_plant) <= 0 or min(window, stay) < 1:
        raise RangeProblem("demand, yield, harvest window and stay are above 0")
    per_set = math.ceil(demand * window / 7 / yield_per_plant - 1e-9)
    return Succession(window, math.ceil(stay / window - 1e-9), per_set)


def flower_succession(demand: float, per_plant_week: float, window: int, stay: int) -> Succession:
    """Sets of a crop that is picked week after week.

    demand [flowers/week], per_plant_week [flowers/week] of one plant, above 0; window, stay [days] 1 or more, as for
    `leaf_succession`. Raises RangeProblem outside these. Source: arithmetic.
    """
    if min(demand, per_plant_week) <= 0 or min(window, stay) < 1:
        raise RangeProblem("demand, yield, harvest window and stay are above 0")
    return Succession(window, math.ceil(stay / window - 1e-9), math.ceil(demand / per_plant_week - 1e-9))
