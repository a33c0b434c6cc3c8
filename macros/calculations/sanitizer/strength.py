"""Strength of stocks: between bases, with age, and the density of peroxide."""

from __future__ import annotations

import math

from macros.ground.problems import RangeProblem


def stock_strength(percent: float, basis: str, density: float | None) -> float:
    """Mass of the active in a litre of stock.

    Parameters
    ----------
    percent : [%] above 0, at most 100
    basis : w/w, w/v or v/v; v/v is refused, for it needs the density of the pure liquid
    density : [g/mL] of the stock, for w/w; 0.8 to 1.9

    Returns
    -------
    [g/L]

    Notes
    -----
    g/L = % x 10 x density (w/w), % x 10 (w/v): definition of the bases.
    """
    if not 0 < percent <= 100:
        raise RangeProblem(f"a strength of {percent:g} % is outside 0 to 100 %")
    if basis == "w/v":
        return percent * 10
    if basis == "v/v":
        raise RangeProblem(
            "a strength in v/v needs the density of the pure liquid; give w/w or w/v from the data sheet"
        )
    if density is None:
        raise RangeProblem(
            "a strength in w/w needs the density of the stock in g/mL from the label or data sheet"
        )
    if not 0.8 <= density <= 1.9:
        raise RangeProblem(f"a density of {density:g} g/mL is outside 0.8 to 1.9 g/mL")
    return percent * 10 * density


def strength_after(strength: float, loss_per_month: float, months: float) -> float:
    """Strength left after a time open [same unit as `strength`]; the loss is a share a month, 0 to below 1."""
    if not 0 <= loss_per_month < 1:
        raise RangeProblem(f"a loss of {loss_per_month:g} a month is outside 0 to 1")
    if months < 0:
        raise RangeProblem("the day of use lies before the day of opening")
    return float(strength * (1 - loss_per_month) ** months)


def months_until_fraction(fraction: float, loss_per_month: float) -> float:
    """Months until only `fraction` of the strength is left [month]; fraction and loss between 0 and 1."""
    if not 0 < fraction < 1 or not 0 < loss_per_month < 1:
        raise RangeProblem("the fraction left and the monthly loss lie between 0 and 1")
    return math.log(fraction) / math.log(1 - loss_per_month)


def percent_by_mass(strength: float, density: float) -> float:
    """Strength [g/L] at a density [g/mL] as % w/w."""
    if density <= 0:
        raise RangeProblem(f"a density of {density:g} g/mL is not above 0")
    return strength / (10 * density)


def peroxide_density(percent: float) -> float:
    """Density of hydrogen peroxide in water at 20 degC.

    Parameters
    ----------
    percent : [% w/w] 0 to 50

    Returns
    -------
    [g/mL], within 0.3 % of published tables

    Source
    ------
    Laliberte M., J. Chem. Eng. Data 54 (2009) 1725-1760, density coefficients; the cubic is a least-squares fit
    to 51 points of that model.
    """
    if not 0 <= percent <= 50:
        raise RangeProblem(f"the density of peroxide is known from 0 to 50 % w/w, not at {percent:g} %")
    w = percent
    return (998.204 + 3.67286 * w + 3.26622e-3 * w**2 + 4.75395e-5 * w**3) / 1000


ACTIVE_CHLORINE_PER_HYPOCHLORITE = 70.906 / 74.442
"""g active chlorine (as Cl2) that equal 1 g sodium hypochlorite: ratio of the molar masses."""
