"""Rinses: water by area and by count, and fill-and-drain rinses until a residue is low enough."""

from __future__ import annotations

import math

from macros.ground.problems import RangeProblem


def rinse_count(start: float, allowed: float, rinse: float, held: float) -> int:
    """Fill-and-drain rinses of a loop [rinses]: least n with start x (held/(rinse + held))^n at most the residue
    allowed.

    start [mg/L] before the first rinse, above 0; allowed [mg/L] residue, above 0; rinse [L] of one rinse, at least
    twice what is held; held [L] all that stays wet between rinses (heel, tubes, trays), above 0. Well mixed is
    assumed. Raises RangeProblem outside these. Source: serial dilution of a well-mixed volume, worked example of the
    owner (Q18).
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
    """Residue after some rinses [unit of `start`].

    count [rinses] 0 or more; start [mg/L] or another unit; rinse, held [L] above 0, not judged. Raises nothing.
    Source: serial dilution of a well-mixed volume.
    """
    return float(start * (held / (rinse + held)) ** count)


def rinse_for_area(area: float, rate: float) -> float:
    """Water to rinse an area [L].

    area [m2], rate [L/m2] 0 or more, not judged. Raises nothing. Source: arithmetic.
    """
    return area * rate


def rinse_for_parts(count: int, each: float) -> float:
    """Water to rinse counted parts [L].

    count [parts], each [L] 0 or more, not judged. Raises nothing. Source: arithmetic.
    """
    return count * each
