"""Figures no small grow room has: most often a slip of the unit or of the decimal point."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from macros.house.house import House
from macros.house.telling import told, written
from macros.problems import Problem
from macros.published import load, number
from macros.records import Record
from macros.units import Money, Quantity

MOST = {"systems": 250, "measuring_tools": 500, "inventory": 500, "parts_to_soak": 100, "chemicals": 40, "test_strips": 100,
        "meters": 100, "varieties": 500, "people": 500, "cleanout_tasks": 100}  # fmt: skip
"""Entries of the lists of things. Those that grow with the years have no such bound."""


def check_ranges(house: House) -> list[Problem]:
    """Every field that has plausible bounds, against them; lists of a length no room has; and times that must not be nothing."""
    problems = _too_many(house)
    for bound in load("plausible"):
        *path, field = bound["field"].split(".")
        low, high, unit = number(bound["low"]), number(bound["high"]), bound.get("unit", "")
        for record in _records(house, path):
            value = _plain(getattr(record, field), unit)
            if value is not None and not low <= value <= high:
                problems.append(
                    told(
                        record,
                        field,
                        f'"{written(record, field)}" is no {field.replace("_", " ")} of a small grow room',
                        f"{low:g} to {high:g} {unit}".strip(),
                        "Look at the unit and the decimal point",
                    )
                )
    for chemical in house.chemicals:
        problems += _something(chemical, "container")
    for part in house.nutrients.parts:
        problems += _something(part, "container")
    return problems


def _too_many(house: House) -> list[Problem]:
    """A house with thousands of one thing is a slip of a program that wrote it, and would be reckoned for hours."""
    problems = []
    for name, most in MOST.items():
        count = len(getattr(house, name))
        if count > most:
            problems.append(
                told(
                    house,
                    name,
                    f"there are {count} entries",
                    f"At most {most}",
                    "Look for entries written twice",
                )
            )
    return problems


def _something(record: Record, field: str) -> list[Problem]:
    """A container holds something."""
    value = getattr(record, field)
    if value is None or value.value > 0:
        return []
    return [told(record, field, f'"{value.written}" holds nothing', "Above 0", "Copy it from the label")]


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
