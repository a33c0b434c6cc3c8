"""Negative charge on the weak acids of a solution at a pH, ion pairs with calcium and magnesium included.

The change of this charge between two pH values is the strong acid or base that the change takes. All
concentrations are [mol/L].
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from macros.calculations.feed.carbonate import Activity, carbonate_shares, species_shares, water_term
from macros.published.amounts.chemistry import chemistry


@dataclass(frozen=True)
class Solutes:
    """What is dissolved [mol/L]; counter-ions that neither bind nor buffer are left out."""

    carbon: float = 0.0
    phosphate: float = 0.0
    sulfate: float = 0.0
    calcium: float = 0.0
    magnesium: float = 0.0


def weak_acid_charge(ph: float, solutes: Solutes, activity: Activity) -> float:
    """Charge on carbonate and phosphate species, paired ones included, plus hydroxide less H+ [eq/L].

    ph [pH] any; solutes [mol/L] of the solution; activity: of the solution. Raises nothing. Source: mass action with
    the constants and pairs of `chemistry.yml`.
    """
    _, bicarbonate, carbonate = carbonate_shares(ph, activity)
    phosphate = species_shares("phosphoric", ph, activity)
    bound = _bound(solutes, bicarbonate, phosphate, activity)
    c_free = solutes.carbon / (1 + bicarbonate * bound["HCO3"])
    p_free = solutes.phosphate / (1 + phosphate[1] * bound["H2PO4"] + phosphate[2] * bound["HPO4"])
    on_carbon = c_free * (bicarbonate * (1 + bound["HCO3"]) + 2 * carbonate)
    on_phosphate = p_free * (
        phosphate[1] * (1 + bound["H2PO4"]) + 2 * phosphate[2] * (1 + bound["HPO4"]) + 3 * phosphate[3]
    )
    return on_carbon + on_phosphate + water_term(ph, activity)


def _bound(
    solutes: Solutes, bicarbonate: float, phosphate: tuple[float, ...], activity: Activity
) -> dict[str, float]:
    """For each ion, paired over free: totals are shared in turn until the free metals stand still."""
    totals = {
        metal: total for metal, total in (("Ca", solutes.calcium), ("Mg", solutes.magnesium)) if total > 0
    }
    constants = {(metal, ion): _pair(metal, ion, activity) for metal in totals for ion in _CHARGE}
    free = dict(totals)
    while True:
        bound = {
            ion: sum(constants[metal, ion] * amount for metal, amount in free.items()) for ion in _CHARGE
        }
        p_free = solutes.phosphate / (1 + phosphate[1] * bound["H2PO4"] + phosphate[2] * bound["HPO4"])
        ions = {
            "HCO3": bicarbonate * solutes.carbon / (1 + bicarbonate * bound["HCO3"]),
            "H2PO4": phosphate[1] * p_free,
            "HPO4": phosphate[2] * p_free,
            "SO4": solutes.sulfate / (1 + bound["SO4"]),
        }
        new = {
            metal: total / (1 + sum(constants[metal, ion] * amount for ion, amount in ions.items()))
            for metal, total in totals.items()
        }
        if all(abs(new[metal] - free[metal]) <= 1e-10 * totals[metal] for metal in totals):
            return bound
        free = new


_CHARGE = {"HCO3": 1, "H2PO4": 1, "HPO4": 2, "SO4": 2}


def _pair(metal: str, ion: str, activity: Activity) -> float:
    """Association constant in concentrations [L/mol]."""
    charge = _CHARGE[ion]
    activities = activity.gamma(2) * activity.gamma(charge) / activity.gamma(2 - charge)
    return _association(metal + ion) * activities


@cache
def _association(name: str) -> float:
    return float(10 ** getattr(chemistry().pairs, name))
