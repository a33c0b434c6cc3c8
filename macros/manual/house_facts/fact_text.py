"""A fact of the house by its path, and as a reader would write it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import time
from typing import Any

from macros.amounts.engine import number_format as printing
from macros.ground.records import Record
from macros.ground.units import Money, Quantity, Strength, convert

_DURATION_WORDS = {"day": "days", "week": "weeks", "month": "months", "year": "years"}


def fact_of(record: Any, path: str) -> Any:
    """What stands at a path as `policies.reservoir_change_every`; None where the house does not give it."""
    value: Any = record
    for name in path.split("."):
        if isinstance(value, Mapping):
            value = value.get(name)
        else:
            value = (
                getattr(value, name, None) if isinstance(value, Record) and name in fields_of(value) else None
            )
        if value is None:
            return None
    return value


def fact_text(value: Any, us: bool) -> str:
    """A fact as a reader would write it, in the house's unit."""
    if isinstance(value, tuple):
        return ", ".join(fact_text(one, us) for one in value)
    if isinstance(value, Quantity):
        return _quantity_text(value, us)
    if isinstance(value, Strength | Money):
        return value.written
    return _plain_text(value)


def _quantity_text(value: Quantity, us: bool) -> str:
    unit = printing.house_unit(value.unit, us) if us else value.unit
    number = convert(value.value, value.unit, unit)
    shown = printing.shown_unit(unit)
    return f"{printing.brief(number)} {_DURATION_WORDS.get(shown, shown) if number != 1 else shown}"


def _plain_text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return printing.brief(value)
    if isinstance(value, time):
        return f"{value:%H:%M}"
    return str(value) if " " in str(value) or not isinstance(value, str) else value.replace("_", " ")


def fields_of(record: Record) -> Mapping[str, Any]:
    """The fields a record has, by name."""
    return type(record).model_fields
