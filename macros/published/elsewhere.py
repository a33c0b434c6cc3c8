"""Words of published files that name something of a higher room: marked by their type, looked up where all is read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from macros.ground.records import Record
from macros.ground.yaml_source import Path_


@dataclass(frozen=True)
class Elsewhere:
    """A mark of a field's type: its word is the name of a thing of this kind."""

    kind: str


def words_elsewhere(record: Record) -> Iterator[tuple[str, str, Path_]]:
    """Every marked word of a record and of those below it: kind, word, and where it stands in its file."""
    for name, written, type_, marks in _marked_fields(type(record)):
        yield from _words(type_, marks, getattr(record, name), (*record.path, written))


@cache
def _marked_fields(model: type[Record]) -> tuple[tuple[str, str, Any, tuple[Any, ...]], ...]:
    """The fields that hold a mark, themselves or below: name, name in the file, type and its notes."""
    fields = (
        (name, info.alias or name, info.annotation, tuple(info.metadata))
        for name, info in model.model_fields.items()
    )
    return tuple(field for field in fields if _holds_mark(*field[2:]))


def _holds_mark(type_: Any, marks: tuple[Any, ...] = ()) -> bool:
    if isinstance(type_, type) and issubclass(type_, Record):
        return True  # a record may hold itself
    return any(isinstance(mark, Elsewhere) for mark in (*marks, *getattr(type_, "__metadata__", ()))) or any(
        _holds_mark(part) for part in get_args(type_)
    )


def _words(type_: Any, marks: Iterable[Any], value: Any, path: Path_) -> Iterator[tuple[str, str, Path_]]:
    if value is None or value == "":
        return
    while get_origin(type_) in (Annotated, Union, UnionType):
        marks = (*marks, *getattr(type_, "__metadata__", ()))
        type_ = get_args(type_)[0]
    yield from ((mark.kind, value, path) for mark in marks if isinstance(mark, Elsewhere))
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
