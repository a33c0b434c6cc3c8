"""The lines of a working in the units a US house reads: each number that has a metric unit after it is changed with it.

A factor such as `1000 L/m3` changes like any other number, so what was true of the line stays true. Lengths become feet,
so that areas and volumes go with them; heights told in cm become inches. Strengths, EC, light and what a meter shows have
one unit everywhere; the sums on moist air stay in those of their tables.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache

from macros.amounts.engine.number_format import brief
from macros.ground.units import convert

_L, _M, _KG = convert(1, "L", "us_gal"), convert(1, "m", "ft"), convert(1, "kg", "lb")
_ALWAYS = {
    "L": (_L, "gal"), "L/min": (_L, "gal/min"), "L/h": (_L, "gal/h"), "L/day": (_L, "gal/day"),
    "m³": (_M**3, "ft³"), "m³/h": (_M**3, "ft³/h"), "m³/kg": (_M**3, "ft³/kg"), "L/m2": (_L / _M**2, "gal/ft²"), "L/m3": (_L / _M**3, "gal/ft³"), "kg/L": (_KG / _L, "lb/gal"),
    "m": (_M, "ft"), "m2": (_M**2, "ft²"),
    "cm": (convert(1, "cm", "in"), "in"), "mm": (convert(1, "mm", "in"), "in"),
    "kg": (_KG, "lb"), "g": (convert(1, "g", "oz_wt"), "oz"),
    "K": (1.8, "°F"),
}  # fmt: skip
_OZ = convert(1, "mL", "fl_oz")
_FLUID = {
    "mL": (_OZ, "fl oz"), "mL/L": (_OZ / _L, "fl oz/gal"), "mL/day": (_OZ, "fl oz/day"), "mL/h": (_OZ, "fl oz/h"),
}  # fmt: skip
_POURED = {"mL/L": (1 / _L, "mL/gal")}
"""Where the house pours with metric marks, its doses stay in millilitres; the water they go into is told in gallons."""

_TOLD = _ALWAYS | _POURED | {
    "m": (convert(1, "m", "in"), "in"), "m2": (_M**2, "ft^2"), "K": (1.8, "degF"),
    "m^3/h": (convert(1, "m^3/h", "ft^3/min"), "ft^3/min"),
}  # fmt: skip
"""As a house file is written: lengths in inches, since an owner reads a tape."""


@cache
def _pattern(units: tuple[str, ...]) -> re.Pattern[str]:
    names = "|".join(re.escape(unit) for unit in sorted(units, key=len, reverse=True))
    return re.compile(
        r"(?<![\w.])(?:(-?\d+(?:\.\d+)?)( to | and | or ))?(-?\d+(?:\.\d+)?) "
        rf"({names}|degC)(?![\w/²³^])"
    )


def us_line(text: str, millilitres: bool, *, grams: bool = False) -> str:
    """A line of a working in US units; `millilitres` and `grams` keep those of a tool with metric marks."""
    units = {**_ALWAYS, **(_POURED if millilitres else _FLUID)}
    if grams:
        del units["g"]

    return _changed(text, units, "°F", 5)


def us_message(text: str, names: Iterable[str] = ()) -> str:
    """A message in the units a US house writes; what stands in quotation marks stays, and the names of its things."""
    kept = [r'"[^"]*"', r"(?<!\w)'[^']*'", *map(re.escape, sorted(names, key=len, reverse=True))]
    pieces = re.split(f"({'|'.join(kept)})", text)
    return "".join(piece if n % 2 else _changed(piece, _TOLD, "degF", 3) for n, piece in enumerate(pieces))


def _changed(text: str, units: Mapping[str, tuple[float, str]], degrees: str, digits: int) -> str:
    def changed(match: re.Match[str]) -> str:
        first, between, last, unit = match.groups()
        factor, shown = units.get(unit, (1.0, degrees))
        told = [
            brief(convert(float(one), "degC", "degF") if unit == "degC" else float(one) * factor, digits)
            for one in (first, last)
            if one is not None
        ]
        return f"{(between or '').join(told)} {shown}"

    return _pattern(tuple(units)).sub(changed, text)
