"""How a rule tells what it found: the record and field give place and path."""

from __future__ import annotations

from macros.ground.problems import Problem, Severity
from macros.ground.records import Record


def told(
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


def written(record: Record, field: str) -> str:
    """The field's value as typed."""
    value = getattr(record, field)
    return str(getattr(value, "written", value))
