"""Misspells every key and every choice of published files, one at a time, and counts what is told with file and line.

    python -m tests.benchmarks.misspelt_published [TOPIC...]

Which words are keys and choices follows from the record types: a field name, a yes or no, a word of a list, a name that
another place declares, a {slot}. Free prose and numbers are left out. A name that is declared in the file itself is
told where what names it no longer finds it; the shipped procedures count as well.
"""

from __future__ import annotations

import copy
import sys
from collections.abc import Iterator, Mapping
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin
from unittest import mock

import macros.published
from macros.ground import field_types
from macros.ground.problems import Problem
from macros.ground.record_shape import field_names
from macros.ground.records import Record
from macros.ground.yaml_source import Path_, Source, read_yaml
from macros.house import House, load_house
from macros.house.rules.plausible_ranges import check_ranges
from macros.manual.procedures.load_files import load_procedures
from macros.published.index.topics import OF_ROWS, TOPICS, all_published_problems
from macros.published.names import slots_in
from tests.making import HOUSES, PROCEDURES
from tests.published_files import FOLDER, forget, shown

PROSE = {id(note) for kind in (field_types.Text, field_types.Name) for note in kind.__metadata__}
NUMBERS = {
    id(note)
    for kind in (field_types.Number, field_types.Count, field_types.Fraction, field_types.Ph)
    for note in kind.__metadata__
}


def words_of(kind: Any, data: Any, path: Path_) -> Iterator[tuple[Path_, bool, str]]:
    """Each word below: its path, whether it is the name there, and the word."""
    kind, notes = _bare(kind)
    if isinstance(kind, type) and issubclass(kind, Record):
        names = field_names(kind)
        for name, value in data.items():
            yield (*path, name), True, name
            info = kind.model_fields[names[name]]
            yield from words_of(Annotated[(info.annotation, *info.metadata, None)], value, (*path, name))
    elif get_origin(kind) in (dict, Mapping):
        key_kind, value_kind = get_args(kind)
        for name, value in data.items():
            if _is_word(_bare(key_kind)[1]):
                yield (*path, name), True, name
            yield from words_of(value_kind, value, (*path, name))
    elif get_origin(kind) in (tuple, frozenset):
        for index, value in enumerate(data):
            yield from words_of(get_args(kind)[0], value, (*path, index))
    elif _is_word(notes):
        yield path, False, str(data)
    else:
        for slot in slots_in(data) if {id(note) for note in notes} & PROSE else ():
            yield path, False, slot


def _bare(kind: Any) -> tuple[Any, list[Any]]:
    """The type without its notes and without "or nothing", and the notes."""
    notes: list[Any] = []
    while get_origin(kind) in (Annotated, Union, UnionType):
        if get_origin(kind) is Annotated:
            notes += kind.__metadata__
            kind = get_args(kind)[0]
        else:
            kind = next(part for part in get_args(kind) if part is not type(None))
    return kind, notes


def _is_word(notes: list[Any]) -> bool:
    return not {id(note) for note in notes} & (PROSE | NUMBERS)


def misspelt(source: Source, path: Path_, is_name: bool, word: str) -> Source:
    """The file with one letter too much in that word."""
    wrong = f"{word[:1]}q{word[1:]}"
    *above, last = path
    data = copy.deepcopy(source.data)
    holder = data
    for step in above:
        holder = holder[step]
    if not is_name:
        holder[last] = wrong if holder[last] == word else holder[last].replace(f"{{{word}}}", f"{{{wrong}}}")
        return Source(data, source.places, source.file)
    entries = [(wrong if name == last else name, value) for name, value in holder.items()]
    holder.clear()
    holder.update(entries)
    depth = len(above)
    places = {
        (*above, wrong, *where[depth + 1 :]) if where[: depth + 1] == path else where: place
        for where, place in source.places.items()
    }
    return Source(data, places, source.file)


def told(house: House) -> list[Problem]:
    """What a person is told of the published files as they read now."""
    return all_published_problems() or check_ranges(house) or load_procedures(PROCEDURES)[1]


def main(topics: list[str]) -> int:
    """Every word of these files; the number of words that nothing told."""
    read = {path.stem: read_yaml(path, shown(path.stem)) for path in FOLDER.rglob("*.yml")}
    house, _ = load_house(HOUSES / "first")
    assert house is not None
    untold = 0
    for topic in topics:
        source = read[topic][0]
        assert source is not None
        kind = Mapping[str, TOPICS[topic]] if isinstance(source.data, dict) else tuple[TOPICS[topic], ...]  # type: ignore[misc]
        words = list(words_of(kind if topic in OF_ROWS else TOPICS[topic], source.data, ()))
        silent = []
        for path, is_name, word in words:
            wrong = {**read, topic: (misspelt(source, path, is_name, word), [])}
            with mock.patch.object(
                macros.published, "read_yaml", lambda file, shown, now=wrong: now[file.stem]
            ):
                forget()
                if not any(problem.place.line for problem in told(house)):
                    silent.append(f"  {source.place(path)}: {word}")
        print(
            f"{topic}: {len(words)} words, {len(words) - len(silent)} told, {len(silent)} not told",
            *silent,
            sep="\n",
        )
        untold += len(silent)
    forget()
    return untold


if __name__ == "__main__":
    sys.exit(1 if main(sys.argv[1:] or sorted(TOPICS)) else 0)
