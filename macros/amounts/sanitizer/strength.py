"""How strong each stock is as bought and at the end of its use, and until when it may be used.

Targets are reckoned with the weakest, ceilings with the strongest, so that no batch moves from day to day.
"""

from __future__ import annotations

import math
from datetime import date, timedelta

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.calculations.sanitizer import strength
from macros.house.records.chemicals import Chemical
from macros.published.safety.sanitizers import kind_of
from macros.published.safety.substances import substances_in

TOPIC = "Strength of stocks"
DAYS_PER_MONTH = 365.25 / 12
OPEN_FOR = 365
"""[days] An open stock that weakens is used up in, where nobody says until when: our own default."""


def fill(register: Register) -> None:
    """Enter the strengths of every chemical the house keeps."""
    for chemical in register.house.chemicals:
        keys = {"chemical": chemical.id}
        with register.attempt("stock_strength", chemical, "strength", "E05", **keys):
            _stock_strength(register, chemical)
        with register.attempt("stock_strength_now", chemical, "strength", **keys):
            _stock_strength_now(register, chemical)
        with register.attempt("stock_ok", chemical, "strength", **keys):
            _stock_ok(register, chemical)
        with register.attempt("discard_date", chemical, "expires", **keys):
            _discard_date(register, chemical)


def _stock_strength(register: Register, chemical: Chemical) -> None:
    w = Working(register, "stock_strength", "Strength as bought", TOPIC, chemical=chemical.id)
    label = w.strength(chemical, "strength")
    density = None if label.basis == "w/v" else _density(w, chemical, label.percent)
    grams = strength.stock_strength(label.percent, label.basis, density)
    if density is None:
        w.add_line(
            f"{brief(label.percent)} % w/v x 10 = {brief(grams)} g/L: w/v is told by volume and needs no density"
        )
    else:
        w.add_line(
            f"{brief(label.percent)} % {label.basis} x 10 x {brief(density)} g/mL = {brief(grams)} g/L"
        )
    w.source("g/L = % x 10 x density for w/w, % x 10 for w/v: definition")
    w.number(grams, "g/L", "nearest", "not rounded in calculations", step=0.01)


def _density(w: Working, chemical: Chemical, percent: float) -> float:
    """[g/mL] from the label; for peroxide without one, from the published curve."""
    if (
        chemical.density is None
        and substances_in(chemical.active) == ("hydrogen_peroxide",)
        and percent <= 50
    ):
        w.source("density of peroxide at 20 degC: Laliberte M., J. Chem. Eng. Data 54 (2009) 1725-1760")
        w.assume(f"{chemical.name}: the label gives no density, so the published one of its strength is used")
        return strength.peroxide_density(percent)
    return w.fact(chemical, "density", "g/mL")


def _stock_strength_now(register: Register, chemical: Chemical) -> None:
    w = Working(register, "stock_strength_now", "Strength at the end of its use", TOPIC, chemical=chemical.id)
    bought = w.amount("stock_strength", chemical=chemical.id)
    loss = _loss(w, chemical)
    if loss == 0:
        w.add_line(f"this stock does not weaken with age: {brief(bought)} g/L")
        w.number(bought, "g/L", "down", "the weaker side is the safe one for a target", step=0.01)
        return
    months = _months_open(w, chemical, loss)
    now = strength.strength_after(bought, loss, months)
    w.add_line(f"{brief(bought)} g/L x (1 - {brief(loss)})^{brief(months)} months = {brief(now)} g/L")
    w.number(now, "g/L", "down", "the weaker side is the safe one for a target", step=0.01)


def _stock_ok(register: Register, chemical: Chemical) -> None:
    """Whether the day of use lies before the end of the stock's use; the day itself is told nowhere."""
    w = Working(register, "stock_ok", "Stock still good", TOPIC, chemical=chemical.id)
    bought, now = (w.amount(id_, chemical=chemical.id) for id_ in ("stock_strength", "stock_strength_now"))
    last = end_of_use(w, chemical, _loss(w, chemical))
    w.add_line(f"{brief(now)} / {brief(bought)} = {brief(now / bought)} left at the end of its use")
    w.add_line(f"used until {last.isoformat()}" if last is not None else "no last day is given")
    w.flag(last is None or register.day <= last, "good to use", "NOT to be used")


def end_of_use(w: Working, chemical: Chemical, loss: float) -> date | None:
    """The last day a stock is used: of its label, or of the strength it is thrown away at; None for one that keeps.

    An open one that weakens, of which the house gives neither, is used for a year.
    """
    expires = w.day(chemical, "expires") if chemical.expires is not None else None
    if loss == 0 or chemical.opened is None:
        return expires
    opened, by_loss = w.day(chemical, "opened"), None
    if chemical.discard_below_fraction is not None:
        months = strength.months_until_fraction(w.fact(chemical, "discard_below_fraction"), loss)
        by_loss = opened + timedelta(days=math.floor(months * DAYS_PER_MONTH))
    elif expires is None:
        w.assume(
            f"{chemical.name} is used up within {OPEN_FOR} days of opening (our own default); write expires"
        )
        by_loss = opened + timedelta(days=OPEN_FOR)
    return min((day for day in (expires, by_loss) if day is not None), default=None)


def _discard_date(register: Register, chemical: Chemical) -> None:
    w = Working(register, "discard_date", "Discard by", TOPIC, chemical=chemical.id)
    expires = w.day(chemical, "expires")
    loss = _loss(w, chemical)
    by_loss = None
    if loss > 0 and chemical.discard_below_fraction is not None and chemical.opened is not None:
        least = w.fact(chemical, "discard_below_fraction")
        opened = w.day(chemical, "opened")
        months = strength.months_until_fraction(least, loss)
        by_loss = opened + timedelta(days=math.floor(months * DAYS_PER_MONTH))
        w.add_line(
            f"ln({brief(least)}) / ln(1 - {brief(loss)}) = {brief(months)} months after opening on "
            f"{opened.isoformat()}: {by_loss.isoformat()}"
        )
    w.add_line(f"label expiry {expires.isoformat()}")
    w.date(_earlier(expires, by_loss), "the earlier of label and loss")


def _earlier(one: date, other: date | None) -> date:
    return one if other is None else min(one, other)


def _loss(w: Working, chemical: Chemical) -> float:
    """Monthly loss after opening; only sanitizers lose strength, and the default is on the fast side."""
    if chemical.loss_per_month_after_opening is not None:
        return w.fact(chemical, "loss_per_month_after_opening")
    if chemical.role != "sanitizer":
        return 0.0
    kind = kind_of(chemical.active)
    if kind is None:
        raise Withheld(f"{chemical.active} is no kind of sanitizer that is known")
    loss = kind.loss_per_month
    w.assume(f"{chemical.name} loses {loss.value:.0%} a month once open ({loss.said})")
    return loss.value


def _months_open(w: Working, chemical: Chemical, loss: float) -> float:
    if chemical.opened is None:
        w.assume(f"{chemical.name}: not open yet; write opened on the day it is")
        return 0.0
    opened, last = w.day(chemical, "opened"), end_of_use(w, chemical, loss)
    assert last is not None, "an open stock that weakens has an end"
    w.add_line(f"open from {opened.isoformat()}, used until {last.isoformat()}: {(last - opened).days} days")
    return max(0.0, (last - opened).days / DAYS_PER_MONTH)
