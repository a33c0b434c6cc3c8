"""Bounds outside which a figure of a small grow room is a slip of the pen or of the unit."""

from __future__ import annotations

from typing import Annotated

from macros.ground.field_types import Number, Text, reader
from macros.ground.records import Record, mistake, nearest
from macros.ground.units import kinds


def _unit(text: str, us: bool) -> str:
    known = dict.fromkeys(unit for _, units in kinds().values() for unit in units)
    if text not in known:
        raise mistake(
            f'"{text}" is not a unit', f"Known: {', '.join(known)}", nearest(text, known) or "Choose one"
        )
    return text


class Plausible(Record):
    """A field of a house (`[]` stands for every entry of a list) and what still passes, in this unit.

    The message says that the value is no `called` and prints `allowed`; without them, the field's name and the bounds.
    """

    field: str
    unit: Annotated[str, reader(_unit)] = ""
    low: Number
    high: Number
    called: Text = ""
    allowed: Text = ""
    remedy: Text = "Look at the unit and the decimal point"
    code: Text = ""
