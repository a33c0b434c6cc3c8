"""Words of published files that name something of a higher room: marked by their type, looked up where all is read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from macros.records import Record
from macros.source import Path_


@dataclass(frozen=True)
class NameOf:
    """A mark of a field's type: its word is the name of a thing of this kind."""

    kind: str


def words_elsewhere(record: Record) -> Iterator[tuple[str, str, Path_]]:
    """Every marked word of a record and of those below it: kind, word, and where it stands in its file."""
    for name, info in type(record).model_fields.items():
        yield from _words(
            info.annotation, info.metadata, getattr(record, name), (*record.path, info.alias or name)
        )


def _words(type_: Any, marks: Iterable[Any], value: Any, path: Path_) -> Iterator[tuple[str, str, Path_]]:
    if value is None or value == "":
        return
    while get_origin(type_) in (Annotated, Union, UnionType):
        marks = (*marks, *getattr(type_, "__metadata__", ()))
        type_ = get_args(type_)[0]
    yield from ((mark.kind, value, path) for mark in marks if isinstance(mark, NameOf))
    if isinstance(value, Record):
        yield from words_elsewhere(value)
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            yield from _words(get_args(type_)[0], (), item, (*path, index))
    elif isinstance(value, Mapping):
        names, values = get_args(type_)
        for name, item in value.items():
            yield from _words(names, (), name, (*path, name))
            yield from _words(values, (), item, (*path, name))
