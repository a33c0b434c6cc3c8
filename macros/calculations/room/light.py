"""Light over a day."""

from __future__ import annotations

from macros.ground.problems import RangeProblem

SECONDS_PER_HOUR_IN_MOL = 3600 / 1e6


def daily_light_integral(ppfd: float, hours: float) -> float:
    """DLI of a steady lamp [mol/m2/day].

    ppfd [umol/m2/s] 0 or more; hours [h/day] 0 to 24. Raises RangeProblem outside these. Source: definition; Torres
    and Lopez, Purdue Extension HO-238-W.
    """
    if not 0 <= hours <= 24:
        raise RangeProblem(f"{hours:g} h of light do not fit in a day")
    if ppfd < 0:
        raise RangeProblem("light is not negative")
    return ppfd * hours * SECONDS_PER_HOUR_IN_MOL


def hours_for(target: float, ppfd: float) -> float:
    """Hours a day that give a target DLI [h/day]; over 24 no day is long enough.

    target [mol/m2/day] above 0; ppfd [umol/m2/s] above 0. Raises RangeProblem outside these. Source: definition of
    the daily light integral, inverted.
    """
    if ppfd <= 0 or target <= 0:
        raise RangeProblem("light and its target are above 0")
    return target / (ppfd * SECONDS_PER_HOUR_IN_MOL)
