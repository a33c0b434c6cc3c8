"""Numbers and units in the words of labels, rulers and pump boxes, turned into what the program reckons with.

Read is what means one thing: `1 1/4 in`, `400 gph`, `68 F`, and `2 tbsp` in a US house. What means two is refused: a pint,
a quart, a gallon, a cup and a spoon are other sizes in the US and elsewhere, so a house that is not US writes L or mL.
"""

from __future__ import annotations

import re

_FRACTION = re.compile(r"(?:(\d{1,4})[ -])?(\d{1,3})/(\d{1,3})(?=\s|$)")
_SIGNS = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}

_SPELLINGS = {
    "l": "L", "ml": "mL", "litre": "L", "litres": "L", "liter": "L", "liters": "L", "m2": "m^2", "m²": "m^2",
    "m3": "m^3", "m³": "m^3", "°C": "degC", "°F": "degF", "days": "day", "weeks": "week", "months": "month",
    "years": "year", "hours": "h", "hour": "h", "minutes": "min", "seconds": "s", "us_gallon": "us_gal",
    "ml/l": "mL/L", "ml/L": "mL/L", "µS/cm": "uS/cm", "µmol/m²/s": "umol/m^2/s", "umol/m2/s": "umol/m^2/s",
    "mol/m2/day": "mol/m^2/day", "mol/m²/day": "mol/m^2/day", "mL/m2": "mL/m^2", "L/m2": "L/m^2", "m3/h": "m^3/h",
    "m³/h": "m^3/h", "l/h": "L/h", "l/min": "L/min", "l/day": "L/day", "mg/l": "mg/L", "g/ml": "g/mL", "kg/l": "kg/L",
    "inch": "in", "inches": "in", "feet": "ft", "foot": "ft", "pounds": "lb", "pound": "lb", "lbs": "lb", "hr": "h",
    "hrs": "h", "mins": "min", "minute": "min", "sec": "s", "second": "s", "gallon": "gal", "gallons": "gal",
    "gals": "gal", "gph": "gal/h", "gpm": "gal/min", "lph": "L/h", "lpm": "L/min", "cfm": "ft^3/min", "fl oz": "fl_oz",
    "fl. oz.": "fl_oz", "fl. oz": "fl_oz", "fluid ounce": "fl_oz", "fluid ounces": "fl_oz", "watt": "W", "watts": "W",
    "volt": "V", "volts": "V", "amp": "A", "amps": "A", "pt": "pint", "pints": "pint", "qt": "quart",
    "quarts": "quart", "cups": "cup", "teaspoon": "tsp", "teaspoons": "tsp", "tablespoon": "tbsp",
    "tablespoons": "tbsp", "sq ft": "ft^2", "ft2": "ft^2", "ft²": "ft^2", "ft³": "ft^3",
}  # fmt: skip
"""Spellings people use that mean one unit and no other; gallon and pint still ask whose they are."""

_OF_A_KIND = {
    "temperature": {"F": "degF", "C": "degC", "deg F": "degF", "deg C": "degC"},
    "mass_concentration": {"ppm": "mg/L"},
    "conductivity": {"mS": "mS/cm", "uS": "uS/cm", "µS": "uS/cm"},
}
"""Words that mean one unit where the kind is known: a litre of so thin a solution weighs a kilogram (common practice, no
source)."""

_US_MEASURES = {"pint": 16.0, "quart": 32.0, "cup": 8.0, "tbsp": 0.5, "tsp": 1 / 6}
"""US measures in fluid ounces (NIST Handbook 44, appendix C, from memory)."""

_ELSEWHERE = {
    "pint": "473 mL in the US, 568 mL in Britain",
    "quart": "946 mL in the US, 1137 mL in Britain",
    "cup": "237 mL in the US, 250 mL elsewhere",
    "tbsp": "14.8 mL in the US, 15 or 20 mL elsewhere",
    "tsp": "4.9 mL in the US, 5 mL elsewhere",
}
"""Common sizes, from memory; told to a house that is not US."""


def with_decimals(text: str) -> str:
    """The text with a mixed fraction at its beginning as a decimal number: `1 1/4 in` is `1.25 in`.

    A fraction that is none of a ruler (4/3, 1/0) is left as it is.
    """
    for sign, plain in _SIGNS.items():
        text = re.sub(rf"(\d)\s*{sign}", rf"\1 {plain}", text).replace(sign, plain)
    match = _FRACTION.match(text)
    if match is None:
        return text
    whole, above, below = (int(group or 0) for group in match.groups())
    if not 0 < above < below:
        return text
    return f"{whole + above / below:.10g}{text[match.end() :]}"


def plain_unit(unit: str, kind: str) -> str:
    """The unit a spelling means for a quantity of this kind; what is no known spelling is returned as it is."""
    named = _OF_A_KIND.get(kind, {}).get(unit)
    head, stroke, rest = unit.partition("/")
    known = named or _SPELLINGS.get(unit) or _whole_word(unit)
    if known is not None:
        return known
    return f"{_part(head)}{stroke}{_part(rest)}" if stroke else unit


def _part(unit: str) -> str:
    return _SPELLINGS.get(unit) or _whole_word(unit) or unit


def _whole_word(unit: str) -> str | None:
    """A word in capitals, as GPH on a pump; never two letters, for ML is not mL."""
    word = unit.lower()
    if len(word) < 3 or not word.isalpha():
        return None
    return _SPELLINGS.get(word) or (word if word in _US_MEASURES else None)


def us_measure(unit: str) -> tuple[float, str] | None:
    """A US measure, alone or `a day` or `a gallon`, as a factor and a unit the program knows; None for any other."""
    head, stroke, rest = unit.partition("/")
    ounces = _US_MEASURES.get(head)
    return (ounces, f"fl_oz{stroke}{rest}") if ounces else None


def sizes_elsewhere(unit: str) -> str:
    """What a measure holds in the US and elsewhere, in words; empty where its size is one."""
    return _ELSEWHERE.get(unit.partition("/")[0], "")
