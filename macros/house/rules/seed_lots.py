"""Rules on seed lots: a share that came up is that of whole seeds."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.house.records.house import House
from macros.house.rules.report import problem_at

AS_WRITTEN = 0.0051
"""How far a share may lie from that of whole seeds: it is written with two decimals."""


def check_seed_lots(house: House) -> Iterator[Problem]:
    """A share no whole number of the seeds laid out comes to."""
    for lot in house.seed_lots:
        if not lot.seeds_tested or lot.germination is None:
            continue
        came_up = round(lot.germination * lot.seeds_tested)
        if abs(came_up / lot.seeds_tested - lot.germination) > AS_WRITTEN:
            what = f"{lot.germination:g} of {lot.seeds_tested} seeds is no whole number of seeds"
            allowed = f"{came_up} of {lot.seeds_tested} is {came_up / lot.seeds_tested:.2f}"
            yield problem_at(lot, "germination", what, allowed, "Count again, or mend seeds_tested")
