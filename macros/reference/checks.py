"""The page of checks: what each amount's calculation was compared with outside the project, and how far off it was."""

from __future__ import annotations

from dataclasses import dataclass

from macros.amounts import Register
from macros.amounts.engine.number_format import brief
from macros.html.environment import render
from macros.published.amounts.checks import CheckedBy, checked_by, checks

BY_HAND = "arithmetic, checked by hand"
"""What a case says that was compared with no outside value."""


@dataclass(frozen=True)
class CheckRow:
    """One kind of amount: comparisons, the largest deviation, sources; or the arithmetic, or why there is no check."""

    id: str
    label: str
    cases: int
    largest: str
    sources: tuple[str, ...]
    hand: str = ""
    none: str = ""


@dataclass(frozen=True)
class CheckGroup:
    """The checks of one topic."""

    topic: str
    rows: tuple[CheckRow, ...]


def checks_text(register: Register) -> str:
    """The page as Markdown, for the amounts this house has."""
    groups: dict[str, dict[str, CheckRow]] = {}
    for amount in register.all():
        rows = groups.setdefault(amount.topic, {})
        if amount.id not in rows:
            rows[amount.id] = _row(amount.id, amount.label.split(",")[0], checked_by()[amount.id])
    return render(
        "checks.md.j2", groups=[CheckGroup(topic, tuple(rows.values())) for topic, rows in groups.items()]
    )


def _row(id_: str, label: str, rests_on: CheckedBy) -> CheckRow:
    if not rests_on.by:
        return CheckRow(id_, label, 0, "", (), rests_on.hand, rests_on.none)
    found = [checks()[name] for name in rests_on.by]
    sources = tuple(dict.fromkeys(source for check in found for source in check.sources))
    if all(BY_HAND in source for source in sources):
        return CheckRow(
            id_,
            label,
            0,
            "",
            (),
            hand="; ".join(sources).replace(BY_HAND, "").strip(": ") or "as its working shows",
        )
    largest = max(check.largest_percent for check in found)
    return CheckRow(id_, label, sum(check.cases for check in found), f"{brief(largest, 2)} %", sources)
