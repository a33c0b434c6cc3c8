"""Every fact a house has or may have, by walking the records: what is typed, what may be added."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Annotated, Any, Literal, cast, get_args, get_origin

from pydantic.fields import FieldInfo

from macros.ground.record_shape import field_names, is_record, plain_type
from macros.ground.records import Record
from macros.ground.yaml_source import Path_, Source, human_path
from macros.house.files.facts_as_written import HISTORY, LOG, RECORDS
from macros.house.files.write_fact import Value
from macros.house.records.house import House

NOT_TYPED = (*HISTORY, LOG, RECORDS)
"""Sections that tell what was done and read day by day; they are no facts of the room."""

_ONE_OF = {
    "people": "helper",
    "systems": "tank with its trays",
    "parts_to_soak": "part to soak",
    "photos": "photograph",
}
"""One of a list, where the name of the list does not say it."""
_SAID = {"ph": "pH", "ec": "EC", "ppfd": "PPFD", "caco3": "CaCO3", "sds": "SDS", "rcd": "residual-current device", "id": "short name", "basis": "where from"}  # fmt: skip
"""Words of fields that people write or say otherwise."""
_ENTRY = re.compile(r"(\w+)\[([^\]]*)\]")


@dataclass(frozen=True)
class Fact:
    """One fact: where it stands, of which record, whether it must be given, and its value as written (None: not given).

    `is_list` has several values; `annotation` is what one answer is held against.
    """

    path: Path_
    name: str
    record: type[Record]
    field: str
    annotation: Any
    required: bool
    is_list: bool
    value: Value | None = None

    @property
    def words(self) -> str:
        """The field as people say it: `inside length`, `canopy PPFD`."""
        return " ".join(_SAID.get(word, word) for word in self.field.split("_"))

    @property
    def of(self) -> str:
        """What it is a fact of: `system A, reservoir`."""
        return in_words(self.name.rpartition(".")[0])


@dataclass(frozen=True)
class Addition:
    """A part of a house that may be added: a record that is not there, or one more entry of a list or mapping."""

    path: Path_
    name: str
    kind: Literal["record", "entry", "named", "named value"]
    record: type[Record]
    annotation: Any = None

    @property
    def words(self) -> str:
        """What is added, as people say it: `chemical`, `air stones`."""
        last = str(self.path[-1])
        return (_one_of(last) if self.kind != "record" else last).replace("_", " ")


def _one_of(section: str) -> str:
    return _ONE_OF.get(section) or re.sub(r"s$", "", re.sub(r"ies$", "ys", section))


def in_words(name: str) -> str:
    """The name of a record as people say it: `systems[A].reservoir` is `system A, reservoir`."""
    parts = [_ENTRY.sub(_named, part).replace("_", " ") for part in re.split(r"\.(?![^\[]*\])", name) if part]
    return ", ".join(parts)


def _named(match: re.Match[str]) -> str:
    section, entry = match.groups()
    if entry.isdigit():  # it has no name yet
        return f"new {_one_of(section)}"
    return entry if len(entry) > 2 else f"{section.removesuffix('s')} {entry}"


def facts_of(source: Source) -> Iterator[Fact | Addition]:
    """Every fact of the house and everything that may be added, in the order of the records."""
    for one in _walk(House, source.data, (), frozenset(NOT_TYPED)):
        yield replace(one, name=human_path(source, one.path))


def new_facts(addition: Addition) -> list[Fact | Addition]:
    """What a part that is not there yet may hold, its inner records that must be given among it; named after it."""
    depth = len(addition.path)
    found = _walk(addition.record, {}, addition.path, frozenset(), into_needed=True)
    return [replace(one, name=".".join([addition.name, *map(str, one.path[depth:])])) for one in found]


def _walk(
    record: type[Record], data: Any, path: Path_, left_out: frozenset[str], into_needed: bool = False
) -> Iterator[Fact | Addition]:
    data = data if isinstance(data, dict) else {}
    for written, name in field_names(record).items():
        if written in left_out:
            continue
        info, here, value = record.model_fields[name], (*path, written), data.get(written)
        kind, inner = _kind(cast(Any, info.annotation))
        if kind == "record":
            if isinstance(value, dict) or (into_needed and info.is_required()):
                yield from _walk(inner, value, here, frozenset(), into_needed)
            else:
                yield Addition(here, "", "record", inner)
        elif kind == "entry":
            yield from _entries(value or (), here, inner)
        elif kind == "named":
            yield from _named_entries(record, value or {}, here, inner)
        else:
            needed, several = info.is_required(), kind == "list"
            yield Fact(here, "", record, written, _annotated(info), needed, several, _value(value))


def _entries(data: Sequence[Any], path: Path_, inner: type[Record]) -> Iterator[Fact | Addition]:
    for number, item in enumerate(data):
        yield from _walk(inner, item, (*path, number), frozenset())
    yield Addition(path, "", "entry", inner)


def _named_entries(
    record: type[Record], data: Mapping[str, Any], path: Path_, inner: Any
) -> Iterator[Fact | Addition]:
    """What stands in a mapping of names: a record or a value under each, and one more of them."""
    if is_record(inner):
        for key, item in data.items():
            yield from _walk(inner, item, (*path, key), frozenset())
        yield Addition(path, "", "named", inner)
        return
    for key, item in data.items():
        yield _named_value(record, (*path, key), inner, item)
    yield Addition(path, "", "named value", record, inner)


def _named_value(record: type[Record], path: Path_, annotation: Any, value: Any) -> Fact:
    is_list = _kind(annotation)[0] == "list"
    return Fact(path, "", record, str(path[-1]), annotation, False, is_list, _value(value))


def is_list(addition: Addition) -> bool:
    """Whether one more value of a mapping is a list."""
    return _kind(addition.annotation)[0] == "list"


def _value(value: Any) -> Value | None:
    if isinstance(value, list):
        return tuple(str(one) for one in value)
    return None if value is None else str(value)


def _annotated(info: FieldInfo) -> Any:
    """The type of a field with the notes that pydantic keeps apart from it."""
    return Annotated[info.annotation, *info.metadata] if info.metadata else info.annotation


@cache
def _kind(annotation: Any) -> tuple[Literal["record", "entry", "named", "list", "value"], Any]:
    """What stands in a field, and the type of what is inside."""
    plain = plain_type(annotation)
    if is_record(plain):
        return "record", plain
    if get_origin(plain) is tuple:
        item = get_args(plain)[0]
        return ("entry", plain_type(item)) if is_record(plain_type(item)) else ("list", item)
    if get_origin(plain) in (dict, Mapping):
        item = get_args(plain)[1]
        return "named", plain_type(item) if is_record(plain_type(item)) else item
    return "value", annotation
