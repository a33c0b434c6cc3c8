"""Rules on prices: one currency in one house, for costs are added."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.ground.records import Record, records_of
from macros.ground.units import Money
from macros.house.records.house import House
from macros.house.rules.report import problem_at


def check_money(house: House) -> Iterator[Problem]:
    """Every price in another currency than `house.currency`, or where that is not given than the first price."""
    prices = [(one, name, price) for one in records_of(house) for name, price in _prices(one)]
    if not prices:
        return
    first, field, price = prices[0]
    given = house.house.currency
    currency = given if given is not None else price.currency
    said = house.house.place("currency") if given is not None else first.place(field)
    for record, name, found in prices:
        if found.currency != currency:
            what = f'"{found.written}" is in {found.currency}, and {said} counts in {currency}'
            allowed = "Costs are added, so all prices of a house are in one currency"
            yield problem_at(record, name, what, allowed, "Write this price in it, or mend house.currency")


def _prices(record: Record) -> Iterator[tuple[str, Money]]:
    for name in type(record).model_fields:
        value = getattr(record, name)
        if isinstance(value, Money):
            yield name, value
