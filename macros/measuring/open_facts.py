"""Which facts of a house are open: the starter's values, what is assumed, what waits to be filled in, what amounts lack."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from macros.amounts import Register
from macros.amounts.engine.amount import key_of
from macros.amounts.not_given import not_given
from macros.ground.yaml_source import Path_, Source
from macros.house.files.starter_explanations import starter_facts
from macros.house.records.room import PLACEHOLDER
from macros.measuring.answers import starter_given
from macros.measuring.checked import is_checked
from macros.measuring.facts import Addition, Fact

Why = Literal["to fill in", "assumed", "starter", "missing"]
NOT_ASKED = ("house.made_with", "house.language", "house.unit_style")
"""Facts of the program, not of a room."""
_LEAST = 30
"""Characters from which a comment is the starter's own and nobody else's."""


@dataclass(frozen=True)
class Open:
    """What is open, and why. `waiting` are the amounts that are not worked out for want of it."""

    what: Fact | Addition
    why: Why
    waiting: tuple[str, ...] = ()


def open_facts(found: Iterable[Fact | Addition], source: Source, register: Register) -> Iterator[Open]:
    """All that is open of what `facts_of(source)` found, in the order of the records."""
    waiting, judge = _waiting(register), _Judge(source, register.house.us)
    for one in found:
        if one.name in NOT_ASKED:
            continue
        names = waiting.get(one.name, ())
        if isinstance(one, Addition):
            if one.kind == "record" and names:
                yield Open(one, "missing", names)
        elif one.value is None:
            if names:
                yield Open(one, "missing", names)
        elif (why := judge.why(one)) is not None:
            yield Open(one, why)


class _Judge:
    """Tells of a fact that stands in a house file whether it is open."""

    def __init__(self, source: Source, us: bool) -> None:
        self.source, self.given = source, starter_given(us)
        self.starters = {f for f, text in source.texts.items() if _comments(text) & _starter_comments(us)}
        self.lines = {file: text.split("\n") for file, text in source.texts.items()}

    def why(self, fact: Fact) -> Why | None:
        """Why it is open; None where it is the owner's own."""
        if PLACEHOLDER in str(fact.value).lower():
            return "to fill in"
        place = self.source.place(fact.path)
        if place.file in self.lines and is_checked(self.lines[place.file][place.line - 1], fact.field):
            return None
        basis = _basis(self.source.data, fact.path)
        if basis == "assumption":
            return "assumed"
        if basis is None and place.file in self.starters and _same(self.given.get(fact.name), fact):
            return "starter"
        return None


def _same(starter: Fact | None, fact: Fact) -> bool:
    return starter is not None and starter.value == fact.value


def _basis(data: Any, path: Path_) -> str | None:
    """Where the nearest record above a fact says its values are from; None where none says it."""
    found: str | None = None
    for step in path:
        if isinstance(data, dict) and isinstance(data.get("basis"), str):
            found = data["basis"]
        data = (
            data[int(step)] if isinstance(data, list) else data.get(step) if isinstance(data, dict) else None
        )
    return found


def _waiting(register: Register) -> dict[str, tuple[str, ...]]:
    """Fact or part of a house -> keys of the amounts that wait for it. What a missing record lacks, waits for it too."""
    found: dict[str, tuple[str, ...]] = {}
    for cause in not_given(register):
        amounts = tuple(key_of(id_, of) for id_, of, _ in cause.amounts)
        for name in (*cause.facts, *_parts(cause.lacks, register)):
            for one in (name, *_above(name)):
                found[one] = (*found.get(one, ()), *amounts)
    return found


def _parts(lacks: str, register: Register) -> list[str]:
    """The names of a part of a house that is missing, one for each system where it is a system's."""
    head, _, rest = lacks.partition(".")
    if head == "systems" and rest:
        return [f"systems[{one.id}].{rest}" for one in register.house.systems]
    return [lacks] if lacks else []


def _above(name: str) -> Iterator[str]:
    head = name.rpartition(".")[0]
    while head:
        yield head
        head = head.rpartition(".")[0]


@cache
def _starter_comments(us: bool) -> frozenset[str]:
    return frozenset(line for text in starter_facts(us).values() for line in _comments(text))


def _comments(text: str) -> frozenset[str]:
    stripped = (line.strip() for line in text.split("\n"))
    return frozenset(line for line in stripped if line.startswith("# ") and len(line) >= _LEAST)
