"""Quantities as people write them: `<number> <unit>`, a whitelist of units, kinds beyond dimension.

Free text never reaches a general reader of units, which takes `18 C` for coulomb, `6.0 pH` for picohenry and
`1 1/4 cup` for a quarter cup. Nor can such a reader tell `mL/L`, `%` and `ppm` apart, so each field asks for a *kind*:
`dose_rate` and `mass_concentration` never pass for each other. The factors between units are those of
`macros/ground/unit_factors.py`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal, cast

from macros.ground.label_words import plain_unit, sizes_elsewhere, us_measure, with_decimals
from macros.ground.unit_factors import kept_factors

Basis = Literal["w/w", "w/v", "v/v"]

_FACTORS = kept_factors()
"""From each unit to every unit of its dimension. A unit that is not here does not exist for us."""

_FAHRENHEIT_ZERO, _FAHRENHEIT_DEGREE = 233.15 + 200 / 9, 5 / 9
"""[K] 0 degF on the absolute scale, and one of its degrees; 0 degC is 273.15 K (NIST SP 811, B.8)."""

_KINDS: dict[str, tuple[str, tuple[str, ...]]] = {
    "length": ("a length", ("m", "cm", "mm", "ft", "in")),
    "area": ("an area", ("m^2", "cm^2", "ft^2")),
    "volume": ("a volume", ("L", "mL", "us_gal", "imp_gal", "fl_oz", "m^3", "ft^3")),
    "mass": ("a mass", ("kg", "g", "lb", "oz_wt")),
    "volume_or_mass": ("a volume or a mass", ("L", "mL", "us_gal", "fl_oz", "kg", "g", "lb", "oz_wt")),
    "duration": ("a time", ("s", "min", "h", "day", "week", "month", "year")),
    "temperature": ("a temperature", ("degC", "degF")),
    "volume_flow": ("a flow", ("L/h", "L/min", "us_gal/h", "us_gal/min", "imp_gal/h", "imp_gal/min", "m^3/h")),
    "airflow": ("a flow of air", ("L/min", "L/h", "m^3/h", "ft^3/min")),
    "volume_per_day": ("a volume a day", ("L/day", "mL/day", "us_gal/day", "fl_oz/day")),
    "power": ("a power", ("W", "kW")),
    "voltage": ("a voltage", ("V",)),
    "current": ("a current", ("A", "mA")),
    "conductivity": ("an electrical conductivity", ("mS/cm", "uS/cm", "dS/m")),
    "mass_concentration": ("a mass of solute a litre", ("mg/L", "g/L")),
    "density": ("a density", ("g/mL", "kg/L", "lb/us_gal")),
    "dose_rate": ("a volume of stock a volume of water", ("mL/L", "mL/us_gal", "fl_oz/us_gal")),
    "dry_dose_rate": ("a mass of dry feed a volume of water", ("g/L", "g/us_gal")),
    "area_rate": ("a volume an area", ("mL/m^2", "L/m^2", "fl_oz/ft^2", "us_gal/ft^2")),
    "ppfd": ("a photon flux", ("umol/m^2/s",)),
    "daily_light": ("a daily light integral", ("mol/m^2/day",)),
    "molar_mass": ("a molar mass", ("g/mol",)),
    "tool_measure": ("a volume or a length", ("mL", "L", "fl_oz", "us_gal", "cm", "mm", "in")),
}  # fmt: skip

_EXAMPLE = {
    "length": "0.80 m", "area": "1.5 m^2", "volume": "5.0 L", "tool_measure": "250 mL", "mass": "15 kg", "volume_or_mass": "130 g",
    "duration": "10 min", "temperature": "20 degC", "volume_flow": "9 L/min", "airflow": "3.0 L/min",
    "volume_per_day": "80 mL/day", "power": "55 W", "voltage": "230 V", "current": "16 A",
    "conductivity": "1.4 mS/cm", "mass_concentration": "90 mg/L", "density": "1.04 g/mL", "dose_rate": "1.1 mL/L",
    "dry_dose_rate": "0.6 g/L",
    "area_rate": "150 mL/m^2", "ppfd": "235 umol/m^2/s", "daily_light": "12 mol/m^2/day", "molar_mass": "98.0 g/mol",
    "money": "19.50 EUR", "money_per_energy": "0.31 EUR/kWh", "money_per_time": "16.00 EUR/h",
}  # fmt: skip
_US_EXAMPLE = _EXAMPLE | {
    "length": "32 in", "area": "16 ft^2", "volume": "5.0 gal", "tool_measure": "8 fl_oz", "mass": "33 lb",
    "volume_or_mass": "32 fl_oz", "temperature": "68 degF", "volume_flow": "2.5 gal/min", "airflow": "0.1 ft^3/min",
    "volume_per_day": "3 fl_oz/day", "voltage": "120 V", "current": "15 A", "density": "8.7 lb/gal",
    "dose_rate": "4 mL/gal", "dry_dose_rate": "2.4 g/gal", "area_rate": "0.5 fl_oz/ft^2", "money": "19.50 USD", "money_per_energy": "0.15 USD/kWh",
    "money_per_time": "16.00 USD/h",
}  # fmt: skip
"""Well-written values in the units of the house."""

_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?")
_MOST_DIGITS = 9
_MOST_YEARS = 100
"""What is longer is a slip, and past reckoning with: digits before the decimal point, and years of a time."""

_QUANTITY = re.compile(r"(?P<number>\S+?)(?:\s+(?P<unit>\S.*))?")


_BARE_TIME = (
    "Bare times are refused: minutes and hours are 60 times apart",
    'Write min or h, as "10 min"',
    "E30",
)
_TRAPS = (
    (
        "mass_concentration", r".*(hard|[°d]H\b|gpg|fH\b).*", '"{}" is a hardness',
        "Hardness and alkalinity are not the same quantity; asked is mg/L of what the field says",
        "Ask the laboratory for alkalinity as CaCO3, or use a drop kit for it", "E27",
    ),
    (
        "", r"(.*/)?oz(/.*)?", '"{}" says oz',
        "Ounce of weight or fluid ounce? The two differ by about 4 % for water and more for a concentrate",
        "Write fl_oz or oz_wt", "E02",
    ),
    (
        "conductivity", r"(?i)ppm|tds", 'the EC is given as "{}"',
        "Which scale of the meter, 500 or 700, is not said", "Give it in mS/cm", "E25",
    ),
    (
        "ppfd", r"(?i)k?lx|lux", '"{}" is in lux', "Lux is light for eyes; plants need umol/m^2/s",
        "Measure with a plant light meter and give umol/m^2/s", "E26",
    ),
)  # fmt: skip
"""The kind that is asked for ("" is any), a unit that would be misread, and the words of the mistake."""


class QuantityMistake(ValueError):  # noqa: N818 - one mistake in one value
    """What is wrong with a written quantity, what is allowed, what to do; `code` is the searchable id."""

    def __init__(self, what: str, allowed: str, remedy: str, code: str = "E01") -> None:
        super().__init__(f"{what}. {allowed}. {remedy}")
        self.what, self.allowed, self.remedy, self.code = what, allowed, remedy, code


@dataclass(frozen=True)
class Quantity:
    """A number with its unit, and the text it was written as."""

    value: float
    unit: str
    written: str

    def to(self, unit: str) -> float:
        """The number in another unit of the same kind."""
        return convert(self.value, self.unit, unit)


@dataclass(frozen=True)
class Money:
    """A price: the number, the currency's three letters, what it is per (empty, `kWh` or `h`)."""

    value: float
    currency: str
    per: str
    written: str


@dataclass(frozen=True)
class Strength:
    """A strength in per cent with its basis. Without the basis a percentage is not a strength."""

    percent: float
    basis: Basis
    written: str

    @property
    def in_ppm(self) -> bool:
        """Whether it was typed as labels of a solution ready to use say it."""
        return "%" not in self.written


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """Convert between two whitelisted units of one dimension. A pair that does not fit is our own fault."""
    if from_unit == to_unit:
        return value
    if (from_unit, to_unit) == ("degC", "degF"):
        return (value + 273.15 - _FAHRENHEIT_ZERO) / _FAHRENHEIT_DEGREE
    if (from_unit, to_unit) == ("degF", "degC"):
        return value * _FAHRENHEIT_DEGREE + _FAHRENHEIT_ZERO - 273.15
    return value * _FACTORS[from_unit][to_unit]


def parse_quantity(text: str, kind: str, us_gallons: bool = False) -> Quantity:
    """Read `<number> <unit>` as the given kind.

    Parameters
    ----------
    text : as typed
    kind : a name of `kinds()`
    us_gallons : a US house may write `gal`; it is read as the US gallon of 3.785 L

    Raises
    ------
    QuantityMistake
        no number, no unit, a unit that is unknown, ambiguous or of another kind.
    """
    meaning, allowed_units = _KINDS[kind]
    allowed = _ALLOWED[kind]
    example = example_of(kind, us_gallons)
    number, unit = _split(text, allowed, example, kind == "duration")
    unit = plain_unit(unit, kind)
    _refuse_known_traps(text, unit, kind, us_gallons)
    if us_gallons:
        unit = re.sub(r"(^|/)gal\b", r"\1us_gal", unit)
        factor, unit = us_measure(unit) or (1.0, unit)
        number *= factor
    remedy = f'Write it as for example "{example}"'
    if unit not in _FACTORS:
        raise QuantityMistake(f'"{text}" has the unit "{unit}", which is not known here', allowed, remedy)
    if unit not in allowed_units:
        if _kind_of(unit) in meaning.split(" or "):
            raise QuantityMistake(
                f'"{text}" has the unit "{unit}", which is not used for this', allowed, remedy
            )
        raise QuantityMistake(f'"{text}" is {_kind_of(unit)}, not {meaning}', allowed, remedy)
    if kind == "duration" and abs(convert(number, unit, "year")) > _MOST_YEARS:
        raise QuantityMistake(
            f'"{text}" is over {_MOST_YEARS} years', allowed, "Look at the unit and the decimal point"
        )
    return Quantity(number, unit, text)


def parse_money(text: str, per: str = "", us: bool = False) -> Money:
    """Read `<number> <currency>` or `<number> <currency>/<per>`; the currency is three capital letters."""
    kind = {"": "money", "kWh": "money_per_energy", "h": "money_per_time"}[per]
    example = example_of(kind, us)
    allowed = f'Allowed is a price with its currency, as "{example}"'
    number, unit = _split(text, allowed, example)
    currency, _, written_per = unit.partition("/")
    if not re.fullmatch(r"[A-Z]{3}", currency) or written_per != per:
        raise QuantityMistake(
            f'"{text}" is not such a price', allowed, f'Write it as for example "{example}"'
        )
    return Money(number, currency, per, text)


def parse_strength(text: str) -> Strength:
    """Read `<number> % <basis>`, basis w/w, w/v or v/v, above 0 and at most 100 %; or ppm or mg/L, which are w/v.

    1 % w/v is 1 g in 100 mL, so 200 ppm, as a label says of a solution ready to use, is 0.02 % w/v.

    Raises
    ------
    QuantityMistake
        E04 when the basis is missing; E33 when it is no number at all.
    """
    allowed = "Allowed is a percentage with its basis: w/w (mass in mass), w/v (g in 100 mL) or v/v; or ppm"
    thin = re.fullmatch(r"(\S+?)\s*(?:ppm|mg/[Ll])", text.strip())
    match = re.fullmatch(r"(\S+?)\s*%(?:\s*(\S+))?", text.strip())
    if thin is not None and _NUMBER.fullmatch(thin.group(1)):
        return _within(float(thin.group(1)) / _MG_PER_LITRE_OF_A_PERCENT, "w/v", text, allowed)
    if match is None or not _NUMBER.fullmatch(match.group(1)):
        raise QuantityMistake(
            f'"{text}" is not a strength', allowed, 'Copy it from the label, as "11.9 % w/w"', "E33"
        )
    basis = match.group(2)
    if basis not in ("w/w", "w/v", "v/v"):
        missing = "does not say its basis" if basis is None else f'has the basis "{basis}"'
        raise QuantityMistake(f'"{text}" {missing}', allowed, "Say w/w, w/v or v/v as the label does", "E04")
    return _within(float(match.group(1)), cast(Basis, basis), text, allowed)


def _within(percent: float, basis: Basis, text: str, allowed: str) -> Strength:
    if not 0 < percent <= 100:
        raise QuantityMistake(f'"{text}" is outside 0 to 100 %', allowed, "Copy it from the label", "E33")
    return Strength(percent, basis, text)


def kinds() -> dict[str, tuple[str, tuple[str, ...]]]:
    """Every kind: what it is in words, and the units it may be written in."""
    return dict(_KINDS)


def example_of(kind: str, us: bool = False) -> str:
    """A well-written value of the kind in the units of the house, for messages and the editor's schema."""
    return (_US_EXAMPLE if us else _EXAMPLE)[kind]


def _split(text: str, allowed: str, example: str, is_time: bool = False) -> tuple[float, str]:
    stripped = with_decimals(text.strip())
    if re.fullmatch(r"[+-]?\d+,\d+(\s+\S+)?", stripped):
        point = stripped.replace(",", ".", 1)
        raise QuantityMistake(
            f'"{text}" has a decimal comma', "Numbers have a decimal point", f'Write "{point}"'
        )
    match = _QUANTITY.fullmatch(stripped)
    if match is None or not _NUMBER.fullmatch(match.group("number")):
        vague = not any(character.isdigit() for character in stripped)
        remedy, code = f'Measure it and write for example "{example}"', "E33" if vague else "E01"
        raise QuantityMistake(f'"{text}" is not a number with a unit', allowed, remedy, code)
    if len(match.group("number").lstrip("+-").partition(".")[0]) > _MOST_DIGITS:
        raise QuantityMistake(
            f'"{text}" has over {_MOST_DIGITS} digits before the decimal point', allowed, "Look at it again"
        )
    if match.group("unit") is None and is_time:
        raise QuantityMistake(f'"{text}" is a time with no unit', *_BARE_TIME)
    if match.group("unit") is None:
        remedy = f'Write it with one, for example "{example}". Nothing was assumed'
        raise QuantityMistake(f'"{text}" has no unit', allowed, remedy)
    return float(match.group("number")), match.group("unit").strip()


def _refuse_known_traps(text: str, unit: str, kind: str, us_gallons: bool) -> None:
    if kind == "duration" and unit not in _FACTORS:
        raise QuantityMistake(f'"{text}" is a time with no clear unit', *_BARE_TIME)
    for of_kind, trap, what, *told in _TRAPS:
        if of_kind in ("", kind) and re.fullmatch(trap, unit):
            raise QuantityMistake(what.format(text), *told)
    if "gal" in unit.split("/") and not us_gallons:
        allowed = "A US gallon is 3.785 L, an imperial one 4.546 L: 20 % apart"
        raise QuantityMistake(
            f'"{text}" says gal in a metric house', allowed, "Write us_gal or imp_gal", "E03"
        )
    if not us_gallons and sizes_elsewhere(unit):
        word = unit.partition("/")[0]
        raise QuantityMistake(
            f'"{text}" counts in {word}s', f"A {word} is {sizes_elsewhere(unit)}", "Write it in mL", "E03"
        )
    if unit == "%" or unit.startswith("% "):
        allowed = f"Allowed is {_KINDS[kind][0]}"
        remedy = f'Write it as for example "{example_of(kind, us_gallons)}"'
        raise QuantityMistake(f'"{text}" is a percentage', allowed, remedy)


def _kind_of(unit: str) -> str:
    """What a unit measures; one that no field asks for, as kWh, is told by its name."""
    return next((meaning for meaning, units in _KINDS.values() if unit in units), f"in {unit}")


def _one_of(names: tuple[str, ...]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " or " + names[-1]


_MG_PER_LITRE_OF_A_PERCENT = 10_000
"""1 % w/v is 1 g in 100 mL, 10 g in a litre."""

_ALLOWED = {kind: f"Allowed is {meaning} in {_one_of(names)}" for kind, (meaning, names) in _KINDS.items()}
"""What may stand for a quantity of each kind, as it is told."""
