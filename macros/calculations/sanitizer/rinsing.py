"""Rinses: water by area and by count, and fill-and-drain rinses until a residue is low enough."""

from __future__ import annotations

import math

from macros.ground.problems import RangeProblem


def rinse_count(start: float, allowed: float, rinse: float, held: float) -> int:
    """Fill-and-drain rinses of a loop.

    Parameters
    ----------
    start : [mg/L] strength before the first rinse
    allowed : [mg/L] residue allowed
    rinse : [L] water of one rinse; at least twice what is held
    held : [L] all that stays wet between rinses: heel, tubes, trays

    Returns
    -------
    Least count n with start x (held/(rinse + held))^n at most the residue allowed; well mixed is assumed.
    """
    if min(start, allowed, rinse, held) <= 0:
        raise RangeProblem("strength, residue, rinse and what is held must be above 0")
    if rinse < 2 * held:
        raise RangeProblem(
            f"a rinse of {rinse:g} L hardly thins the {held:.3g} L that stay wet; rinse with at least {2 * held:.3g} L, or mop "
            "the heel out"
        )
    if start <= allowed:
        return 1
    return max(1, math.ceil(math.log(start / allowed) / math.log((rinse + held) / held) - 1e-9))


def residue_after(count: int, start: float, rinse: float, held: float) -> float:
    """Residue after `count` rinses, in the unit of `start`; rinse and held [L]."""
    return float(start * (held / (rinse + held)) ** count)


def rinse_for_area(area: float, rate: float) -> float:
    """Water to rinse an area [L]: [m2] x [L/m2]."""
    return area * rate


def rinse_for_parts(count: int, each: float) -> float:
    """Water to rinse counted parts [L]: count x [L]."""
    return count * each
