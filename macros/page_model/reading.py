"""What a phone must know of a value that is written down: the ends of its limits as numbers, and where it goes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from macros.amounts.engine.number_format import brief

if TYPE_CHECKING:
    from macros.page_model.page import DeviationView, StepView


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
        "low": "" if reading.least is None else brief(reading.least),
        "high": "" if reading.most is None else brief(reading.most),
        "column": reading.column,
        "system": reading.system,
        "stock": reading.stock,
        "note": reading.note,
    }


def acts_of(step: StepView, wrong: Sequence[DeviationView]) -> list[int]:
    """Which of the signs out of range are about the value of a step; all, on a page that names the step of none."""
    own = step.timing.step if step.timing else step.id
    named = [number for number, one in enumerate(wrong) if own in one.of]
    return named if any(one.of for one in wrong) else list(range(len(wrong)))


def out_of_range(deviations: Sequence[DeviationView]) -> list[DeviationView]:
    """The signs of a value outside its limits, in the order of the page."""
    return [one for one in deviations if one.kind == "out_of_range"]
