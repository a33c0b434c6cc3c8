"""The page of checks: what each amount's calculation was compared with outside the project, and how far off it was."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
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
    topics: dict[str, dict[str, str]] = {}
    for amount in register.all():
        topics.setdefault(amount.topic, {}).setdefault(amount.id, amount.label)
    groups = [
        CheckGroup(topic, tuple(_row(id_, label, checked_by()[id_]) for id_, label in _named(labels)))
        for topic, labels in topics.items()
    ]
    return render("checks.md.j2", groups=groups)


def _named(labels: dict[str, str]) -> Iterator[tuple[str, str]]:
    """Each amount with its label up to the comma; whole, where another of the topic begins with the same."""
    heads = Counter(label.split(",")[0] for label in labels.values())
    for id_, label in labels.items():
        head = label.split(",")[0]
        yield id_, label if heads[head] > 1 else head


def _row(id_: str, label: str, rests_on: CheckedBy) -> CheckRow:
    if not rests_on.by:
        return CheckRow(id_, label, 0, "", (), rests_on.hand, rests_on.none)
    found = [checks()[name] for name in rests_on.by]
    said = (source.replace("degC", "°C") for check in found for source in check.sources)
    sources = tuple(dict.fromkeys(said))
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
