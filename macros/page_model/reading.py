"""What a phone must know of a value that is written down: the ends of its limits as numbers, and where it goes."""

from __future__ import annotations

from dataclasses import dataclass

from macros.amounts.engine.number_format import brief


@dataclass(frozen=True)
class ReadingView:
    """One value typed on a phone.

    Parameters
    ----------
    system : the system it is of; empty for the room
    is_number : it is read as a number; else as words
    unit : the unit the page prints; empty for none
    least, most : ends of its limits in that unit; None where the page sets no number
    column : its column in the house log; empty where the log has none, then it is a record
    stock : the acid it is of, which the log names beside it
    note : what the log notes of the visit, as "change"
    """

    system: str
    is_number: bool
    unit: str = ""
    least: float | None = None
    most: float | None = None
    column: str = ""
    stock: str = ""
    note: str = ""


def reading_data(reading: ReadingView | None) -> dict[str, str]:
    """What a script needs of one value, as texts; what it lacks is empty."""
    if reading is None:
        return {}
    return {
        "number": "yes" if reading.is_number else "",
        "unit": reading.unit,
        "least": "" if reading.least is None else brief(reading.least),
        "most": "" if reading.most is None else brief(reading.most),
        "column": reading.column,
        "system": reading.system,
        "stock": reading.stock,
        "note": reading.note,
    }
