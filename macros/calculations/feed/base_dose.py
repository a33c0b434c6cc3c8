"""Strong base that lifts the pH of a feed solution, closed to the air: the acid model run backwards.

Source: charge balance with ion pairs of calcium and magnesium (phreeqc.dat); checked within 5 % against PHREEQC
(`tests/reference/base.yml`).
"""

from __future__ import annotations

from functools import cache

from macros.calculations.feed.carbonate import Activity
from macros.calculations.feed.solution import Solutes, weak_acid_charge
from macros.ground.problems import RangeProblem


@cache
def base_needed(
    ph_from: float, ph_to: float, solutes: Solutes, temperature: float, ionic_strength: float
) -> float:
    """Strong base, such as potassium hydroxide, to lift pH [mmol/L].

    ph_from, ph_to [pH] 4.0 to 8.0, the second not below the first; solutes [mol/L] of the solution; temperature
    [degC] 1 to 40; ionic_strength [mol/L] 0 to 0.1. Raises RangeProblem outside these. Source: charge balance with
    ion pairs (phreeqc.dat), checked within 5 % against PHREEQC (`tests/reference/base.yml`).
    """
    if not 4.0 <= ph_from <= ph_to <= 8.0:
        raise RangeProblem(f"pH {ph_from:g} to {ph_to:g} is outside 4.0 to 8.0, where the base model holds")
    if not 1 <= temperature <= 40 or not 0 <= ionic_strength <= 0.1:
        raise RangeProblem("the base model holds from 1 to 40 degC and up to an ionic strength of 0.1 mol/L")
    activity = Activity(temperature, ionic_strength)
    return 1000 * (weak_acid_charge(ph_to, solutes, activity) - weak_acid_charge(ph_from, solutes, activity))
