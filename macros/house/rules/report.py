"""How a rule tells what it found: the record and field give place and path."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from macros.ground.problems import Problem, Severity
from macros.ground.records import Record


def problem_at(
    record: Record,
    field: str,
    what: str,
    allowed: str = "",
    remedy: str = "",
    code: str = "",
    severity: Severity = "error",
) -> Problem:
    """A problem at a field of a record."""
    return Problem(record.place(field), record.key(field), what, allowed, remedy, code, severity)


def unknown_name(
    record: Record, field: str, name: str, kind: str, known: Iterable[str], remedy: str = "Name one"
) -> Iterator[Problem]:
    """A problem where a field names what is not there; `kind` says what it should be, as "circuit of the house"."""
    there = list(known)
    if name not in there:
        yield problem_at(record, field, f"{name} is no {kind}", f"There are {', '.join(there)}", remedy)


def written(record: Record, field: str) -> str:
    """The field's value as typed."""
    value = getattr(record, field)
    return str(getattr(value, "written", value))
