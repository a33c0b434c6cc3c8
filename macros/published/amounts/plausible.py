"""Bounds outside which a figure of a small grow room is a slip of the pen or of the unit."""

from __future__ import annotations

from typing import Annotated

from macros.ground.field_types import Number, reader
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
    """A field of a house (`[]` stands for every entry of a list) and what still passes, in this unit."""

    field: str
    unit: Annotated[str, reader(_unit)] = ""
    low: Number
    high: Number
