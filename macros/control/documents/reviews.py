"""Reviews: when a page, checklist or card was last issued or read again, and when that is due next."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from macros.amounts import Register
from macros.control.documents.controlled_documents import ControlledDocument, unknown_item
from macros.ground.problems import Problem
from macros.house import House
from macros.house.records.document_control import Review
from macros.house.rules.report import problem_at
from macros.manual.house_facts.frequencies import frequencies
from macros.manual.house_facts.recurrence import Repeat
from macros.manual.pages.values_code import last_issue
from macros.page_model.page import PageView


@dataclass(frozen=True)
class ReviewStanding:
    """The last issue or review of an item, and the day of the next.

    `found` is the day of a review that found a change and has no later issue: the item stays due from that day on.
    """

    key: str
    last: date
    reviewed: bool
    due: date
    repeat: Repeat
    found: date | None

    def is_due(self, today: date) -> bool:
        """Whether the day has come."""
        return self.due <= today


def review_standings(house: House, keys: Iterable[str]) -> dict[str, ReviewStanding]:
    """The standing of each item that was issued, by its key; what was never issued has none."""
    repeat = frequencies(house)["page_review"].rhythm.repeat
    found = {}
    for key in keys:
        issue = last_issue(house, key)
        if issue is None:
            continue
        own = [entry for entry in house.reviews if entry.page == key and _counts(entry, issue.effective)]
        last = max(own, key=lambda entry: entry.when, default=None)
        day = last.when if last is not None else issue.effective
        change = last.when if last is not None and last.outcome == "change" else None
        due = change or repeat.nth(day, 1)
        found[key] = ReviewStanding(key, day, last is not None, due, repeat, change)
    return found


def _counts(entry: Review, issued: date) -> bool:
    """Whether a review is of what was issued then; a change found that day was met by the issue of that day."""
    return entry.when > issued or (entry.when == issued and entry.outcome == "no change")


def review_interval(house: House) -> str:
    """How often an item is reviewed, as "every 12 months"."""
    return frequencies(house)["page_review"].text


def review_line(standing: ReviewStanding | None, today: date) -> str:
    """What the control block of an item says of its review; empty where none is due."""
    if standing is None or not standing.is_due(today):
        return ""
    if standing.found is not None:
        return f"review of {standing.found} found a change: ask before use"
    return f"review due since {standing.due}"


def review_lines(register: Register, pages: Sequence[PageView]) -> dict[str, str]:
    """By the key of a page, what its control block says of its review, where one is due."""
    standings = review_standings(register.house, (page.key for page in pages))
    lines = {key: review_line(standing, register.built_for) for key, standing in standings.items()}
    return {key: line for key, line in lines.items() if line}


def review_problems(register: Register, items: Sequence[ControlledDocument]) -> list[Problem]:
    """Entries about what is not there or not yet, and one warning for all items due since one day."""
    house, today = register.house, register.built_for
    problems: list[Problem] = []
    for entry in house.reviews:
        problems += unknown_item(house, entry, "page", entry.page, items)
        if entry.when > today:
            what = f"{entry.when} is after {today}, the day the manual is built for"
            remedy = "Mend the date, or build for a later day"
            problems.append(problem_at(entry, "when", what, "A review is in the past", remedy))
    by_day: dict[date, list[str]] = {}
    for key, standing in review_standings(house, (item.key for item in items)).items():
        if standing.is_due(today):
            by_day.setdefault(standing.due, []).append(key)
    return problems + [_due(house, due, keys) for due, keys in sorted(by_day.items())]


def _due(house: House, due: date, keys: Sequence[str]) -> Problem:
    issue = last_issue(house, keys[0])
    assert issue is not None  # what was never issued has no standing
    return problem_at(
        issue,
        "effective",
        f"the review of {', '.join(keys)} is due since {due}",
        f"A page is read against the work {review_interval(house)}, from its last issue or review",
        "Issue anew what must change; for the rest: trayside issue PAGE --by ROLE --reviewed",
        severity="warning",
    )
