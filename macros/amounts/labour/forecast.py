"""When each stock is to be ordered in the next six months, with what runs short before it can come (W13)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

from macros.amounts.engine.number_format import brief, house_unit, in_house_unit, with_unit
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.labour.stock_use import part_use, takes_of
from macros.calculations.labour.stock import Order, orders
from macros.calculations.rounding import round_to
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import NutrientPart

TOPIC = "Supplies"
DAYS = 183
"""Six months, counted from the day the manual is built for."""
STEP = 0.1


@dataclass(frozen=True)
class Shelf:
    """What is held of a stock: containers, the size of one [mL or g], the last day it may be used, and L or kg."""

    count: int | None
    size: float
    good_until: date | None
    unit: str


def fill(register: Register) -> None:
    """Enter the forecast of every stock whose use is known."""
    house = register.house
    if house.supplies is None:
        return
    for part in house.nutrients.parts_in_order():
        with register.attempt("stock_forecast", house.supplies, "lead_time", part=part.id):
            w = Working(register, "stock_forecast", f"Six months of {part.name}", TOPIC, part=part.id)
            daily = sum(part_use(w, part, system) for system in house.systems)
            _forecast(w, part, [daily] * DAYS)
    for chemical in house.chemicals:
        with register.attempt("stock_forecast", house.supplies, "lead_time", chemical=chemical.id):
            w = Working(
                register, "stock_forecast", f"Six months of {chemical.name}", TOPIC, chemical=chemical.id
            )
            takes = takes_of(w, chemical, register.built_for, DAYS)
            _forecast(w, chemical, takes)


def _forecast(w: Working, stock: NutrientPart | Chemical, takes: list[float]) -> None:
    total = sum(takes)
    if total <= 0:
        raise Withheld(f"{stock.name} has no use that comes back; count it every week")
    shelf = _shelf(w, stock)
    wait = _wait(w)
    first, us = w.register.built_for, w.register.house.us
    unit = house_unit(shelf.unit, us)
    last_good = (shelf.good_until - first).days if shelf.good_until is not None else None
    if shelf.count is None:
        what = f"how many containers of {stock.name} are in stock is not given"
        allowed = "Until then nobody is told when it runs short"
        w.register.report_problem(
            stock, "containers_in_stock", what, allowed, "Count them and write it", severity="measure this"
        )
    held = (shelf.count or 0) * shelf.size
    found = orders(held, takes, shelf.size, wait, last_good)
    _tell(w, stock, found, takes, held, shelf)
    told = "not given" if shelf.count is None else brief(held / 1000)
    w.add_line(
        f"six months take {brief(total / 1000)} {shelf.unit}; held {told}{'' if shelf.count is None else f' {shelf.unit}'}"
    )
    w.add_line(
        f"ordered {wait} days before it is short; containers of {brief(shelf.size / 1000)} {shelf.unit}"
    )
    rows = [
        [
            str(first + timedelta(days=one.wanted)),
            str(max(first + timedelta(days=one.by), first)),
            one.containers,
            round_to(in_house_unit(sum(takes[: one.wanted + 1]) / 1000, shelf.unit, us)[0], STEP, "up"),
        ]
        for one in found
    ]
    w.assume("what is bought later stays good for the six months; look at its label")
    heads = [("short on", ""), ("order by", ""), ("containers", ""), ("taken until then", unit)]
    w.table(heads, rows, "what is taken is rounded up", STEP)


def _shelf(w: Working, stock: NutrientPart | Chemical) -> Shelf:
    dry = isinstance(stock, NutrientPart) and w.register.house.nutrients.weighs(stock.id)
    try:
        size = w.fact(stock, "container", "g" if dry else "mL")
    except ValueError as weighed:
        raise Withheld("a stock sold by weight is not forecast") from weighed
    if size <= 0:
        raise Withheld("a container of nothing is not forecast")
    count = int(w.fact(stock, "containers_in_stock")) if stock.containers_in_stock is not None else None
    if isinstance(stock, Chemical) and stock.opened is not None:
        w.assume("the open container is counted as full")
    return Shelf(count, size, _good_until(w, stock), "kg" if dry else "L")


def _good_until(w: Working, stock: NutrientPart | Chemical) -> date | None:
    if isinstance(stock, NutrientPart) or not w.register.of_id("discard_date", chemical=stock.id):
        return None
    return date.fromisoformat(w.amount("discard_date", chemical=stock.id))


def _wait(w: Working) -> int:
    """Whole days from an order to the shelf, the house's spare in them."""
    supplies = w.register.house.supplies
    lead, safety = w.fact(supplies, "lead_time", "day"), w.fact(supplies, "safety_fraction")
    w.add_line(f"{brief(lead)} days from order to delivery x {brief(1 + safety)}")
    return math.ceil(lead * (1 + safety) - 1e-9)


def _tell(
    w: Working,
    stock: NutrientPart | Chemical,
    found: list[Order],
    takes: list[float],
    held: float,
    shelf: Shelf,
) -> None:
    """W13: the first shortage, where it falls before the plan's last cleanout or before an order of today can come."""
    first = w.register.built_for
    if not found or shelf.count is None:
        return
    order, short = found[0], first + timedelta(days=found[0].wanted)
    if order.by > 0 and not _within_plan(w.register, short):
        return
    gone = shelf.good_until is not None and short > shelf.good_until
    us, taken = w.register.house.us, sum(takes[: order.wanted + 1]) / 1000
    amounts = (in_house_unit(one, shelf.unit, us) for one in (taken, held / 1000))
    told = [with_unit(brief(value, 3), unit) for value, unit in amounts]
    what = (
        f"{stock.name} is short on {short}: {told[0]} are taken from {first} to then, "
        f"{told[1]} are held" + (f" and may be used until {shelf.good_until}" if gone else "")
    )
    by = "today" if order.by <= 0 else f"by {first + timedelta(days=order.by)}"
    more = f"{order.containers} container{'' if order.containers == 1 else 's'}"
    remedy = f"Order {more} {by}"
    w.register.report_problem(
        stock, "containers_in_stock", what, "Stock is never short on the day", remedy, "W13", "warning"
    )


def _within_plan(register: Register, day: date) -> bool:
    """Whether the day comes before the last cleanout of the plan, or on it."""
    plan = register.house.crop_plan
    planned = [own.cleanout_day for own in plan.all_days()] if plan is not None else []
    return any(cleanout is not None and day <= cleanout for cleanout in planned)
