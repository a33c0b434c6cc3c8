"""Figures a question reckons with: a number with its unit, a time of day, a date; and how they are written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from macros.amounts import Amount
from macros.amounts.engine import number_format as printing
from macros.ground.units import convert

CLOCK = "clock"
"""Unit of a time of day: minutes after midnight."""
DAY = "date"
"""Unit of a date: its number in the calendar."""

_MINUTES = {"min": 1.0, "h": 60.0, "s": 1 / 60}


class NoFigure(ValueError):  # noqa: N818 - a reason to leave a question out, not a fault
    """The house lacks what a sum asks for, or the units do not fit together."""


@dataclass(frozen=True)
class Figure:
    """A number in a unit of the house. `step` is what it is written to; `shown` the text where it is printed elsewhere."""

    value: float
    unit: str = ""
    step: float = 0.0
    shown: str = ""

    @property
    def text(self) -> str:
        """As a reader would write it."""
        if self.shown:
            return self.shown
        if self.unit == CLOCK:
            minutes = round(self.value) % (24 * 60)
            return f"{minutes // 60:02d}:{minutes % 60:02d}"
        if self.unit == DAY:
            return date.fromordinal(round(self.value)).isoformat()
        number = printing.number_text(self.value, self.step) if self.step else printing.brief(self.value)
        number = printing.trimmed(number)
        unit = (
            self.unit[:-1] if number == "1" and self.unit.endswith("s") and len(self.unit) > 2 else self.unit
        )
        return printing.with_unit(number, unit)

    @property
    def shown_unit(self) -> str:
        """The unit beside an input."""
        return "" if self.unit in (CLOCK, DAY) else printing.shown_unit(self.unit)

    def _plus(self, other: Figure | float, sign: int) -> Figure:
        """Sum or difference, in this figure's unit; a time of day or a date takes a duration."""
        other = other if isinstance(other, Figure) else Figure(float(other), self.unit)
        if self.unit == CLOCK and other.unit in _MINUTES:
            return Figure(self.value + sign * other.value * _MINUTES[other.unit], CLOCK)
        if self.unit == DAY and other.unit in ("day", "days"):
            return Figure(self.value + sign * other.value, DAY)
        if self.unit in (CLOCK, DAY) and self.unit == other.unit and sign < 0:
            return Figure(self.value - other.value, "min" if self.unit == CLOCK else "days")
        return replace(self, value=self.value + sign * in_unit(other, self.unit).value, shown="")

    def beside(self, other: Figure | float) -> float:
        """The other's number in this figure's unit."""
        return in_unit(other, self.unit).value if isinstance(other, Figure) else float(other)

    def __add__(self, other: Figure | float) -> Figure:
        return self._plus(other, 1)

    def __sub__(self, other: Figure | float) -> Figure:
        return self._plus(other, -1)

    def __mul__(self, factor: Figure | float) -> Figure:
        return replace(self, value=self.value * plain(factor), shown="")

    def __truediv__(self, other: Figure | float) -> Figure | float:
        return self.value / self.beside(other) if isinstance(other, Figure) else self * (1 / other)

    def __rtruediv__(self, number: float) -> float:
        return number / self.value

    def __lt__(self, other: Figure | float) -> bool:
        return self.value < self.beside(other)

    def __le__(self, other: Figure | float) -> bool:
        return self.value <= self.beside(other)

    def __gt__(self, other: Figure | float) -> bool:
        return self.value > self.beside(other)

    def __ge__(self, other: Figure | float) -> bool:
        return self.value >= self.beside(other)


def plain(value: Figure | float) -> float:
    """The number alone."""
    return value.value if isinstance(value, Figure) else float(value)


def in_unit(figure: Figure, unit: str) -> Figure:
    """The figure in another unit of its kind."""
    if figure.unit == unit:
        return figure
    try:
        return Figure(convert(figure.value, figure.unit, unit), unit, figure.step)
    except KeyError as error:  # no factor leads from one to the other
        raise NoFigure(f"{figure.unit or 'a number'} is not {unit or 'a number'}") from error


def figure_of(amount: Amount) -> Figure:
    """An amount as it is printed.

    Raises
    ------
    NoFigure
        the amount is a table, a map, a flag or a band.
    """
    value: Any = amount.rounded
    if amount.kind == "date":
        return Figure(date.fromisoformat(amount.value).toordinal(), DAY, 0.0, amount.printed)
    if amount.kind not in ("number", "count", "clock") or isinstance(value, str):
        raise NoFigure(f"{amount.key} is a {amount.kind}")
    step = amount.rounding.step or 0.0
    return Figure(float(value), amount.unit, 1.0 if amount.kind == "count" else step, amount.printed)
