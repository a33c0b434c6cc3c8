"""Figures no small grow room has: most often a slip of the unit or of the decimal point."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from macros.ground.problems import Problem
from macros.ground.record_shape import record_at
from macros.ground.records import Record, nearest
from macros.ground.units import Money, Quantity
from macros.house.records.house import House
from macros.house.rules.report import between, problem_at, written
from macros.published import published_rows
from macros.published.amounts.plausible import Plausible

MOST = {"systems": 250, "measuring_tools": 500, "inventory": 500, "parts_to_soak": 100, "chemicals": 40, "test_strips": 100,
        "meters": 100, "varieties": 500, "people": 500, "cleanout_tasks": 100}  # fmt: skip
"""Entries of the lists of things. Those that grow with the years have no such bound."""


def check_ranges(house: House) -> Iterator[Problem]:
    """Every field that has plausible bounds, against them; lists of a length no room has; and times that must not be nothing."""
    for bound in published_rows(Plausible, "plausible").values():
        mistaken = _leads_nowhere(bound)
        if mistaken is not None:
            yield mistaken
            continue
        *path, field = bound.field.split(".")
        for record in _records(house, path):
            value = _plain(getattr(record, field), bound.unit)
            if value is not None and not bound.low <= value <= bound.high:
                yield _implausible(bound, record, field)
    for stock in (*house.chemicals, *house.nutrients.parts):
        yield from _something(stock, "container")


def _implausible(bound: Plausible, record: Record, field: str) -> Problem:
    called = bound.called or f"{field.replace('_', ' ')} of a small grow room"
    value = getattr(record, field)
    meant = getattr(value, "unit", "") == "degF" and bound.low <= value.value <= bound.high
    hint = "; did you mean degC?" if meant else ""
    what = f'"{written(record, field)}" is no {called}{hint}'
    allowed = bound.allowed or between(bound.low, bound.high, bound.unit, getattr(record, field))
    return problem_at(record, field, what, allowed, bound.remedy, bound.code)


@cache
def _leads_nowhere(bound: Plausible) -> Problem | None:
    """A bound of a field that no house has, or in a unit that is none of the field's."""
    *path, field = bound.field.split(".")
    steps = [step for name in path for step in ((name[:-2], 0) if name.endswith("[]") else (name,))]
    for end in range(len(steps) + 1):
        holder = record_at(House, tuple(steps[:end]))
        step = steps[end] if end < len(steps) else field
        if holder is not None and step not in holder.model_fields:
            what, known = f"no house has {step} there", holder.model_fields
            return problem_at(
                bound, "field", what, "", nearest(str(step), known) or f"Known: {', '.join(known)}"
            )
    return None


def too_many(house: House) -> Iterator[Problem]:
    """A house with thousands of one thing is a slip of a program that wrote it, and would be reckoned for hours."""
    for name, most in MOST.items():
        count = len(getattr(house, name))
        if count > most:
            what = f"there are {count} entries"
            yield problem_at(house, name, what, f"At most {most}", "Look for entries written twice")


def _something(record: Record, field: str) -> Iterator[Problem]:
    """A container holds something."""
    value = getattr(record, field)
    if value is None or value.value > 0:
        return
    yield problem_at(record, field, f'"{value.written}" holds nothing', "Above 0", "Copy it from the label")


def _records(house: House, path: list[str]) -> Iterator[Record]:
    """The records a path leads to; `[]` stands for every entry of a list."""
    found: list[Any] = [house]
    for step in path:
        name = step.removesuffix("[]")
        found = [value for record in found if (value := getattr(record, name)) is not None]
        if step.endswith("[]"):
            found = [item for items in found for item in items]
    yield from found


def _plain(value: Any, unit: str) -> float | None:
    if value is None:
        return None
    if isinstance(value, Quantity):
        return float(value.to(unit))
    return float(value.value) if isinstance(value, Money) else float(value)
