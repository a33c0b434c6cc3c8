"""Acid that brings water from one pH to another, closed to the air.

Model: the inorganic carbon of the water stays in it while acid is added; equivalents needed are the alkalinity
less what is left of it at the target; a mole of acid gives as many as its mean charge at the target. Activities
by Davies, ionic strength from the water and the acid, iterated; calcium, where known, binds part of the
bicarbonate and phosphate.

Source: closed-carbonate model; checked within 2 % against PHREEQC titrations (`tests/reference/titrations.yml`).
"""

from __future__ import annotations

from functools import cache

from macros.calculations.feed.carbonate import MG_CACO3_PER_MEQ, Activity, carbonate_shares, mean_charge
from macros.calculations.feed.solution import Solutes, weak_acid_charge
from macros.ground.problems import RangeProblem

ACIDS = ("phosphoric", "nitric", "sulfuric", "citric")
MOLAR_MASS = {"phosphoric": 97.994, "nitric": 63.012, "sulfuric": 98.072, "citric": 192.123}
"""[g/mol] from the standard atomic weights; citric acid without crystal water."""

MG_CALCIUM_PER_MMOL = 40.078
_CHARGE_OF_ANION = {"phosphoric": 1, "nitric": 1, "sulfuric": 2, "citric": 2}


@cache  # systems of one house share their water: each is titrated once
def acid_needed(
    alkalinity: float, ph_start: float, ph_target: float, temperature: float, acid: str, calcium: float = 0.0
) -> float:
    """Acid to bring water to a lower pH [mmol/L].

    alkalinity [mg/L as CaCO3] 5 to 500; ph_start [pH] 5.0 to 9.5; ph_target [pH] 5.0 to `ph_start`; temperature
    [degC] of the water when mixing, 1 to 40; acid: one of `ACIDS`; calcium [mg/L] of the water, 0 to 400, lowers the
    dose by up to 3 %. Raises RangeProblem outside these (calcium is not judged) and where pH and alkalinity do not go
    together. Source: closed-carbonate model, checked within 2 % against PHREEQC (`tests/reference/titrations.yml`).
    """
    _refuse(alkalinity, ph_start, ph_target, temperature, acid)
    water = _Water(alkalinity, ph_start, temperature, calcium)
    low, high = 0.0, 2 * water.alkalinity
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (low, middle) if water.left_over(ph_target, middle, acid) < 0 else (middle, high)
    return (low + high) / 2 * 1000


def equivalents_per_mole(acid: str, ph: float, temperature: float, ionic_strength: float = 0.002) -> float:
    """Equivalents of H+ that a mole of acid gives at a pH [eq/mol].

    acid: one of `ACIDS`; ph [pH] of the water; temperature [degC] 0 to 90; ionic_strength [mol/L] 0 to 0.1. Raises
    RangeProblem for another acid; the rest is not judged. Source: as `mean_charge`.
    """
    if acid not in ACIDS:
        raise RangeProblem(f"{acid} is not an acid of the model; it knows {', '.join(ACIDS)}")
    return mean_charge(acid, ph, Activity(temperature, ionic_strength))


@cache
def ph_after_acid(
    alkalinity: float, ph_start: float, acid_added: float, temperature: float, acid: str, calcium: float = 0.0
) -> float:
    """pH of closed water after a dose of acid [pH]: the inverse of `acid_needed`; 3.0 at the least.

    acid_added [mmol/L] 0 or more; alkalinity [mg/L as CaCO3], ph_start [pH], temperature [degC], acid and calcium
    [mg/L] as there. Raises RangeProblem as that does. Source: as `acid_needed`.
    """
    _refuse(alkalinity, ph_start, ph_start, temperature, acid)
    water = _Water(alkalinity, ph_start, temperature, calcium)
    low, high = 3.0, ph_start
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (low, middle) if water.left_over(middle, acid_added / 1000, acid) < 0 else (middle, high)
    return (low + high) / 2


class _Water:
    """One water: its alkalinity [mol/L] and the inorganic carbon that goes with its pH."""

    def __init__(self, alkalinity: float, ph: float, temperature: float, calcium: float) -> None:
        self.alkalinity = alkalinity / MG_CACO3_PER_MEQ / 1000
        self.temperature = temperature
        # Calcium beyond the alkalinity has another counter-ion; its share of ionic strength is left out.
        self.calcium = min(calcium / MG_CALCIUM_PER_MMOL / 1000, self.alkalinity / 2)
        activity = Activity(temperature, self._ionic_strength(0.0, 1))
        low, high = 0.0, 20 * self.alkalinity
        for _ in range(60):
            middle = (low + high) / 2
            found = weak_acid_charge(ph, Solutes(carbon=middle, calcium=self.calcium), activity)
            low, high = (middle, high) if found < self.alkalinity else (low, middle)
        self.carbon = (low + high) / 2
        dissolved = carbonate_shares(ph, activity)[0]
        if high > 19 * self.alkalinity:
            raise RangeProblem(
                f"a pH of {ph:g} does not go with an alkalinity of {alkalinity:g} mg/L as CaCO3: {dissolved:.0%} of "
                "the carbon would be carbon dioxide"
            )

    def left_over(self, ph: float, dose: float, acid: str) -> float:
        """Alkalinity that this dose [mol/L] leaves unspent at a pH [mol/L]; 0 where the dose just reaches it."""
        activity = Activity(self.temperature, self._ionic_strength(dose, _CHARGE_OF_ANION[acid]))
        phosphate = dose if acid == "phosphoric" else 0.0
        held = weak_acid_charge(ph, Solutes(self.carbon, phosphate, 0.0, self.calcium), activity)
        if acid != "phosphoric":
            held += dose * mean_charge(acid, ph, activity)
        return self.alkalinity - held

    def _ionic_strength(self, dose: float, charge: int) -> float:
        """[mol/L] of a bicarbonate water in which part of the bicarbonate has become the acid's anion."""
        replaced = min(dose * charge, self.alkalinity)
        cations = self.alkalinity + 2 * self.calcium  # 2+ counts four times for half as many ions
        return (cations + (self.alkalinity - replaced) + dose * charge**2) / 2


def _refuse(alkalinity: float, ph_start: float, ph_target: float, temperature: float, acid: str) -> None:
    if acid not in ACIDS:
        raise RangeProblem(f"{acid} is not an acid of the model; it knows {', '.join(ACIDS)}")
    if not 5 <= alkalinity <= 500:
        raise RangeProblem(
            f"an alkalinity of {alkalinity:g} mg/L as CaCO3 is outside 5 to 500, where the acid model holds"
        )
    if not 5.0 <= ph_start <= 9.5:
        raise RangeProblem(f"a starting pH of {ph_start:g} is outside 5.0 to 9.5, where the acid model holds")
    if not 5.0 <= ph_target <= ph_start:
        raise RangeProblem(f"a target pH of {ph_target:g} is outside 5.0 to the starting pH of {ph_start:g}")
    if not 1 <= temperature <= 40:
        raise RangeProblem(f"a water temperature of {temperature:g} degC is outside 1 to 40 degC")
