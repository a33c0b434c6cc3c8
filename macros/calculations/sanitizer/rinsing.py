"""Rinses: water by area and by count, and fill-and-drain rinses until a residue is low enough."""

from __future__ import annotations

import math

from macros.calculations.rounding import in_figures
from macros.calculations.water.mixing import mixed
from macros.ground.problems import RangeProblem


def rinse_count(start: float, allowed: float, rinse: float, held: float) -> int:
    """Fill-and-drain rinses of a loop [rinses]: least n with start x (held/(rinse + held))^n at most the residue
    allowed.

    start [mg/L] before the first rinse, above 0; allowed [mg/L] residue, above 0; rinse [L] of one rinse, at least
    twice what is held; held [L] all that stays wet between rinses (heel, tubes, trays), above 0. Well mixed is
    assumed. Raises RangeProblem outside these. Source: serial dilution of a well-mixed volume, checked by hand.
    """
    if min(start, allowed, rinse, held) <= 0:
        raise RangeProblem("strength, residue, rinse and what is held must be above 0")
    if rinse < 2 * held:
        raise RangeProblem(
            f"a rinse of {rinse:g} L hardly thins the {held:.3g} L that stay wet; rinse with at least {in_figures(2 * held, 3, 'up')} L, or mop "
            "out what stays"
        )
    if start <= allowed:
        return 1
    return max(1, math.ceil(math.log(start / allowed) / math.log((rinse + held) / held) - 1e-9))


def rinse_count_sprayed(sprayed: float, strength: float, allowed: float, rinse: float, held: float) -> int:
    """Rinses of faces that were sprayed [rinses]: least n after which the last drops hold at most the residue allowed.

    sprayed [L] and strength [mg/L] of what was sprayed, all of it taken as still there, above 0; allowed [mg/L] residue,
    above 0; rinse [L] of one rinse, at least twice what is held; held [L] all that stays wet between rinses, above 0. The
    first rinse mixes with the spray, each later one with what is held. Raises RangeProblem outside these. Source: serial
    dilution of a well-mixed volume.
    """
    first = mixed(sprayed, strength, rinse, 0.0)
    more = rinse_count(first, allowed, rinse, held)
    return 1 if first <= allowed else 1 + more


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
