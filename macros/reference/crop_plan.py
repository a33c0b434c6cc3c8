"""The page of the crop plan: what it takes of each thing, what may be promised, and when each stock is ordered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from macros.amounts import Amount, Register
from macros.amounts.engine.number_format import shown_unit
from macros.page_model.table import Table, TablePage
from macros.reference.plan_bars import plan_bars

_NONE = "none in six months"


def plan_page(register: Register) -> TablePage | None:
    """Tables of the whole house; None where it has neither a plan nor a forecast."""
    tables = [*_plan(register), *_stock(register), *_stand(register)]
    if not tables:
        return None
    return TablePage(
        "Crop plan and stock",
        "All systems together, counted day by day from the crop plan as it stands. What is short is told by the "
        "checks of a build, with the day.",
        tuple(tables),
        plan=plan_bars(register),
    )


def _plan(register: Register) -> Iterator[Table]:
    titles = {
        "plan_use": "What the plan takes of each thing",
        "promise_weeks": "What may be promised in which week",
    }
    for id_, title in titles.items():
        for amount in register.of_id(id_):
            yield _table(amount, title)


def _table(amount: Amount, title: str) -> Table:
    """An amount of rows as it stands, its assumptions below."""
    heads = tuple(
        f"{column['name']}, {shown_unit(column['unit'])}" if column["unit"] else column["name"].capitalize()
        for column in amount.value["columns"]
    )
    rows = tuple(tuple(_cell(value) for value in row) for row in amount.rounded["rows"])
    return Table(title, heads, rows, _said(amount.assumed))


def _cell(value: str | float) -> str:
    return value if isinstance(value, str) else f"{value:g}"


def _said(assumed: Iterable[str]) -> str:
    """What was assumed, as a sentence."""
    text = "; ".join(assumed)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def _stock(register: Register) -> Iterator[Table]:
    """One table of all stocks: an order a row, a stock without one in a row of its own."""
    rows: list[tuple[str, ...]] = []
    assumed: dict[str, None] = {}
    found = register.of_id("stock_forecast")
    for amount in found:
        assumed |= dict.fromkeys(amount.assumed)
        shelf = (amount.label.removeprefix("Six months of "), *_shelf(register, amount))
        for short, by, count, taken in amount.rounded["rows"] or [("not short", _NONE, 0, "")]:
            rows.append((*shelf, by, _cell(count), short, _cell(taken)))
    if found:
        unit = shown_unit(found[0].value["columns"][3]["unit"])
        heads = (
            "Stock", "Held", "Good until", "Order by", "Containers", "Else short on", f"Taken until then, {unit}"
        )  # fmt: skip
        yield Table("When to order each stock", heads, tuple(rows), _said(assumed))


def _shelf(register: Register, amount: Amount) -> tuple[str, str]:
    """How many containers of which size are held, and the last day they may be used."""
    of = dict(amount.of)
    parts = register.house.nutrients.parts_in_order()
    stock = register.house.chemical(of["chemical"]) if "chemical" in of else None
    held = stock or next(part for part in parts if part.id == of["part"])
    count = "not given" if held.containers_in_stock is None else str(held.containers_in_stock)
    size = f" of {held.container.written}" if held.container is not None else ""
    discard = register.of_id("discard_date", chemical=stock.id) if stock is not None else []
    return f"{count}{size}", discard[0].printed if discard else "not given"


def _stand(register: Register) -> Iterator[Table]:
    for amount in register.of_id("stand_hours"):
        yield _table(amount, f"How long rack {dict(amount.of)['system']} may stand without a flood")
