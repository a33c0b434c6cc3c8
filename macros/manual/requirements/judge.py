"""The requirements on pages: which a program judges, what it found, and what a page waives with a reason."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator
from dataclasses import dataclass
from typing import Literal

from macros.ground.problems import Problem
from macros.ground.records import Record
from macros.house import House
from macros.manual.procedures.file_format import ProcedureData
from macros.manual.procedures.page_texts import Written
from macros.page_model.page import PageContent
from macros.published.pages.requirements import Requirement, requirements


@dataclass(frozen=True)
class Subject:
    """What the rules look at: a page's data, its finished view, and every text written on the way."""

    data: ProcedureData
    view: PageContent
    written: tuple[Written, ...]
    house: House
    body: str
    raw_body: str

    def texts(self, *fields: str) -> Iterator[Written]:
        """The texts of these fields, or of all."""
        return (one for one in self.written if not fields or one.field in fields)


@dataclass(frozen=True)
class Finding:
    """Something of a page that a requirement does not allow."""

    record: Record
    field: str
    what: str
    allowed: str
    remedy: str
    index: int | None = None


def finding_at(one: Written, what: str, allowed: str, remedy: str) -> Finding:
    """A finding at the place of a text."""
    return Finding(one.record, one.field, what, allowed, remedy, one.index)


Rule = Callable[[Subject], Iterator[Finding]]
RULES: dict[str, list[Rule]] = {}
"""The rules by the requirement they judge; filled by the modules `rules_*`."""

_OF_EACH_SYSTEM: set[Rule] = set()


def rule(requirement: str, *, each_system: bool = False) -> Callable[[Rule], Rule]:
    """Marks a function as judging a requirement.

    `each_system` is for what can differ between the systems of a house: cautions and amounts. What the author
    wrote is one text for all of them, and judged once.
    """

    def enter(function: Rule) -> Rule:
        RULES.setdefault(requirement, []).append(function)
        if each_system:
            _OF_EACH_SYSTEM.add(function)
        return function

    return enter


@dataclass(frozen=True)
class Verdict:
    """How one page stands to one requirement."""

    page: str
    requirement: str
    met: bool
    waived: str = ""


def judge(subject: Subject, *, again: bool = False) -> tuple[list[Verdict], list[Problem]]:
    """Every rule over one page: the verdicts, and the problems of what is neither met nor waived.

    `again` is for the same page of a further system: only what can differ there is judged.
    """
    waived = {one.line: one.reason for one in subject.data.waive}
    if again:
        return [], [
            _problem(requirements()[name], finding)
            for name in RULES
            if name not in waived
            for finding in _findings(subject, name, _OF_EACH_SYSTEM)
        ]
    verdicts: list[Verdict] = []
    problems = list(_empty_reasons(subject))
    for requirement in requirements().values():
        found = list(_findings(subject, requirement.id))
        reason = waived.get(requirement.id, "") if found else ""
        verdicts.append(Verdict(subject.data.id, requirement.id, not found, reason))
        if not reason:
            problems += [_problem(requirement, finding) for finding in found]
        if requirement.id in waived and not found:
            problems.append(_needless(subject, requirement.id))
    return verdicts, problems


def _findings(subject: Subject, requirement: str, among: Container[Rule] | None = None) -> Iterator[Finding]:
    """What the rules of a requirement find, or those of them that are `among` others."""
    for function in RULES.get(requirement, ()):
        if among is None or function in among:
            yield from function(subject)


def _problem(requirement: Requirement, finding: Finding) -> Problem:
    place = (
        finding.record.place(finding.field)
        if finding.index is None
        else finding.record.item_place(finding.field, finding.index)
    )
    severity: Literal["error", "warning"] = "error" if requirement.must else "warning"
    key = finding.record.key(finding.field)
    return Problem(place, key, finding.what, finding.allowed, finding.remedy, requirement.id, severity)


def _empty_reasons(subject: Subject) -> Iterator[Problem]:
    for waiver in subject.data.waive:
        if len(waiver.reason.split()) < 3:
            yield Problem(
                waiver.place("reason"),
                waiver.key("reason"),
                f'"{waiver.reason}" is no reason',
                "A sentence that says why the requirement is not for this page",
                "Write it: it is printed in the list of waivers",
            )


def _needless(subject: Subject, line: str) -> Problem:
    waiver = next(one for one in subject.data.waive if one.line == line)
    return Problem(
        waiver.place("line"),
        waiver.key("line"),
        f"{line} is waived, but the page meets it",
        "A waiver stands only where it is needed",
        "Take it out",
    )
