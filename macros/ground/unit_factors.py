"""The factors between the units a house may write, worked out by pint from their definitions.

The only module that imports pint. Loading it and its registry takes as long as reading a house, for the same numbers at
every build, so they are kept in `unit_factors.json` with the code of this file. Where the code is another, pint is asked:
a unit added here counts at once. `python -m macros.ground.unit_factors` writes the kept ones anew; a test asks for it.
"""

from __future__ import annotations

import hashlib
import json
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    import pint

FACTORS_FILE = Path(__file__).with_name("unit_factors.json")

_DEFINITIONS = """
meter = [length]
centimeter = 0.01 * meter
millimeter = 0.001 * meter
inch = 0.0254 * meter
foot = 0.3048 * meter
liter = 0.001 * meter ** 3
milliliter = 0.001 * liter
gallon = 231 * inch ** 3
fluid_ounce = gallon / 128
imperial_gallon = 4.54609 * liter
kilogram = [mass]
gram = 0.001 * kilogram
milligram = 0.001 * gram
pound = 0.45359237 * kilogram
ounce = pound / 16
second = [time]
minute = 60 * second
hour = 60 * minute
day = 24 * hour
week = 7 * day
year = 365.25 * day
month = year / 12
kelvin = [temperature]; offset: 0
degree_Celsius = kelvin; offset: 273.15
degree_Fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9
ampere = [current]
milliampere = 0.001 * ampere
mole = [substance]
millimole = 0.001 * mole
micromole = 1e-6 * mole
watt = kilogram * meter ** 2 / second ** 3
kilowatt = 1000 * watt
kilowatt_hour = kilowatt * hour
volt = watt / ampere
siemens = ampere / volt
millisiemens = 0.001 * siemens
microsiemens = 1e-6 * siemens
decisiemens = 0.1 * siemens
kilopascal = 1000 * kilogram / meter / second ** 2
hectopascal = 100 * kilogram / meter / second ** 2
"""
"""Only the units a house may write, by their exact definitions (international yard and pound of 1959, US gallon of
231 cubic inches, imperial gallon of 1985). pint's own list holds thousands more."""

# Unit as written in data -> expression pint knows.
_UNITS: dict[str, str] = {
    "m": "meter", "cm": "centimeter", "mm": "millimeter", "ft": "foot", "in": "inch",
    "m^2": "meter**2", "cm^2": "centimeter**2", "ft^2": "foot**2",
    "L": "liter", "mL": "milliliter", "m^3": "meter**3", "ft^3": "foot**3",
    "us_gal": "gallon", "imp_gal": "imperial_gallon", "fl_oz": "fluid_ounce",
    "kg": "kilogram", "g": "gram", "lb": "pound", "oz_wt": "ounce",
    "s": "second", "min": "minute", "h": "hour", "day": "day", "week": "week", "month": "month", "year": "year",
    "degC": "degree_Celsius", "degF": "degree_Fahrenheit",
    "L/h": "liter/hour", "L/min": "liter/minute", "us_gal/h": "gallon/hour", "us_gal/min": "gallon/minute",
    "imp_gal/h": "imperial_gallon/hour", "imp_gal/min": "imperial_gallon/minute",
    "m^3/h": "meter**3/hour", "ft^3/min": "foot**3/minute",
    "L/day": "liter/day", "mL/day": "milliliter/day", "us_gal/day": "gallon/day", "fl_oz/day": "fluid_ounce/day",
    "W": "watt", "kW": "kilowatt", "kWh": "kilowatt_hour", "V": "volt", "A": "ampere", "mA": "milliampere",
    "mS/cm": "millisiemens/centimeter", "uS/cm": "microsiemens/centimeter", "dS/m": "decisiemens/meter",
    "mg/L": "milligram/liter", "g/L": "gram/liter", "g/us_gal": "gram/gallon",
    "g/mL": "gram/milliliter", "kg/L": "kilogram/liter", "lb/us_gal": "pound/gallon",
    "mL/L": "milliliter/liter", "mL/us_gal": "milliliter/gallon", "fl_oz/us_gal": "fluid_ounce/gallon",
    "mL/m^2": "milliliter/meter**2", "L/m^2": "liter/meter**2", "fl_oz/ft^2": "fluid_ounce/foot**2",
    "us_gal/ft^2": "gallon/foot**2",
    "umol/m^2/s": "micromole/meter**2/second", "mol/m^2/day": "mole/meter**2/day",
    "g/mol": "gram/mole", "mmol/L": "millimole/liter", "kPa": "kilopascal", "hPa": "hectopascal",
}  # fmt: skip


def kept_factors() -> dict[str, dict[str, float]]:
    """As `factors`, from the file that keeps them where it is of these definitions."""
    kept = json.loads(FACTORS_FILE.read_text(encoding="utf-8")) if FACTORS_FILE.is_file() else {}
    return (
        cast(dict[str, dict[str, float]], kept["factors"])
        if kept.get("definitions") == _code()
        else factors()
    )


def _code() -> str:
    """Fingerprint of this file, the same whatever ends its lines."""
    return hashlib.sha256(Path(__file__).read_text(encoding="utf-8").encode()).hexdigest()[:16]


@cache
def _registry() -> pint.UnitRegistry[float]:
    import pint

    return pint.UnitRegistry(_DEFINITIONS.strip().splitlines(), cache_folder=None)


def factors() -> dict[str, dict[str, float]]:
    """Each unit with its factor to every unit of the same dimension; those with an offset have one to themselves alone."""
    found: dict[str, dict[str, float]] = {}
    for name, expression in _UNITS.items():
        one = _registry().Quantity(1.0, expression)
        found[name] = {
            other: 1.0 if other == name else float(one.to(to).magnitude)
            for other, to in _UNITS.items()
            if other == name
            or (one.check(_registry().Quantity(1.0, to).dimensionality) and not name.startswith("deg"))
        }
    return found


def converted(value: float, from_unit: str, to_unit: str) -> float:
    """A value as pint converts it, units with an offset included; for the tests of `macros.ground.units`."""
    return float(_registry().Quantity(value, _UNITS[from_unit]).to(_UNITS[to_unit]).magnitude)


def factors_text() -> str:
    """The factors as JSON text, one unit a line, under the code of the definitions they were made of."""
    lines = (f"{json.dumps(name)}: {json.dumps(to)}" for name, to in factors().items())
    return f'{{"definitions": "{_code()}", "factors": {{\n' + ",\n".join(lines) + "\n}}\n"


if __name__ == "__main__":
    FACTORS_FILE.write_text(factors_text(), encoding="utf-8")
