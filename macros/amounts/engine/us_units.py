"""The lines of a working in the units a US house reads: each number that has a metric unit after it is changed with it.

A factor such as `1000 L/m3` changes like any other number, so what was true of the line stays true. Lengths become feet,
so that areas and volumes go with them; heights told in cm become inches. Strengths, EC, light and what a meter shows have
one unit everywhere; the sums on moist air stay in those of their tables.
"""

from __future__ import annotations

import re
from functools import cache

from macros.amounts.engine.number_format import brief
from macros.ground.units import convert

_L, _M, _KG = convert(1, "L", "us_gal"), convert(1, "m", "ft"), convert(1, "kg", "lb")
_ALWAYS = {
    "L": (_L, "gal"), "L/min": (_L, "gal/min"), "L/h": (_L, "gal/h"), "L/day": (_L, "gal/day"),
    "L/m2": (_L / _M**2, "gal/ft²"), "L/m3": (_L / _M**3, "gal/ft³"), "kg/L": (_KG / _L, "lb/gal"),
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


@cache
def _pattern(units: tuple[str, ...]) -> re.Pattern[str]:
    names = "|".join(re.escape(unit) for unit in sorted(units, key=len, reverse=True))
    return re.compile(rf"(?<![\w.])(-?\d+(?:\.\d+)?) ({names}|degC)(?![\w/²³^])")


def us_line(text: str, millilitres: bool, *, grams: bool = False) -> str:
    """A line of a working in US units; `millilitres` and `grams` keep those of a tool with metric marks."""
    units = {**_ALWAYS, **(_POURED if millilitres else _FLUID)}
    if grams:
        del units["g"]

    def changed(match: re.Match[str]) -> str:
        number, unit = float(match.group(1)), match.group(2)
        if unit == "degC":
            return f"{brief(convert(number, 'degC', 'degF'))} °F"
        factor, shown = units[unit]
        return f"{brief(number * factor)} {shown}"

    return _pattern(tuple(units)).sub(changed, text)
