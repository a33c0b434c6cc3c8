"""Strength of stocks: between bases, with age, and the density of peroxide."""

from __future__ import annotations

import math

from macros.ground.problems import RangeProblem


def stock_strength(percent: float, basis: str, density: float | None) -> float:
    """Mass of the active in a litre of stock [g/L]: % x 10 x density (w/w), % x 10 (w/v).

    percent [%] above 0, at most 100; basis: w/w, w/v or v/v, the last refused, for it needs the density of the pure
    liquid; density [g/mL] of the stock, for w/w, 0.8 to 1.9. Raises RangeProblem outside these. Source: definition of
    the bases.
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
    """Strength left after a time open [unit of `strength`].

    strength [g/L] or another unit; loss_per_month [1] 0, to under 1; months [month] 0 or more. Raises RangeProblem
    outside these; the strength is not judged. Source: a constant share lost a month, common practice, no source.
    """
    if not 0 <= loss_per_month < 1:
        raise RangeProblem(f"a loss of {loss_per_month:g} a month is outside 0 to 1")
    if months < 0:
        raise RangeProblem("the day of use lies before the day of opening")
    return float(strength * (1 - loss_per_month) ** months)


def months_until_fraction(fraction: float, loss_per_month: float) -> float:
    """Time until only a share of the strength is left [month].

    fraction, loss_per_month [1] above 0, under 1. Raises RangeProblem outside these. Source: `strength_after`,
    inverted.
    """
    if not 0 < fraction < 1 or not 0 < loss_per_month < 1:
        raise RangeProblem("the fraction left and the monthly loss lie between 0 and 1")
    return math.log(fraction) / math.log(1 - loss_per_month)


def percent_by_mass(strength: float, density: float) -> float:
    """A strength as % w/w [%].

    strength [g/L] 0 or more, not judged; density [g/mL] above 0. Raises RangeProblem for no density. Source:
    definition of w/w.
    """
    if density <= 0:
        raise RangeProblem(f"a density of {density:g} g/mL is not above 0")
    return strength / (10 * density)


def peroxide_density(percent: float) -> float:
    """Density of hydrogen peroxide in water at 20 degC [g/mL], within 0.3 % of published tables.

    percent [% w/w] 0 to 50. Raises RangeProblem outside that. Source: Laliberte M., J. Chem. Eng. Data 54 (2009)
    1725-1760, density coefficients; the cubic is a least-squares fit to 51 points of that model.
    """
    if not 0 <= percent <= 50:
        raise RangeProblem(f"the density of peroxide is known from 0 to 50 % w/w, not at {percent:g} %")
    w = percent
    return (998.204 + 3.67286 * w + 3.26622e-3 * w**2 + 4.75395e-5 * w**3) / 1000
