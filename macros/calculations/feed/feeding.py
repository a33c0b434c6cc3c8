"""Feed doses and electrical conductivity. Volumes [L], rates [mL/L], conductivity [mS/cm]."""

from __future__ import annotations

from collections.abc import Iterable

from macros.ground.problems import RangeProblem

MOLAR_MASS_PHOSPHORUS = 30.974
"""[g/mol] IUPAC standard atomic weight, rounded."""


def dose_full(volume: float, rate: float, strength: float) -> float:
    """Stock of one part for a volume of water [mL].

    volume [L] above 0; rate [mL/L] 0 or more, as on the label for full strength; strength [1] of full, 0 to 1.5.
    Raises RangeProblem outside these. Source: arithmetic, checked by hand.
    """
    if volume <= 0:
        raise RangeProblem(f"a dose for {volume:g} L of water is asked; the volume must be above 0")
    if rate < 0 or not 0 <= strength <= 1.5:
        raise RangeProblem("a rate is 0 or more and a strength lies between 0 and 1.5")
    return volume * rate * strength


def ec_expected(water_ec: float, parts: Iterable[tuple[float, float]]) -> float:
    """EC after mixing [mS/cm]: the water's own plus what each part adds.

    water_ec [mS/cm] 0 or more; parts: rate [mL/L] and EC of a mL/L [mS/cm] of each. Raises nothing. Source: EC taken
    as a straight line of the dose, arithmetic, checked by hand.
    """
    return water_ec + sum(rate * each for rate, each in parts)


def ec_raise(read: float, target: float, full_feed: float) -> float:
    """Share of a full dose that lifts EC from `read` to `target` [1].

    read, target [mS/cm], the first not over the second; full_feed [mS/cm] that a full dose adds, above 0. Raises
    RangeProblem outside these. Source: arithmetic, checked by hand.
    """
    if full_feed <= 0:
        raise RangeProblem("a full dose must add EC; measure the EC of each part at 1 mL/L")
    if read > target:
        raise RangeProblem("the EC read is over the target already")
    return (target - read) / full_feed


def ec_dilute(volume: float, read: float, target: float, water_ec: float) -> float:
    """Water to add [L] so that a tank falls to the target.

    volume [L] at `read`; read, target [mS/cm], the first not under the second; water_ec [mS/cm] under the target.
    Raises RangeProblem outside these; the volume is not judged. Source: mass balance of dissolved salt, checked
    by hand.
    """
    _refuse_no_lowering(read, target, water_ec)
    return volume * (read - target) / (target - water_ec)


def ec_swap(volume: float, read: float, target: float, water_ec: float) -> float:
    """Solution to drain and replace by water [L] so that a tank falls to the target.

    volume [L] at `read`; read, target [mS/cm], the first not under the second; water_ec [mS/cm] under the target.
    Raises RangeProblem outside these; the volume is not judged. Source: mass balance of dissolved salt, checked
    by hand.
    """
    _refuse_no_lowering(read, target, water_ec)
    return volume * (read - target) / (read - water_ec)


def _refuse_no_lowering(read: float, target: float, water_ec: float) -> None:
    if water_ec >= target:
        raise RangeProblem(f"water of {water_ec:g} mS/cm cannot bring EC down to {target:g} mS/cm")
    if read < target:
        raise RangeProblem("the EC read is under the target already")


def heel_carryover(heel: float, fill: float) -> float:
    """Share of old solution in the new one [1].

    heel [L] 0 or more; fill [L] above 0. Raises RangeProblem outside these and for a share over 0.10. Source:
    arithmetic; the bound is common practice, no source.
    """
    if fill <= 0 or heel < 0:
        raise RangeProblem("the heel is 0 or more and the fill above 0")
    share = heel / fill
    if share > 0.10:
        raise RangeProblem(
            f"{heel:g} L stay in a tank of {fill:g} L: {share:.0%} old solution; at most 10 % may stay"
        )
    return share


def tap_fill_time(volume: float, flow: float) -> float:
    """Time to fill [min].

    volume [L] 0 or more; flow [L/min] above 0. Raises RangeProblem for no flow; the volume is not judged. Source:
    arithmetic, checked by hand.
    """
    if flow <= 0:
        raise RangeProblem("the flow at the tap must be above 0 L/min")
    return volume / flow


def phosphorus_added(acid_millimoles: float) -> float:
    """Phosphorus that phosphoric acid brings [mg/L]: one P a molecule.

    acid_millimoles [mmol/L] 0 or more. Raises nothing. Source: formula of the acid, molar mass by IUPAC.
    """
    return acid_millimoles * MOLAR_MASS_PHOSPHORUS
