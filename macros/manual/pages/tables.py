"""The tables a page asks for: rows over varieties, chemicals or another key, a column for each amount or fact."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from macros.amounts import Amount, Register
from macros.amounts.crop.one_sheet import plantings_with, sheet_of
from macros.ground.records import Record
from macros.house import House
from macros.house.records.chemicals import Chemical
from macros.house.records.crops import EdibleEntry, Planting, SeedLot, Variety
from macros.house.records.feeding import NutrientPart
from macros.house.records.systems import System
from macros.manual.cautions.crop_facts import eating_limit, edible_entry
from macros.manual.house_facts.fact_text import fact_of, fact_text
from macros.manual.pages.figures import amount_table
from macros.manual.procedures.file_format import TableAsk, TableColumn
from macros.page_model.figure import TableView
from macros.published.safety.edible import plant_rule

NONE_HERE = "not given"
OWN_SHEET = "one of its own"
NO_LIMIT = "no limit known here"


def page_tables(asks: Sequence[TableAsk], register: Register, system: str) -> tuple[TableView, ...]:
    """The tables of a page, as far as this house has what they show; an empty one is left out."""
    tables: list[TableView] = []
    for ask in asks:
        if ask.amount is not None:
            found = _of_system(register, ask.amount, system)
            named = ((a, _title(ask.title, a, len(found) > 1)) for a in found)
            tables += [replace(amount_table(a, title), name=ask.looked_up_as) for a, title in named]
        elif ask.by is not None:
            rows = _rows(ask, register, system)
            if rows:
                heads = (ask.by.replace("_", " ").capitalize(), *(column.head for column in ask.columns))
                tables.append(TableView(ask.title, heads, tuple(rows), ask.looked_up_as))
    return tuple(tables)


def _title(title: str, amount: Amount, several: bool) -> str:
    """Several tables of one kind say whose they are."""
    of = dict(amount.of)
    named = ", ".join(of[key].replace("_", " ") for key in ("variety", "growth_stage", "system") if key in of)
    return f"{title}, {named}" if several and named else title


def _rows(ask: TableAsk, register: Register, system: str) -> list[tuple[str, ...]]:
    by, records = str(ask.by), _records(register, str(ask.by))
    days = _days(ask, register, system) if by == "variety" else {}
    order = {name: number for number, name in enumerate(records)}
    rows = []
    for name in sorted(_names(ask, register, system, records), key=lambda one: order.get(one, len(order))):
        record = records.get(name)
        shown = getattr(record, "name", None) or name.replace("_", " ")
        for day in days.get(name, [""]):
            own = {by: name, "planting": day} if day else {by: name}
            cells = [_cell(column, own, record, register, system) for column in ask.columns]
            rows.append((f"{shown} planted {day}" if day else str(shown), *cells))
    return rows


def _days(ask: TableAsk, register: Register, system: str) -> dict[str, list[str]]:
    """The days a variety is planted on, where an amount of the table is of one of several."""
    asked = {str(column.amount) for column in ask.columns if column.amount is not None}
    amounts = (dict(a.of) for id_ in asked for a in _of_system(register, id_, system))
    days: dict[str, set[str]] = {}
    for of in amounts:
        if "planting" in of:
            days.setdefault(of["variety"], set()).add(of["planting"])
    return {name: sorted(found) for name, found in days.items()}


def _names(ask: TableAsk, register: Register, system: str, records: Mapping[str, Record]) -> Iterable[str]:
    """What the rows are of: all that an amount of a column is of; of facts alone, every record of the system."""
    ids = [column.amount for column in ask.columns if column.amount is not None]
    if not ids:
        return [n for n, one in records.items() if not system or getattr(one, "system", "") in ("", system)]
    amounts = (amount for id_ in ids for amount in _of_system(register, id_, system))
    return dict.fromkeys(dict(amount.of)[ask.by] for amount in amounts if ask.by in dict(amount.of))


def _cell(
    column: TableColumn, own: dict[str, str], record: Record | None, register: Register, system: str
) -> str:
    if column.fact is not None:
        value = _fact(register, record, column.fact, own)
        return fact_text(value, register.house.us) if value is not None and value != () else NONE_HERE
    day = own.get("planting")
    wanted = {**column.of, **own}.items()
    found = [
        a
        for a in _of_system(register, str(column.amount), system)
        if wanted
        <= {"planting": day, **dict(a.of)}.items()  # what is of the variety alone is of each of its days
    ]
    return " / ".join(dict.fromkeys(a.printed for a in found)) or NONE_HERE


RECORD_OF: dict[str, type[Record]] = {
    "variety": Variety,
    "chemical": Chemical,
    "system": System,
    "part": NutrientPart,
    "seed_lot": SeedLot,
}
"""The record of the house that a row is about, by the key of the rows; rows by any other key show amounts alone."""

_OF_EATING = ("pull_off", "eating_limit")
_OF_VARIETY = ("sow_sheet", "planned_plants", *_OF_EATING)
"""What a row of a variety shows that is no fact of its record."""


def fact_record(by: str, path: str) -> tuple[type[Record] | None, str]:
    """The record a fact of a column is asked of, and the path in it; no path where it is none of a record."""
    if by == "variety" and path in _OF_VARIETY:
        return None, ""
    if by == "variety" and path.startswith("edible."):
        return EdibleEntry, path.removeprefix("edible.")
    return RECORD_OF.get(by), path


def _fact(register: Register, record: Record | None, path: str, own: Mapping[str, str]) -> Any:
    """A fact of the row's record; `edible.` before it asks the house's edible list about the variety."""
    if isinstance(record, Variety) and path in _OF_VARIETY:
        return _of_variety(register.house, record, path, own)
    if isinstance(record, Variety) and path.startswith("edible."):
        record, path = edible_entry(register.house, record), path.removeprefix("edible.")
    return fact_of(record, path) if record is not None else None


def _of_variety(house: House, variety: Variety, path: str, own: Mapping[str, str]) -> str | None:
    """The sheet a variety or a set of it is sown on, the plants of it on the map, or how it is eaten."""
    if path in _OF_EATING:
        return _of_eating(house, variety, path)
    sets = plantings_with(house, {**own, "variety": variety.id})
    if path == "sow_sheet":
        return _sow_sheet(house, variety, sets)
    plants = sum(one.plants for one in sets)
    return f"{plants} plants" if plants else None


def _sow_sheet(house: House, variety: Variety, sets: Sequence[Planting]) -> str | None:
    """The sheet of the layout that a set is sown on; a later set has one of its own."""
    laid = next((name for name, on_it in house.sow_layout.items() if variety.id in on_it), None)
    if sets and not any(sheet_of(house, one) for one in sets):
        laid = None
    if laid is None and any(one.several for one in sets):
        return OWN_SHEET
    return laid.replace("_", " ") if laid else None


def _of_eating(house: House, variety: Variety, path: str) -> str | None:
    """What is pulled off a variety, or who may not eat it."""
    if path == "eating_limit":
        return eating_limit(house, variety) or NO_LIMIT
    rule = plant_rule(variety.botanical)
    return rule.pull_off or None if rule is not None else None


def _of_system(register: Register, id_: str, system: str) -> list[Amount]:
    return register.on_page(id_, system) if system else register.of_id(id_)


def _records(register: Register, by: str) -> dict[str, Record]:
    """The records of the house a key of amounts stands for."""
    house = register.house
    lists: dict[str, Sequence[Any]] = {
        "variety": house.varieties,
        "chemical": house.chemicals,
        "system": house.systems,
        "part": house.nutrients.parts,
        "seed_lot": house.seed_lots,
    }
    return {record.id: record for record in lists.get(by, ())}
