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
    """Sets of a crop that is cut and done.

    Parameters
    ----------
    demand : a week, in the unit of the yield
    yield_per_plant : over its whole harvest
    window : days a set can be harvested over; the next set is sown this often
    stay : days from planting to the last harvest
    """
    if min(demand, yield_per_plant) <= 0 or min(window, stay) < 1:
        raise RangeProblem("demand, yield, harvest window and stay are above 0")
    per_set = math.ceil(demand * window / 7 / yield_per_plant - 1e-9)
    return Succession(window, math.ceil(stay / window - 1e-9), per_set)


def flower_succession(demand: float, per_plant_week: float, window: int, stay: int) -> Succession:
    """Sets of a crop that is picked week after week; `per_plant_week` flowers of one plant in a week."""
    if min(demand, per_plant_week) <= 0 or min(window, stay) < 1:
        raise RangeProblem("demand, yield, harvest window and stay are above 0")
    return Succession(window, math.ceil(stay / window - 1e-9), math.ceil(demand / per_plant_week - 1e-9))
