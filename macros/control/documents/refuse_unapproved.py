"""Pages that are not issued as they are: mistakes where the house says that none may be published so."""

from __future__ import annotations

from collections.abc import Iterable

from macros.amounts import Register
from macros.control.documents.controlled_documents import ControlledDocument
from macros.control.documents.issued_copies import Archive, snapshot_of
from macros.control.documents.judge_change import judge_change, shown_first
from macros.control.documents.place_words import told_of
from macros.ground.problems import Problem
from macros.house.rules.report import problem_at
from macros.manual.pages.values_code import issues_of

FIRST = 3
"""Differences told of one page; `trayside changes` lists them all."""


def unapproved_problems(
    register: Register, items: Iterable[ControlledDocument], archive: Archive
) -> list[Problem]:
    """With `policies.unapproved: refuse`, one problem for each item that is a draft: its first differences, what to do."""
    policies = register.house.policies
    if policies is None or policies.unapproved != "refuse":
        return []
    return [
        problem_at(
            policies,
            "unapproved",
            f"{item.key} is not issued as it is. {_differences(register, item, archive)}",
            "The policy refuse publishes what is issued, and nothing else",
            f'trayside issue {item.key} --by ROLE --why "...", or put the change back',
        )
        for item in items
        if item.control.draft_reasons
    ]


def _differences(register: Register, item: ControlledDocument, archive: Archive) -> str:
    issues = issues_of(register.house, item.key)
    last = archive.of(issues[-1], issues) if issues else None
    if last is None:
        return " ".join(item.control.draft_reasons)
    found = judge_change(last, snapshot_of(item.view, last.revision, register)).differences
    if not found:
        return " ".join(item.control.draft_reasons)
    shown = shown_first(found, FIRST)
    more = f"; and {len(found) - len(shown)} more" if len(found) > len(shown) else ""
    return f"Since revision {last.revision}: {'; '.join(map(str, told_of(shown, item.view)))}{more}"
