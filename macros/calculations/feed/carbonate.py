"""Carbonate and acid-base equilibria with activities: the ground of acid and base doses.

pH is -log10 of the activity of H+. Concentrations are [mol/L] inside this module; a litre is taken as a
kilogram of water (0.3 % apart). Constants and their sources stand in `published/chemistry.yml`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from macros.ground.problems import RangeProblem
from macros.published.amounts.chemistry import Acid, chemistry

MG_CACO3_PER_MEQ = 50.043
"""[mg/meq] half the molar mass of CaCO3 (100.087 g/mol)."""

_GAS_CONSTANT = 8.31446
_KELVIN = 273.15


@dataclass(frozen=True)
class Activity:
    """Activity coefficients at one temperature and ionic strength, by the Davies equation."""

    temperature: float
    ionic_strength: float

    def gamma(self, charge: int) -> float:
        """Coefficient of an ion: log10 = -A z^2 (sqrt(I)/(1 + sqrt(I)) - 0.3 I)."""
        root = math.sqrt(self.ionic_strength)
        exponent = -_davies_a(self.temperature) * charge**2 * (root / (1 + root) - 0.3 * self.ionic_strength)
        return float(10**exponent)


@cache
def equilibrium_constant(name: str, temperature: float) -> float:
    """K1, K2 or Kw of water and carbonic acid [mol/L, activities].

    name: K1, K2 or Kw; temperature [degC] 0 to 90, not judged. Raises nothing. Source: Plummer and Busenberg 1982, as
    `chemistry.yml` says.
    """
    a, b, c, d, e = getattr(chemistry().carbonate, name)
    t = temperature + _KELVIN
    return float(10 ** (a + b * t + c / t + d * math.log10(t) + e / t**2))


@cache
def dissociation_constants(acid: str, temperature: float) -> tuple[float, ...]:
    """Constants of an acid [mol/L, activities], first dissociation first, by van 't Hoff from 25 degC.

    acid: a name of `chemistry.yml`; temperature [degC] 0 to 90, not judged. Raises nothing. Source: constants and
    enthalpies of `chemistry.yml`.
    """
    known: Acid = getattr(chemistry().acids, acid)
    shift = 1 / (temperature + _KELVIN) - 1 / (25 + _KELVIN)
    return tuple(
        10 ** (-pk - enthalpy / (math.log(10) * _GAS_CONSTANT) * shift)
        for pk, enthalpy in zip(known.pk, known.enthalpy, strict=True)
    )


def mean_charge(acid: str, ph: float, activity: Activity) -> float:
    """Equivalents of H+ that a mole of the acid has given off at a pH [eq/mol].

    acid: a name of `chemistry.yml`; ph [pH] any; activity: of the water. Raises nothing. Source: mass action with the
    constants of `chemistry.yml`.
    """
    return sum(share * charge for charge, share in enumerate(species_shares(acid, ph, activity)))


def species_shares(acid: str, ph: float, activity: Activity) -> tuple[float, ...]:
    """Shares of the acid's species [1], the uncharged one first.

    acid: a name of `chemistry.yml`; ph [pH] any; activity: of the water. Raises nothing. Source: mass action with the
    constants of `chemistry.yml`.
    """
    h = 10**-ph
    weights = [1.0]
    for charge, constant in enumerate(dissociation_constants(acid, activity.temperature), start=1):
        ratio = constant * activity.gamma(charge - 1) / (h * activity.gamma(charge))
        weights.append(weights[-1] * ratio)
    total = sum(weights)
    return tuple(weight / total for weight in weights)


def carbonate_shares(ph: float, activity: Activity) -> tuple[float, float, float]:
    """Shares of dissolved carbon dioxide, bicarbonate and carbonate in the inorganic carbon [1].

    ph [pH] any; activity: of the water. Raises nothing. Source: mass action with the constants of `chemistry.yml`.
    """
    h, one, two = 10**-ph, activity.gamma(1), activity.gamma(2)
    bicarbonate = equilibrium_constant("K1", activity.temperature) / (h * one)
    carbonate = bicarbonate * equilibrium_constant("K2", activity.temperature) * one / (h * two)
    total = 1 + bicarbonate + carbonate
    return 1 / total, bicarbonate / total, carbonate / total


def water_term(ph: float, activity: Activity) -> float:
    """Hydroxide less hydrogen ion [mol/L].

    ph [pH] any; activity: of the water. Raises nothing. Source: mass action with Kw of `chemistry.yml`.
    """
    one = activity.gamma(1)
    h = 10**-ph
    return (equilibrium_constant("Kw", activity.temperature) / h - h) / one


def inorganic_carbon(alkalinity: float, ph: float, activity: Activity) -> float:
    """Dissolved inorganic carbon [mol/L] of a water of known alkalinity and pH.

    alkalinity [mol/L] above 0; ph [pH] of the water; activity: of the water. Raises RangeProblem where the two do not
    go together. Source: charge balance with the constants of `chemistry.yml`.
    """
    _, bicarbonate, carbonate = carbonate_shares(ph, activity)
    carbon = (alkalinity - water_term(ph, activity)) / (bicarbonate + 2 * carbonate)
    if carbon <= 0:
        raise RangeProblem(
            f"a pH of {ph:g} does not go with an alkalinity of {alkalinity * 1000 * MG_CACO3_PER_MEQ:g} mg/L as CaCO3"
        )
    return carbon


@cache
def _davies_a(temperature: float) -> float:
    davies = chemistry().davies
    return davies.at_25 + davies.per_degree * (temperature - 25)
