"""The typed record under every fact of a house: strict field types, our own messages, and the place of each field.

Every scalar arrives as the text that was typed (`macros.ground.yaml_source`); the types here read it. A mistake becomes a
`Problem` with file and line; nothing is guessed and no message names a type of the programming language.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from functools import cache
from types import MappingProxyType
from typing import Any, ClassVar, TypeVar

from pydantic import BaseModel, ConfigDict, PrivateAttr, ValidationError
from pydantic_core import ErrorDetails, PydanticCustomError

from macros.ground.problems import Place, Problem
from macros.ground.record_shape import field_names, record_at
from macros.ground.yaml_source import Path_, Source, human_path

US = "us"
"""Context of a validation: the house writes US gallons as `gal`."""


MISSING = "this is missing"
"""What is said of a field without which a record cannot be; not where the same field stands there misspelt."""

_MAPPINGS = (dict, MappingProxyType)
_NOWHERE: tuple[Source, Path_] = (Source(), ())
"""Where a record stands that was read from no file; made once, for a default would be copied for each record."""


class Record(BaseModel):
    """A part of the house (or of a page) that knows where each of its fields was written."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", arbitrary_types_allowed=True, populate_by_name=True, defer_build=True
    )

    alone: ClassVar[str] = ""
    """The field that a text in the place of the record stands for."""

    why_needed: ClassVar[Mapping[str, tuple[str, str]]] = {}
    """Fields whose lack says more than a slip: what the record is then, and what to do."""

    _origin: tuple[Source, Path_] = PrivateAttr(default_factory=lambda: _NOWHERE)

    @property
    def read_from(self) -> Source:
        """The files the record was read from."""
        return self._origin[0]

    @property
    def path(self) -> Path_:
        """Where the record stands in its file: names and list positions."""
        return self._origin[1]

    @property
    def as_written(self) -> Any:
        """The entry as it stands in its file, every value as text."""
        data = self.read_from.data
        for step in self.path:
            data = data[step]
        return data

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
        aliases = _aliases(type(self))
        if head not in type(self).model_fields and head not in aliases.values():
            raise AttributeError(f"a {type(self).__name__} has no field {head}")  # our own slip, not a place
        head = aliases.get(head, head)
        return (head, *rest.split(".")) if rest else (head,)


@cache
def _aliases(model: type[Record]) -> dict[str, str]:
    """The fields of a record that a house writes under another name."""
    return {name: info.alias for name, info in model.model_fields.items() if info.alias}


def records_of(record: Record) -> Iterator[Record]:
    """The record and every record below it, in the order of their fields."""
    yield record
    for _, item in _inner(record):
        yield from records_of(item)


@cache
def _ways(model: type[Record]) -> tuple[tuple[str, str], ...]:
    """Each field of a record, and the name a house writes it under."""
    return tuple((name, info.alias or name) for name, info in model.model_fields.items())


def _inner(record: Record) -> Iterator[tuple[Path_, Record]]:
    """The records in the fields of a record, in its lists and mappings: each with the way to it."""
    values = record.__dict__
    for name, way in _ways(type(record)):
        value = values.get(name)
        if isinstance(value, Record):
            yield (way,), value
        elif isinstance(value, (tuple, *_MAPPINGS)):
            items = enumerate(value) if isinstance(value, tuple) else value.items()
            yield from (((way, step), item) for step, item in items if isinstance(item, Record))


R = TypeVar("R", bound=Record)


MOST_NEAR = 200
"""Unknown names of one file for which the nearest known one is looked for: a slip of a program makes thousands."""


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
        details = error.errors(include_url=False)
        found = [_problem(one, model, source, path, n < MOST_NEAR) for n, one in enumerate(details)]
        misspelt = {problem.remedy for problem in found if problem.code == "E31"}
        return None, [
            one for one in found if one.what != MISSING or f"Did you mean {one.key}?" not in misspelt
        ]
    _attach(record, path, source)
    return record, []


def _attach(record: Record, path: Path_, source: Source) -> None:
    record._origin = (source, path)
    for way, item in _inner(record):
        _attach(item, (*path, *way), source)


# ------------------------------------------------------------------ messages


def _problem(
    detail: ErrorDetails, model: type[Record], source: Source, base: Path_, near: bool = True
) -> Problem:
    loc, kind = (*base, *detail["loc"]), detail["type"]
    if loc and loc[-1] == "[key]":  # a name of a mapping is at fault, not what stands under it
        loc = loc[:-1]
    key = human_path(source, loc)
    place = source.place(loc)
    typed = detail.get("input")
    if kind == "our_mistake":
        return _in_own_words(place, key, detail)
    if kind == "missing":
        holder = record_at(model, loc[len(base) : -1])
        why, remedy = getattr(holder, "why_needed", {}).get(loc[-1], ("It is needed", "Write it here"))
        return Problem(source.place(loc[:-1]), key, MISSING, why, remedy, "E01")
    if kind == "extra_forbidden":
        return _unknown(loc, model, base, source, near)
    if kind == "literal_error":
        allowed = str(detail["ctx"]["expected"]).replace("'", "")
        meant = nearest(str(typed), re.split(", | or ", allowed)) if near else ""
        what = f'"{typed}" is not one of the words for this'
        return Problem(place, key, what, f"Allowed: {allowed}", meant or "Choose one")
    if typed is None:
        return Problem(
            place, key, "nothing is written here", "A value is needed", "Write it, or remove the line"
        )
    if kind in ("tuple_type", "list_type", "frozen_set_type"):
        return Problem(
            place, key, f'"{_short(typed)}" is not a list', "A list: [one, another]", "Put it in brackets"
        )
    if kind in ("model_type", "model_attributes_type", "dict_type", "mapping_type"):
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


def _in_own_words(place: Place, key: str, detail: ErrorDetails) -> Problem:
    typed, told = detail.get("input"), detail["ctx"]
    if isinstance(typed, str) and typed.count('"') % 2:
        what, inches = f"a quote stands alone in {typed}", re.fullmatch(r'([\d./ -]+)"', typed)
        remedy = "Write a quote at both ends of the text, or at neither"
        if inches is not None:  # the mark of a tape measure
            remedy = f'For inches write "{inches.group(1).strip()} in"'
        return Problem(place, key, what, "", remedy)
    return Problem(place, key, told["what"], told["allowed"], told["remedy"], told["code"])


def _short(value: Any) -> str:
    text = str(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _unknown(loc: Path_, model: type[Record], base: Path_, source: Source, near: bool) -> Problem:
    """E31: names the nearest known field, where it is looked for."""
    holder = record_at(model, loc[len(base) : -1])
    known = list(field_names(holder)) if holder else []
    name = str(loc[-1])
    start, colon, rest = name.partition(":")
    if colon and start in known:
        what = f"there is no space after the colon of {start}"
        return Problem(
            source.place(loc),
            human_path(source, (*loc[:-1], start)),
            what,
            "",
            f"Write {start}: {rest}",
            "E31",
        )
    if re.fullmatch(r"\d+( \S*)?", name):
        what = f'"{name}" stands where a name is expected'
        remedy = "A decimal comma splits a number in two: write a decimal point"
        return Problem(source.place(loc), human_path(source, loc), what, "", remedy, "E31")
    parent = human_path(source, loc[:-1])
    found = nearest(name, known, parent and parent + ".") if near else ""
    suggestion = found or f"Known: {', '.join(known)}"
    what = f"{name} is not a known {'field' if len(loc) > 1 else 'section'}"
    return Problem(source.place(loc), human_path(source, loc), what, "", suggestion, "E31")


def nearest(word: str, known: Iterable[str], before: str = "") -> str:
    """The question whether the nearest known word was meant; empty where none is near."""
    there = list(known)
    near = [one for one in there if one.lower() == word.lower()] or get_close_matches(
        word, there, n=1, cutoff=0.5
    )
    return f"Did you mean {before}{near[0]}?" if near else ""


def mistake(what: str, allowed: str = "", remedy: str = "", code: str = "E01") -> PydanticCustomError:
    """An error of a field in our own words; raised inside a validator."""
    context = {"what": what, "allowed": allowed, "remedy": remedy, "code": code}
    return PydanticCustomError("our_mistake", "{what}", context)
