"""Words that name something: the mark of a field's type that says of which kind, and the one walk that looks each up."""

from __future__ import annotations

import string
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, partial
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from macros.ground.problems import Place, Problem
from macros.ground.record_shape import is_record
from macros.ground.records import nearest
from macros.ground.yaml_source import Path_, Source, human_path

Unknown = tuple[str, str, Collection[str]]
"""A word that names nothing: the word, what kind of name it should be, and the names there are."""
Names = Collection[str] | Callable[[str], Unknown | None]
"""The names of a kind, or what tells whether a word is one."""


@dataclass(frozen=True)
class NameOf:
    """Mark of a field's type: its word is a name of this kind.

    `names` gives those that published files declare; those of other rooms are handed to the walk, by the kind.
    """

    kind: str
    names: Callable[[], Collection[str]] | None = None

    def words(self, text: str) -> tuple[str, ...]:
        """The words of the text that are looked up."""
        return (text,)

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        return {**handler(schema), **({"enum": [*self.names()]} if self.names else {})}


class Gaps(NameOf):
    """Mark of a text: each name in {braces} is one of these, which fill it."""

    def words(self, text: str) -> tuple[str, ...]:
        """The names in braces."""
        return slots_in(text)

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        return dict(handler(schema))


class NameOrText(NameOf):
    """Mark of a word of a page: a name of this kind, or a text with words in braces, which are looked up as texts are."""

    def words(self, text: str) -> tuple[str, ...]:
        """The text where it is the name itself."""
        return () if "{" in text else (text,)


Word = tuple[NameOf, str, Path_]
Walk = Callable[[Any, Path_], Iterator[Word]]


def gaps(*names: str) -> Gaps:
    """The mark of a text that is filled with these."""
    return Gaps("gap of this text", lambda: names)


def slots_in(text: str) -> tuple[str, ...]:
    """The names in {braces}, each once, in order; a brace that stands alone is such a name itself."""
    try:
        return tuple(dict.fromkeys(name for _, name, _, _ in string.Formatter().parse(text) if name))
    except ValueError:
        return ("{ or }",)


def unknown_word(place: Place, key: str, word: str, kind: str, known: Collection[str]) -> Problem:
    """The problem of a word that names nothing: what was read, what is allowed, the nearest known word."""
    names = sorted(known) if isinstance(known, set | frozenset) else [*dict.fromkeys(known)]
    allowed = f"Allowed: {', '.join(names)}" if names else ""
    return Problem(
        place,
        key,
        f'"{word}" is no {kind}',
        allowed,
        nearest(word, names) or ("Choose one" if names else "Mend it"),
        "E31",
    )


def unknown_names(
    type_: Any, source: Source, path: Path_ = (), handed: Mapping[str, Names] | None = None
) -> list[Problem]:
    """Every marked word below `path` of a source, whose data are of this type, that names nothing of its kind.

    The data are walked as they were written, so that a mistake in one field hides no other. A kind with no names of its
    own that is not `handed` is passed over.
    """
    data = source.data
    for step in path:
        data = data[step]
    return [
        unknown_word(source.place(where), human_path(source, where), *unknown)
        for mark, text, where in marked_words(type_, data, path)
        for unknown in _unknown(mark, text, handed or {})
    ]


def marked_words(type_: Any, data: Any, path: Path_ = ()) -> Iterator[Word]:
    """Every marked text of data of this type: its mark, the text as written, and where it stands."""
    walk = _walk(type_)
    yield from walk(data, path) if walk else ()


def _unknown(mark: NameOf, text: str, handed: Mapping[str, Names]) -> Iterator[Unknown]:
    names = mark.names() if mark.names else handed.get(mark.kind, ())
    for word in mark.words(text):
        if callable(names):
            unknown = names(word)
            if unknown is not None:
                yield unknown
        elif names and word not in names:  # where nothing declares a name, that is told already
            yield word, mark.kind, names


def _walk(type_: Any, notes: tuple[Any, ...] = ()) -> Walk | None:
    """What yields the marked words of data of this type; None where it holds no mark."""
    type_, notes = _bare(type_, notes)
    if is_record(type_):
        return partial(_in_record, type_)  # a record may hold itself
    inner = [_walk(part) for part in get_args(type_) if part is not Ellipsis]
    if get_origin(type_) in (tuple, frozenset):
        return partial(_in_list, inner[0]) if inner[0] else None
    if get_origin(type_) in (dict, Mapping):
        return partial(_in_mapping, inner[0], inner[1]) if any(inner) else None
    marks = [note for note in notes if isinstance(note, NameOf)]
    return partial(_in_text, marks) if marks else None


def _bare(type_: Any, notes: tuple[Any, ...]) -> tuple[Any, tuple[Any, ...]]:
    """The type without "or nothing", and all notes on it."""
    while get_origin(type_) in (Annotated, Union, UnionType):
        notes = (*notes, *getattr(type_, "__metadata__", ()))
        type_ = next(part for part in get_args(type_) if part is not type(None))
    return type_, notes


@cache
def _fields(model: Any) -> dict[str, Walk]:
    """The fields that hold a mark, themselves or below, by their names in the file."""
    walks = {
        info.alias or name: _walk(info.annotation, tuple(info.metadata))
        for name, info in model.model_fields.items()
    }
    return {name: walk for name, walk in walks.items() if walk}


def _in_record(model: Any, data: Any, path: Path_) -> Iterator[Word]:
    if isinstance(data, str) and model.alone:
        data = {model.alone: data}
    for name, walk in _fields(model).items() if isinstance(data, dict) else ():
        if name in data:
            yield from walk(data[name], (*path, name))


def _in_list(item: Walk, data: Any, path: Path_) -> Iterator[Word]:
    for index, value in enumerate(data) if isinstance(data, list) else ():
        yield from item(value, (*path, index))


def _in_mapping(name: Walk | None, value: Walk | None, data: Any, path: Path_) -> Iterator[Word]:
    for key, below in data.items() if isinstance(data, dict) else ():
        if name:
            yield from name(key, (*path, key))
        if value:
            yield from value(below, (*path, key))


def _in_text(marks: list[NameOf], data: Any, path: Path_) -> Iterator[Word]:
    if isinstance(data, str) and data:
        yield from ((mark, data, path) for mark in marks)
