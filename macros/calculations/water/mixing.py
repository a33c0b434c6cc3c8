"""What mixes keeps its mass: the concentration of two waters poured together, and of what stays when it is thinned again."""

from __future__ import annotations

from macros.ground.problems import RangeProblem


def mixed(
    first_volume: float, first_concentration: float, second_volume: float, second_concentration: float
) -> float:
    """Concentration of two waters poured together [unit of the concentrations].

    first_volume, second_volume [L] 0 or more, one of them above 0; first_concentration, second_concentration [mg/L]
    or another unit a litre, both in the same, 0 or more. Well mixed, no change of volume. Raises RangeProblem outside
    these. Source: mass balance; for pure water as the second, C1 V1 = C2 V2.
    """
    if min(first_volume, first_concentration, second_volume, second_concentration) < 0:
        raise RangeProblem("what is mixed has volumes and concentrations of 0 or more")
    together = first_volume + second_volume
    if together <= 0:
        raise RangeProblem("two waters without a volume cannot be mixed")
    return (first_volume * first_concentration + second_volume * second_concentration) / together


def thinned(concentration: float, held: float, added: float, times: int) -> float:
    """Concentration after pure water was added and drained some times, what is held staying behind each time
    [unit of `concentration`].

    concentration [mg/L] or another unit a litre, 0 or more; held [L] what stays wet, 0 or more; added [L] of each
    water, 0 or more, one of the two above 0; times [times] 0 or more. Raises RangeProblem outside these. Source:
    serial dilution of a well-mixed volume: `mixed` again and again.
    """
    if times < 0:
        raise RangeProblem(f"{times} times is under 0")
    return float(concentration * mixed(held, 1.0, added, 0.0) ** times)
