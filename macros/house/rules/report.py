"""How a rule tells what it found: the record and field give place and path."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from macros.calculations.rounding import in_figures
from macros.ground.problems import Problem, Severity
from macros.ground.records import Record, nearest
from macros.ground.units import Quantity, convert
from macros.ground.yaml_source import ANY_NAME


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
    """A problem where a field names what is not there; `kind` says what it should be, as "circuit of the house".

    What stands there with a mistake of its own is told once, at the mistake.
    """
    there = list(known)
    held_back = {one for names in record.read_from.left_out.values() for one in names}
    if name not in there and not {name, ANY_NAME} & held_back:
        listed = f"There are {', '.join(there)}" if there else "There is none"
        yield problem_at(record, field, f"{name} is no {kind}", listed, nearest(name, there) or remedy)


def told_once(unknown: Iterable[Problem]) -> Iterator[Problem]:
    """Names that lead nowhere, one and the same told at its first place alone, with the other places: the slip may be one."""
    places: dict[tuple[str, str], list[Problem]] = {}
    for problem in unknown:
        places.setdefault((problem.what, problem.allowed), []).append(problem)
    for first, *others in (sorted(found, key=lambda one: one.place) for found in places.values()):
        lines = dict.fromkeys(str(one.place) for one in others if one.place != first.place)
        also = (
            f", and so at {', '.join(list(lines)[:5])}" + (" and more" if len(lines) > 5 else "")
            if lines
            else ""
        )
        yield replace(first, what=first.what + also)


def limit(value: float, unit: str, like: Quantity, up: bool) -> str:
    """A limit as the owner would write it, so that it passes; see `as_limit`."""
    return as_limit(value, unit, like, up).written


def between(low: float, high: float, unit: str, value: Any) -> str:
    """The bounds in the unit the value is written in, rounded inwards."""
    if isinstance(value, Quantity) and value.unit != unit:
        return f"{limit(low, unit, value, up=True).split()[0]} to {limit(high, unit, value, up=False)}"
    return f"{low:g} to {high:g} {unit}".strip()


def as_limit(value: float, unit: str, like: Quantity, up: bool) -> Quantity:
    """A limit in the unit the owner wrote `like` in, rounded to three figures to the side that passes when it is written so.

    Parameters
    ----------
    value, unit : the limit
    up : it is a least value, which is rounded up; else a greatest, rounded down
    """
    figure = in_figures(convert(value, unit, like.unit), 3, "up" if up else "down")
    return Quantity(float(figure), like.unit, f"{figure} {_unit_of(like)}")


def _unit_of(quantity: Quantity) -> str:
    """The unit as typed, behind a number such as 22 1/2."""
    return re.sub(r"^[-+\d./ ]+", "", quantity.written) or quantity.unit


def written(record: Record, field: str) -> str:
    """The field's value as typed."""
    value = getattr(record, field)
    return str(getattr(value, "written", value))
