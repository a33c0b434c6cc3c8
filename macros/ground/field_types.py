"""The types a field may have: text as typed, read strictly into numbers with units, days, flags, names."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date, time
from types import MappingProxyType
from typing import Annotated, Any, TypeVar, cast

from pydantic import AfterValidator, BeforeValidator, WithJsonSchema

from macros.ground.days import read_day
from macros.ground.records import US, mistake
from macros.ground.units import (
    Money,
    Quantity,
    QuantityMistake,
    Strength,
    example_of,
    parse_money,
    parse_quantity,
    parse_strength,
)


def reader(read: Callable[[str, bool], Any]) -> BeforeValidator:
    """A field read from the text as typed; `read` is told whether the house writes US gallons."""

    def validate(value: Any, info: Any) -> Any:
        if not isinstance(value, str):
            if value is None:
                raise mistake("nothing is written here", "A value is needed", "Write it, or remove the line")
            if isinstance(value, list | dict):
                raise mistake("a list or mapping stands here", "One value is needed", "Write one value")
            return value
        try:
            return read(value, bool(info.context and info.context.get(US)))
        except QuantityMistake as error:
            raise mistake(error.what, error.allowed, error.remedy, error.code) from error

    return BeforeValidator(validate)


def _quantity(kind: str) -> Any:
    schema = {"type": "string", "description": f'A number with a unit, as "{example_of(kind)}"'}
    return Annotated[
        Quantity, reader(lambda text, us: parse_quantity(text, kind, us)), WithJsonSchema(cast(Any, schema))
    ]


def _money(per: str) -> Any:
    schema: dict[str, Any] = {"type": "string", "description": "A price with its currency, as 19.50 EUR"}
    return Annotated[Money, reader(lambda text, us: parse_money(text, per, us)), WithJsonSchema(schema)]


def _read_dose(text: str, us: bool) -> Quantity:
    """A dose of a liquid stock, or of dry feed that is weighed."""
    dry = re.fullmatch(r"[\d.,]+\s*(g|mg|kg|oz|oz_wt|lb)\s*/.*", text)
    return parse_quantity(text, "dry_dose_rate" if dry else "dose_rate", us)


def _read_number(text: str, us: bool) -> float:
    if re.fullmatch(r"[+-]?\d{1,9}(\.\d+)?", text) is None:
        raise mistake(
            f'"{text}" is not a plain number',
            "A number with a decimal point and no unit, of 9 digits at most before the point",
            "Write as 0.5",
        )
    return float(text)


def _read_count(text: str, us: bool) -> int:
    if re.fullmatch(r"\d{1,7}", text) is None:
        raise mistake(
            f'"{text}" is not a count', "A whole number, 0 or more, without a unit", "Count and write it"
        )
    return int(text)


def _read_fraction(text: str, us: bool) -> float:
    percent = re.fullmatch(r"(\d{1,3}(?:\.\d+)?) ?%", text)
    value = float(percent[1]) / 100 if percent else _read_number(text, us)
    if not 0 <= value <= 1:
        raise mistake(f'"{text}" is not a share', "A number from 0 to 1", "Write 62 % as 0.62")
    return value


def _read_ph(text: str, us: bool) -> float:
    value = _read_number(text, us)
    if not 0 <= value <= 14:
        raise mistake(f'"{text}" is not a pH', "A number from 0 to 14", "Read the meter again")
    return value


def _read_flag(text: str, us: bool) -> bool:
    if text.lower() not in ("yes", "no", "true", "false"):
        raise mistake(f'"{text}" is neither yes nor no', "yes, no, true or false", "Choose one")
    return text.lower() in ("yes", "true")


def _read_clock(text: str, us: bool) -> time:
    match = re.fullmatch(r"([01]\d|2[0-3]):([0-5]\d)", text)
    if match is None:
        raise mistake(
            f'"{text}" is not a clock time', "Hours and minutes on the 24 h clock: 06:30", "Write it so"
        )
    return time(int(match.group(1)), int(match.group(2)))


def shaped(pattern: str, what: str, allowed: str, remedy: str = "Write it so") -> BeforeValidator:
    """A text of this form; `what` is told of any other, as "not an id"."""

    def read(text: str, us: bool) -> str:
        if re.fullmatch(pattern, text) is None:
            raise mistake(f'"{text}" is {what}', allowed, remedy)
        return text

    return reader(read)


NAME_LENGTH, NOTE_LENGTH = 200, 2000
"""Characters: what stands in cells, on labels, in headings; what has a cell of its own."""


def _text_up_to(most: int) -> Any:
    def read(text: str, us: bool) -> str:
        if len(text) > most:
            raise mistake(f"the text has {len(text)} characters", f"At most {most}", "Shorten it")
        return text

    return reader(read), WithJsonSchema({"type": ["string", "number"], "maxLength": most})


def _read_bucket_test(text: str, us: bool) -> Quantity | None:
    return None if text.strip().lower() in ("none yet", "none") else parse_quantity(text, "volume_flow", us)


_NUMBER_SCHEMA: dict[str, Any] = {"type": "number"}
_FLAG_SCHEMA: dict[str, Any] = {"enum": [True, False, "yes", "no"]}

Length = _quantity("length")
ToolMeasure = _quantity("tool_measure")
Volume = _quantity("volume")
Mass = _quantity("mass")
VolumeOrMass = _quantity("volume_or_mass")
Duration = _quantity("duration")
Temperature = _quantity("temperature")
VolumeFlow = _quantity("volume_flow")
BucketTest = Annotated[
    Quantity | None,
    reader(_read_bucket_test),
    WithJsonSchema({"type": "string", "description": 'A flow such as "12 L/min", or "none yet"'}),
]
Airflow = _quantity("airflow")
VolumePerDay = _quantity("volume_per_day")
Power = _quantity("power")
Voltage = _quantity("voltage")
Current = _quantity("current")
Conductivity = _quantity("conductivity")
MassConcentration = _quantity("mass_concentration")
Density = _quantity("density")
DoseRate = Annotated[
    Quantity,
    reader(_read_dose),
    WithJsonSchema(
        {"type": "string", "description": 'A number with a unit, as "1.1 mL/L", or of dry feed as "0.6 g/L"'}
    ),
]
AreaRate = _quantity("area_rate")
Ppfd = _quantity("ppfd")
DailyLight = _quantity("daily_light")
MolarMass = _quantity("molar_mass")
Price = _money("")
EnergyPrice = _money("kWh")
Wage = _money("h")
StrengthField = Annotated[
    Strength,
    reader(lambda text, us: parse_strength(text)),
    WithJsonSchema({"type": "string", "description": "A strength with its basis, as 11.9 % w/w"}),
]
Number = Annotated[float, reader(_read_number), WithJsonSchema(_NUMBER_SCHEMA)]
Count = Annotated[int, reader(_read_count), WithJsonSchema({"type": "integer", "minimum": 0})]
Fraction = Annotated[
    float, reader(_read_fraction), WithJsonSchema({"type": "number", "minimum": 0, "maximum": 1})
]
Ph = Annotated[float, reader(_read_ph), WithJsonSchema({"type": "number", "minimum": 0, "maximum": 14})]
Flag = Annotated[bool, reader(_read_flag), WithJsonSchema(_FLAG_SCHEMA)]
Day = Annotated[
    date, reader(lambda text, us: read_day(text)), WithJsonSchema({"type": "string", "format": "date"})
]
ClockTime = Annotated[
    time, reader(_read_clock), WithJsonSchema({"type": "string", "pattern": r"^\d\d:\d\d$"})
]
Identifier = Annotated[
    str,
    shaped(
        r"[A-Za-z][A-Za-z0-9_-]{0,39}",
        "not an id",
        "Letters, digits, - and _, a letter first, at most 40",
        "Write it so, as part_1",
    ),
]
ProgramVersion = Annotated[
    str,
    shaped(r"\d{1,4}(\.\d{1,4}){2}", "no version of the program", "As `trayside --version` says it: 1.0.0"),
]
Name = Annotated[str, *_text_up_to(NAME_LENGTH)]
Text = Annotated[str, *_text_up_to(NOTE_LENGTH)]

K = TypeVar("K")
V = TypeVar("V")
Mapped = Annotated[Mapping[K, V], AfterValidator(MappingProxyType)]
"""Names and what stands under each, which nobody can change: `Mapped[Identifier, Text]`."""
