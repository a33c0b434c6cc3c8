"""The typed record under every fact of a house: strict field types, our own messages, and the place of each field.

Every scalar arrives as the text that was typed (`macros.source`); the types here read it. A mistake becomes a
`Problem` with file and line; nothing is guessed and no message names a type of the programming language.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date, time
from difflib import get_close_matches
from functools import cache
from typing import Annotated, Any, TypeVar, cast

from pydantic import BaseModel, BeforeValidator, ConfigDict, PrivateAttr, ValidationError, WithJsonSchema
from pydantic_core import ErrorDetails, PydanticCustomError

from macros.house.days import read_day
from macros.house.shape import field_names, record_at
from macros.problems import Place, Problem
from macros.source import Path_, Source, human_path
from macros.units import (
    Money,
    Quantity,
    QuantityMistake,
    Strength,
    example_of,
    parse_money,
    parse_quantity,
    parse_strength,
)

US = "us"
"""Context of a validation: the house writes US gallons as `gal`."""


class Record(BaseModel):
    """A part of the house (or of a page) that knows where each of its fields was written."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", arbitrary_types_allowed=True, populate_by_name=True, defer_build=True
    )

    _origin: tuple[Source, Path_] = PrivateAttr(default=(Source(), ()))

    @property
    def read_from(self) -> Source:
        """The files the record was read from."""
        return self._origin[0]

    @property
    def path(self) -> Path_:
        """Where the record stands in its file: names and list positions."""
        return self._origin[1]

    def place(self, field: str) -> Place:
        """File and line of a field (dotted for an entry of a mapping); of the record where the field is absent."""
        source, path = self._origin
        return source.place((*path, *self._written(field)))

    def item_place(self, field: str, index: int) -> Place:
        """File and line of one item of a list field."""
        source, path = self._origin
        return source.place((*path, *self._written(field), index))

    def key(self, field: str) -> str:
        """The field as a person names it: `systems[A].reservoir.inside_length`."""
        source, path = self._origin
        return human_path(source, (*path, *self._written(field)))

    def _written(self, field: str) -> tuple[str, ...]:
        head, _, rest = field.partition(".")
        head = _aliases(type(self)).get(head, head)
        return (head, *rest.split(".")) if rest else (head,)


@cache
def _aliases(model: type[Record]) -> dict[str, str]:
    """The fields of a record that a house writes under another name."""
    return {name: info.alias for name, info in model.model_fields.items() if info.alias}


def records_of(record: Record) -> Iterator[Record]:
    """The record and every record below it, in the order of their fields."""
    yield record
    for name in type(record).model_fields:
        value = getattr(record, name)
        inner = value.values() if isinstance(value, dict) else value if isinstance(value, tuple) else (value,)
        for item in inner:
            if isinstance(item, Record):
                yield from records_of(item)


R = TypeVar("R", bound=Record)


def build_record(
    model: type[R], source: Source, path: Path_ = (), us_gallons: bool = False
) -> tuple[R | None, list[Problem]]:
    """Type the data at `path` of a source as `model`.

    Returns
    -------
    The record, or None where it has a mistake; and every mistake found in it.
    """
    data = source.data
    for step in path:
        data = data[step]
    if not isinstance(data, dict):
        return None, [
            Problem(
                source.place(path),
                human_path(source, path) or "file",
                "this is not a list of names with values",
                "Write one `name: value` a line",
                "",
            )
        ]
    try:
        record = model.model_validate(data, context={US: us_gallons})
    except ValidationError as error:
        return None, [_problem(detail, model, source, path) for detail in error.errors(include_url=False)]
    _attach(record, path, source)
    return record, []


def _attach(record: Record, path: Path_, source: Source) -> None:
    record._origin = (source, path)
    for name, info in type(record).model_fields.items():
        here = (*path, info.alias or name)
        value = getattr(record, name)
        if isinstance(value, Record):
            _attach(value, here, source)
        elif isinstance(value, tuple):
            for index, item in enumerate(value):
                if isinstance(item, Record):
                    _attach(item, (*here, index), source)
        elif isinstance(value, dict):
            for key, item in value.items():
                if isinstance(item, Record):
                    _attach(item, (*here, key), source)


# ------------------------------------------------------------------ messages


def _problem(detail: ErrorDetails, model: type[Record], source: Source, base: Path_) -> Problem:
    loc = (*base, *detail["loc"])
    kind = detail["type"]
    key = human_path(source, loc)
    place = source.place(loc)
    typed = detail.get("input")
    if kind == "our_mistake":
        c = detail["ctx"]
        return Problem(place, key, c["what"], c["allowed"], c["remedy"], c["code"])
    if kind == "missing":
        return Problem(source.place(loc[:-1]), key, "this is missing", "It is needed", "Write it here", "E01")
    if kind == "extra_forbidden":
        return _unknown(loc, model, base, source)
    if kind == "literal_error":
        allowed = str(detail["ctx"]["expected"]).replace("'", "")
        return Problem(
            place, key, f'"{typed}" is not one of the words for this', f"Allowed: {allowed}", "Choose one"
        )
    if typed is None:
        return Problem(
            place, key, "nothing is written here", "A value is needed", "Write it, or remove the line"
        )
    if kind in ("tuple_type", "list_type"):
        return Problem(
            place, key, f'"{_short(typed)}" is not a list', "A list: [one, another]", "Put it in brackets"
        )
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return Problem(
            place,
            key,
            f'"{_short(typed)}" is a single value',
            "Here belong names with values",
            "Write `name: value` lines under it",
        )
    return Problem(
        place, key, f'"{_short(typed)}" does not fit here', "", "Look at the demo house for an example"
    )


def _short(value: Any) -> str:
    text = str(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _unknown(loc: Path_, model: type[Record], base: Path_, source: Source) -> Problem:
    """E31: names the nearest known field."""
    holder = record_at(model, loc[len(base) : -1])
    known = list(field_names(holder)) if holder else []
    name = str(loc[-1])
    near = get_close_matches(name, known, n=1, cutoff=0.5)
    parent = human_path(source, loc[:-1])
    suggestion = (
        f"Did you mean {parent + '.' if parent else ''}{near[0]}?" if near else f"Known: {', '.join(known)}"
    )
    what = f"{name} is not a known {'field' if len(loc) > 1 else 'section'}"
    return Problem(source.place(loc), human_path(source, loc), what, "", suggestion, "E31")


def mistake(what: str, allowed: str = "", remedy: str = "", code: str = "E01") -> PydanticCustomError:
    """An error of a field in our own words; raised inside a validator."""
    context = {"what": what, "allowed": allowed, "remedy": remedy, "code": code}
    return PydanticCustomError("our_mistake", "{what}", context)


# ------------------------------------------------------------------ field types


def _reader(read: Callable[[str, bool], Any]) -> BeforeValidator:
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
        Quantity, _reader(lambda text, us: parse_quantity(text, kind, us)), WithJsonSchema(cast(Any, schema))
    ]


def _money(per: str) -> Any:
    schema: dict[str, Any] = {"type": "string", "description": "A price with its currency, as 19.50 EUR"}
    return Annotated[Money, _reader(lambda text, us: parse_money(text, per)), WithJsonSchema(schema)]


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
    value = _read_number(text, us)
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


def _read_identifier(text: str, us: bool) -> str:
    if re.fullmatch(r"[A-Za-z][A-Za-z0-9_-]{0,39}", text) is None:
        raise mistake(
            f'"{text}" is not an id', "Letters, digits, - and _, a letter first, at most 40", "Choose another"
        )
    return text


def _read_version(text: str, us: bool) -> str:
    if re.fullmatch(r"\d{1,4}(\.\d{1,4}){2}", text) is None:
        raise mistake(
            f'"{text}" is no version of the program', "As `trayside --version` says it: 1.0.0", "Write it so"
        )
    return text


NAME_LENGTH, NOTE_LENGTH = 200, 2000
"""Characters: what stands in cells, on labels, in headings; what has a cell of its own."""


def _text_up_to(most: int) -> Any:
    def read(text: str, us: bool) -> str:
        if len(text) > most:
            raise mistake(f"the text has {len(text)} characters", f"At most {most}", "Shorten it")
        return text

    return _reader(read), WithJsonSchema({"type": ["string", "number"], "maxLength": most})


def _read_bucket_test(text: str, us: bool) -> Quantity | None:
    return None if text.strip().lower() in ("none yet", "none") else parse_quantity(text, "volume_flow", us)


_NUMBER_SCHEMA: dict[str, Any] = {"type": "number"}
_FLAG_SCHEMA: dict[str, Any] = {"enum": [True, False, "yes", "no"]}

Length = _quantity("length")
ToolMeasure = _quantity("tool_measure")
Area = _quantity("area")
Volume = _quantity("volume")
Mass = _quantity("mass")
VolumeOrMass = _quantity("volume_or_mass")
Duration = _quantity("duration")
Temperature = _quantity("temperature")
VolumeFlow = _quantity("volume_flow")
BucketTest = Annotated[
    Quantity | None,
    _reader(_read_bucket_test),
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
DoseRate = _quantity("dose_rate")
AreaRate = _quantity("area_rate")
Ppfd = _quantity("ppfd")
DailyLight = _quantity("daily_light")
MolarMass = _quantity("molar_mass")
Price = _money("")
EnergyPrice = _money("kWh")
Wage = _money("h")
StrengthField = Annotated[
    Strength,
    _reader(lambda text, us: parse_strength(text)),
    WithJsonSchema({"type": "string", "description": "A strength with its basis, as 11.9 % w/w"}),
]
Number = Annotated[float, _reader(_read_number), WithJsonSchema(_NUMBER_SCHEMA)]
Count = Annotated[int, _reader(_read_count), WithJsonSchema({"type": "integer", "minimum": 0})]
Fraction = Annotated[
    float, _reader(_read_fraction), WithJsonSchema({"type": "number", "minimum": 0, "maximum": 1})
]
Ph = Annotated[float, _reader(_read_ph), WithJsonSchema({"type": "number", "minimum": 0, "maximum": 14})]
Flag = Annotated[bool, _reader(_read_flag), WithJsonSchema(_FLAG_SCHEMA)]
Day = Annotated[
    date, _reader(lambda text, us: read_day(text)), WithJsonSchema({"type": "string", "format": "date"})
]
ClockTime = Annotated[
    time, _reader(_read_clock), WithJsonSchema({"type": "string", "pattern": r"^\d\d:\d\d$"})
]
Identifier = Annotated[str, _reader(_read_identifier)]
ProgramVersion = Annotated[str, _reader(_read_version)]
Name = Annotated[str, *_text_up_to(NAME_LENGTH)]
Text = Annotated[str, *_text_up_to(NOTE_LENGTH)]
