"""The page of checks: what each amount's calculation was compared with outside the project, and how far off it was."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from macros.amounts import Register
from macros.amounts.printing import brief
from macros.published import load, number
from macros.rendering.environment import render


@dataclass(frozen=True)
class CheckRow:
    """One kind of amount: comparisons, the largest deviation, sources; or why there is none."""

    id: str
    label: str
    cases: int
    largest: str
    sources: tuple[str, ...]
    none: str = ""


@dataclass(frozen=True)
class CheckGroup:
    """The checks of one topic."""

    topic: str
    rows: tuple[CheckRow, ...]


def checks_text(register: Register) -> str:
    """The page as Markdown, for the amounts this house has."""
    checks = {entry["function"]: entry for entry in load("checks")}
    checked_by = load("checked_by")
    groups: dict[str, dict[str, CheckRow]] = {}
    for amount in register.all():
        rows = groups.setdefault(amount.topic, {})
        if amount.id not in rows:
            rows[amount.id] = _row(amount.id, amount.label.split(",")[0], checked_by[amount.id], checks)
    return render(
        "checks.md.j2", groups=[CheckGroup(topic, tuple(rows.values())) for topic, rows in groups.items()]
    )


def _row(id_: str, label: str, functions: Any, checks: dict[str, Any]) -> CheckRow:
    if isinstance(functions, dict):
        return CheckRow(id_, label, 0, "", (), functions["none"])
    found = [checks[name] for name in functions]
    sources = tuple(dict.fromkeys(source for entry in found for source in entry["sources"]))
    largest = max(number(entry["largest_percent"]) for entry in found)
    return CheckRow(
        id_, label, sum(int(entry["cases"]) for entry in found), f"{brief(largest, 2)} %", sources
    )
