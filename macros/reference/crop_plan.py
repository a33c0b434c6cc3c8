"""The page of the crop plan: what it takes of each thing, what may be promised, and when each stock is ordered."""

from __future__ import annotations

from collections.abc import Iterator

from macros.amounts import Amount, Register
from macros.amounts.engine.number_format import shown_unit
from macros.page_model.table import Table, TablePage

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
    return Table(title, heads, rows, _sentences(amount))


def _cell(value: str | float) -> str:
    return value if isinstance(value, str) else f"{value:g}"


def _sentences(amount: Amount) -> str:
    return "; ".join(amount.assumed).capitalize() + "." if amount.assumed else ""


def _stock(register: Register) -> Iterator[Table]:
    """One table of all stocks: an order a row, a stock without one in a row of its own."""
    rows: list[tuple[str, ...]] = []
    assumed: dict[str, None] = {}
    found = register.of_id("stock_forecast")
    for amount in found:
        assumed |= dict.fromkeys(amount.assumed)
        name = amount.label.removeprefix("Six months of ")
        orders = amount.rounded["rows"]
        rows += [
            (name, *(_cell(value) for value in (order[1], order[2], order[0], order[3]))) for order in orders
        ]
        if not orders:
            rows.append((name, _NONE, "0", "not short", ""))
    if found:
        unit = shown_unit(found[0].value["columns"][3]["unit"])
        heads = ("Stock", "Order by", "Containers", "Else short on", f"Taken until then, {unit}")
        yield Table("When to order each stock", heads, tuple(rows), f"{'; '.join(assumed)}.")


def _stand(register: Register) -> Iterator[Table]:
    for amount in register.of_id("stand_hours"):
        yield _table(amount, f"How long rack {dict(amount.of)['system']} may stand without a flood")
