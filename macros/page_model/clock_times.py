"""Times of a page: the text with its number beside it, and whole minutes of it."""

from __future__ import annotations

import math

from macros.ground.units import QuantityMistake, convert, kinds, parse_quantity

_TIMES = kinds()["duration"][1]


class Answer(str):
    """A text that the house or the register filled in, with the time it says [min] or the number it is; None where it is none.

    It is a text wherever a text is asked for; only its number is never taken from its letters again.
    """

    minutes: float | None
    number: float | None

    def __new__(cls, text: str, minutes: float | None = None, number: float | None = None) -> Answer:
        made = super().__new__(cls, text)
        made.minutes, made.number = minutes, number
        return made

    def __str__(self) -> str:  # so that the template hands it on as it is
        return self


def minutes_in(value: object, unit: str) -> float | None:
    """A number with its unit in minutes; None where it is no time."""
    return convert(value, unit, "min") if unit in _TIMES and isinstance(value, int | float) else None


def typed_minutes(text: str) -> float | None:
    """`60 min` or `1.5 h`, as an author typed it, in minutes; None where it is not one plain time."""
    try:
        exact = parse_quantity(text, "duration").to("min")
    except QuantityMistake:
        return None
    return exact if exact >= 0 else None


def typed_number(text: str) -> float | None:
    """A plain number as an author typed it; None where it is none."""
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def spoken_time(minutes: float) -> str:
    """How long work takes, as a person says it: whole minutes, from two hours on hours and minutes; rounded up.

    >>> spoken_time(14.25), spoken_time(409), spoken_time(240)
    ('15 min', '6 h 49 min', '4 h')
    """
    whole = whole_minutes(minutes, up=True)
    if whole < 120:
        return f"{whole} min"
    hours, rest = divmod(whole, 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def whole_minutes(exact: float, up: bool) -> int:
    """Minutes rounded up or down to whole ones."""
    return math.ceil(exact - 1e-9) if up else math.floor(exact + 1e-9)
