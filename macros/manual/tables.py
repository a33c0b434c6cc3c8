"""The tables a page asks for: rows over varieties, chemicals or another key, a column for each amount or fact."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from macros.amounts import Amount, Register
from macros.house.base import Record
from macros.manual.fact_text import fact_of, fact_text
from macros.manual.figures import amount_table
from macros.manual.procedure import TableAsk, TableColumn
from macros.manual.views import TableView

NONE_HERE = "not given"


def page_tables(asks: Sequence[TableAsk], register: Register, system: str) -> tuple[TableView, ...]:
    """The tables of a page, as far as this house has what they show; an empty one is left out."""
    tables: list[TableView] = []
    for ask in asks:
        if ask.amount is not None:
            tables += [amount_table(a, ask.title) for a in _of_system(register, ask.amount, system)]
        elif ask.by is not None:
            rows = _rows(ask, register, system)
            if rows:
                heads = (ask.by.replace("_", " ").capitalize(), *(column.head for column in ask.columns))
                tables.append(TableView(ask.title, heads, tuple(rows)))
    return tuple(tables)


def _rows(ask: TableAsk, register: Register, system: str) -> list[tuple[str, ...]]:
    names = list(
        dict.fromkeys(
            dict(amount.of)[ask.by]
            for column in ask.columns
            if column.amount is not None
            for amount in _of_system(register, column.amount, system)
            if ask.by in dict(amount.of)
        )
    )
    records = _records(register, str(ask.by))
    order = {name: number for number, name in enumerate(records)}
    names.sort(key=lambda name: order.get(name, len(order)))
    rows = []
    for name in names:
        cells = [
            _cell(column, str(ask.by), name, records.get(name), register, system) for column in ask.columns
        ]
        record = records.get(name)
        shown = getattr(record, "name", None) or name.replace("_", " ")
        rows.append((str(shown), *cells))
    return rows


def _cell(
    column: TableColumn, by: str, name: str, record: Record | None, register: Register, system: str
) -> str:
    if column.fact is not None:
        value = fact_of(record, column.fact) if record is not None else None
        return fact_text(value, register.house.us) if value is not None and value != () else NONE_HERE
    found = [a for a in _of_system(register, str(column.amount), system) if dict(a.of).get(by) == name]
    return " / ".join(dict.fromkeys(a.printed for a in found)) or NONE_HERE


def _of_system(register: Register, id_: str, system: str) -> list[Amount]:
    return [
        a
        for a in register.all()
        if a.id == id_ and (not system or dict(a.of).get("system", system) == system)
    ]


def _records(register: Register, by: str) -> dict[str, Record]:
    """The records of the house a key of amounts stands for."""
    house = register.house
    lists: dict[str, Sequence[Any]] = {
        "variety": house.varieties,
        "chemical": house.chemicals,
        "system": house.systems,
        "part": house.nutrients.parts,
    }
    return {record.id: record for record in lists.get(by, ())}
