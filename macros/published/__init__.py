"""Published values: facts that change when a source changes, never when a house does; one YAML file a topic, its records beside it.

What you may touch here: a value with its source, a caution, an action, a word of a list; a new field goes into the
record as well. Never a value of one house.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

from macros.ground.problems import DataProblems, Problem
from macros.ground.records import Record, build_record
from macros.ground.yaml_source import Source, read_yaml

_FOLDER = Path(__file__).parent


def files() -> list[Path]:
    """Every published file, in the order of its name, whatever folder it stands in."""
    return sorted(_FOLDER.rglob("*.yml"), key=lambda path: path.name)


@cache
def source_of(topic: str) -> Source:
    """The file `published/<topic>.yml` as it was read, with the line of every entry.

    Raises
    ------
    DataProblems
        the file is not readable YAML.
    """
    (path,) = _FOLDER.rglob(f"{topic}.yml")
    source, problems = read_yaml(path, f"macros/published/{path.relative_to(_FOLDER).as_posix()}")
    if source is None or problems:
        raise DataProblems(problems)
    return source


R = TypeVar("R", bound=Record)


def published(model: type[R], topic: str) -> R:
    """The file `published/<topic>.yml` as a typed record, which knows file and line of each of its fields.

    Raises
    ------
    DataProblems
        the file is not readable YAML, holds a field nobody knows, or a value that does not fit: all of them at once.
    """
    record: R = _record(model, topic)
    return record


@cache
def _record(model: type[Record], topic: str) -> Any:
    record, problems = build_record(model, source_of(topic))
    if record is None:
        raise DataProblems(problems)
    return record


def published_rows(model: type[R], topic: str) -> Mapping[Any, R]:
    """The file `published/<topic>.yml` that is rows alone: their names, or positions in a list -> typed record.

    Raises
    ------
    DataProblems
        as `published`; the mistakes of all rows at once.
    """
    rows: Mapping[Any, R] = _rows(model, topic)
    return rows


@cache
def _rows(model: type[Record], topic: str) -> Any:
    source = source_of(topic)
    rows: dict[Any, Record] = {}
    problems: list[Problem] = []
    for name in source.data if isinstance(source.data, dict) else range(len(source.data or ())):
        record, mistakes = build_record(model, source, (name,))
        problems += mistakes
        if record is not None:
            rows[name] = record
    if problems:
        raise DataProblems(problems)
    return MappingProxyType(rows)
