"""The house's units, rounding for paper, and how a number is written."""

from __future__ import annotations

from decimal import Decimal

from macros.calculations.rounding import decimals_of
from macros.ground.units import convert

_US_UNITS = {
    "L": "us_gal", "m": "in", "cm": "in", "m^2": "ft^2", "degC": "degF", "kg": "lb", "L/min": "us_gal/min",
    "L/h": "us_gal/h", "mL/L": "mL/us_gal", "g": "oz_wt", "L/day": "us_gal/day", "m^3/h": "ft^3/min",
}  # fmt: skip
_METRIC_UNITS = {"m": "cm"}

_STEPS = {
    "L": 0.5, "us_gal": 0.1, "cm": 0.5, "in": 0.25, "mS/cm": 0.01, "degC": 0.5, "degF": 1.0, "min": 1.0, "kg": 0.1,
    "lb": 0.2, "m^2": 0.05, "ft^2": 0.5, "m^3/h": 1.0, "ft^3/min": 1.0,
}  # fmt: skip
"""What a person can read or needs, where no tool of the house decides. Our own choice, shown with each amount."""

_SHOWN = {
    "degC": "°C", "degF": "°F", "us_gal": "gal", "fl_oz": "fl oz", "us_gal/min": "gal/min", "us_gal/h": "gal/h",
    "m^3/h": "m³/h", "ft^3/min": "ft³/min", "m^2": "m²", "ft^2": "ft²", "mL/us_gal": "mL/gal", "g/us_gal": "g/gal",
    "fl_oz/us_gal": "fl oz/gal", "fl_oz/ft^2": "fl oz/ft²", "us_gal/ft^2": "gal/ft²", "us_gal/day": "gal/day", "fl_oz/day": "fl oz/day",
    "mL/m^2": "mL/m²", "L/m^2": "L/m²", "oz_wt": "oz", "imp_gal": "imp gal", "umol/m^2/s": "µmol/m²/s", "mol/m^2/day": "mol/m²/day", "1": "",
}  # fmt: skip


def house_unit(unit: str, us: bool) -> str:
    """The unit the house prints for a quantity computed in `unit`."""
    return (_US_UNITS if us else _METRIC_UNITS).get(unit, unit)


def shown_unit(unit: str) -> str:
    """The unit as printed: `us_gal` becomes `gal` (a US house has no other)."""
    return _SHOWN.get(unit, unit)


def in_house_unit(value: float, unit: str, us: bool) -> tuple[float, str]:
    """The value in the house's unit, with that unit."""
    target = house_unit(unit, us)
    return (value, unit) if target == unit else (convert(value, unit, target), target)


def told(value: float, unit: str, us: bool, digits: int = 3) -> str:
    """A figure for a message, in the house's unit: `25.3 gal`, `84 cm`; what depends on its rounding is tried by who tells it."""
    if unit == "mm" and us:
        value, unit = value / 1000, "m"
    own, target = in_house_unit(value, unit, us)
    return with_unit(brief(own, digits), target)


def step_for(unit: str) -> float:
    """The printing step of a unit where no measuring tool decides."""
    return _STEPS.get(unit, 0.01)


def number_text(value: float, step: float) -> str:
    """The number with as many decimals as its step shows, leading zero kept, no minus before zero."""
    decimals = decimals_of(step)
    return f"{round(value, decimals) + 0.0:.{decimals}f}"


def text_as_set(value: float, step: float) -> str:
    """A limit the house set: the step's decimals where they say it whole, more where it has more; never rounded."""
    whole = abs(round(value, decimals_of(step)) - value) <= 1e-9 * max(1.0, abs(value))
    return number_text(value, step) if whole else brief(value, 8)


def with_unit(text: str, unit: str) -> str:
    """Number and unit joined by a space; a pure number stays alone."""
    shown = shown_unit(unit)
    return f"{text} {shown}" if shown else text


def brief(value: float, digits: int = 5) -> str:
    """A number inside a working: at most `digits` significant digits, no exponent, no trailing zeros."""
    if value == 0:
        return "0"
    return trimmed(f"{Decimal(f'{value:.{digits}g}'):f}")


def trimmed(text: str) -> str:
    """The number without zeros at its end: 136.0 is written 136, 0.50 is written 0.5."""
    return text.rstrip("0").rstrip(".") if "." in text else text
