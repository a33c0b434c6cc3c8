"""What each sign-off is worth on the day the manual is built for: in force, due for refresh, void, or to be looked at."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from macros.amounts import Register
from macros.ground.problems import Problem
from macros.house import House
from macros.house.records.people import Issued
from macros.house.records.sign_offs import SignOff, covers
from macros.house.rules.people import TRAINER
from macros.house.rules.report import problem_at
from macros.manual.house_facts.frequencies import Frequency, frequencies
from macros.manual.house_facts.recurrence import months_later
from macros.manual.pages.values_code import last_issue
from macros.page_model.page import PageView
from macros.published.training.training import sign_off_rules

BY_INITIALS = "by initials"
"""What stands on the published site in place of initials."""

State = Literal["in force", "due", "void"]
May = Literal["alone", "trains", "beside somebody"]


@dataclass(frozen=True)
class Standing:
    """One person and one page: the sign-off that counts, the last one, and what it is worth now.

    `due` is the day it has to be refreshed by, `why_due` the rule that gives it. `voided_by` holds the later issues
    that open it again. `changed` tells that the page's values differ from its last issue, so that somebody has to look.
    """

    entry: SignOff
    page: PageView
    state: State
    may: May
    due: date
    why_due: str
    voided_by: tuple[Issued, ...]
    changed: bool

    @property
    def in_force(self) -> bool:
        """Whether the person may do now what the sign-off says."""
        return self.state == "in force"


def standings(register: Register, views: Sequence[PageView]) -> list[Standing]:
    """Every person and page with a sign-off, by the order of pages, then of people in the file."""
    house = register.house
    refresher = frequencies(house)["refresher"]
    found = []
    for page in views:
        last: dict[str, SignOff] = {}
        for entry in house.sign_offs:
            who = house.role_of(entry.who)
            if entry.covers(page.key) and (who not in last or entry.when >= last[who].when):
                last[who] = entry.model_copy(update={"who": who})
        found += [_standing(register, page, entry, refresher) for entry in last.values()]
    return found


def _standing(register: Register, page: PageView, entry: SignOff, refresher: Frequency) -> Standing:
    house = register.house
    due, why = _due(entry, refresher)
    voided = voiding(house, page.key, entry.revision)
    state: State = "void" if voided else "due" if due <= register.built_for else "in force"
    may: May = "alone"
    if entry.level is not None:
        may = (
            "trains"
            if entry.level == TRAINER
            else "alone"
            if entry.level >= page.level
            else "beside somebody"
        )
    return Standing(entry, page, state, may, due, why, voided, values_changed(house, page))


def _due(entry: SignOff, refresher: Frequency) -> tuple[date, str]:
    """The day of the next refresh: the refresher's rhythm, or sooner where the runs on file stopped."""
    due, why = refresher.rhythm.repeat.nth(entry.when, 1), refresher.text
    if entry.runs:
        months = sign_off_rules().not_done_months
        stopped = months_later(max(entry.when, *entry.runs), months)
        if stopped < due:
            return stopped, f"not done for {months} months"
    return due, why


def voiding(house: House, key: str, revision: int) -> tuple[Issued, ...]:
    """The issues of a page after `revision` that open its sign-offs: all but those that say `retrain: no`."""
    return tuple(
        issue
        for issue in house.issued
        if issue.page == key and issue.revision > revision and issue.retrain != "no"
    )


def values_changed(house: House, page: PageView) -> bool:
    """Whether the page prints other values than its last issue."""
    last = last_issue(house, page.key)
    return last is not None and last.values_code != page.control.values_code


def names_published(house: House) -> bool:
    """Whether initials may stand on the site."""
    return house.policies is not None and house.policies.publish_names


def shown_name(house: House, who: str, names: bool) -> str:
    """A role as it is; initials only where names are shown."""
    is_role = any(person.role == who for person in house.people)
    return who.replace("_", " ") if is_role else who if names else BY_INITIALS


def sign_off_problems(
    register: Register, views: Sequence[PageView], unbuilt: Collection[str] = ()
) -> list[Problem]:
    """What only the pages and the day can say of a sign-off: its page, its revision, its dates.

    `unbuilt` are the procedures of which some page could not be made: none of theirs is said not to be there.
    """
    house, today = register.house, register.built_for
    problems: list[Problem] = []
    for entry in house.sign_offs:
        pages = [view for view in views if entry.covers(view.key)]
        if not any(entry.covers(one) or covers(one, entry.procedure) for one in unbuilt):
            problems += _page_known(house, entry, pages, views)
        problems += [
            problem for page in pages for problem in _revision_known(house, entry, page, len(pages) > 1)
        ]
        for field, days in (("when", (entry.when,)), ("runs", entry.runs)):
            problems += [
                problem_at(
                    entry,
                    field,
                    f"{day} is after {today}, the day the manual is built for",
                    "A sign-off and its runs are in the past",
                    "Mend the date, or build for a later day",
                )
                for day in days
                if day > today
            ]
    return problems


def _page_known(
    house: House, entry: SignOff, pages: Sequence[PageView], views: Sequence[PageView]
) -> list[Problem]:
    if pages:
        return []
    if any(covers(entry.procedure, issue.page) for issue in house.issued):
        return [
            problem_at(
                entry,
                "procedure",
                f"{entry.procedure} was issued once and is no page of this house now",
                "The sign-off is kept and shown nowhere",
                "Leave it for the record, or remove it",
                severity="warning",
            )
        ]
    documents = ", ".join(sorted({view.document for view in views}))
    return [
        problem_at(
            entry,
            "procedure",
            f"{entry.procedure} is no page of this house",
            f"There are {documents}; a page of one system adds its letter, as SOP-08-A",
            "Mend the name",
        )
    ]


def _revision_known(house: House, entry: SignOff, page: PageView, several: bool) -> list[Problem]:
    last = last_issue(house, page.key)
    if last is None:
        return [
            problem_at(
                entry,
                "procedure",
                f"{page.key} has not been issued, so nobody can be signed off for it",
                "A sign-off is to a revision under issued",
                "Issue the page first",
            )
        ]
    if 1 <= entry.revision <= last.revision:
        return []
    remedy = f"Write the revision on the page that was signed{', and name one page where its systems differ' if several else ''}"
    return [
        problem_at(
            entry,
            "revision",
            f"revision {entry.revision} of {page.key} was never issued",
            f"The last is {last.revision}, in force from {last.effective}",
            remedy,
        )
    ]
