"""Texts of records that show nothing where something must be read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from macros.ground.problems import Problem
from macros.ground.records import Record, records_of
from macros.ground.seen import shows_nothing


def empty_texts(record: Record) -> Iterator[Problem]:
    """Every text in a record and below it that is empty, blank or made of characters nobody sees.

    A text that is left empty by default may be written as empty.
    """
    for one in records_of(record):
        for name, value in vars(one).items():
            for field, text in _texts(name, value):
                if shows_nothing(text) and not (text == "" and type(one).model_fields[name].default == ""):
                    yield Problem(
                        one.place(field),
                        one.key(field),
                        "nothing that can be read is written here",
                        "What stands here is printed, and somebody looks for it",
                        "Write it, or remove the line",
                        "E01",
                    )


def _texts(name: str, value: Any) -> Iterator[tuple[str, str]]:
    if isinstance(value, str):
        yield name, value
    elif isinstance(value, tuple):
        yield from ((name, item) for item in value if isinstance(item, str))
    elif isinstance(value, Mapping):
        yield from ((f"{name}.{key}", item) for key, item in value.items() if isinstance(item, str))
