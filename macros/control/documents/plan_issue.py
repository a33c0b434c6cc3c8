"""What `trayside issue` will record: the items meant, what is refused, the entries and the copies. Nothing is written here."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from difflib import get_close_matches

from macros.amounts import Register
from macros.control.documents.controlled_documents import ControlledDocument
from macros.control.documents.issued_copies import Archive, Snapshot, snapshot_names, snapshot_of
from macros.control.documents.judge_change import Judgement, judge_change, shown_first
from macros.control.documents.place_words import told_of
from macros.ground.records import build_record
from macros.ground.yaml_source import read_yaml_text
from macros.house import House
from macros.house.records.people import Issued
from macros.house.rules.people import TRAINER, trainers
from macros.manual.pages.values_code import issues_of

FIRST = 5
"""Differences told of one item."""


class NotIssued(ValueError):  # noqa: N818 - named for what it tells
    """Nothing is recorded; the message holds every reason, each a whole sentence."""


@dataclass(frozen=True)
class IssueRequest:
    """What was asked for.

    Parameters
    ----------
    pages : keys, or documents for all their systems
    by : role that approves
    why : for the history
    effective : the day it is in force from, ISO; else the day the manual is built for
    every_draft : all that is not issued as it is
    same_meaning : a correction that keeps the revision
    no_retrain : the owner says that nobody is briefed anew
    reviewed : read again, nothing to change
    """

    pages: tuple[str, ...]
    by: str | None
    why: str | None
    effective: str | None = None
    every_draft: bool = False
    same_meaning: bool = False
    no_retrain: bool = False
    reviewed: bool = False


@dataclass(frozen=True)
class IssuePlan:
    """What to write: lines of the section, copies by file name; and what to tell."""

    section: str
    entries: tuple[str, ...]
    snapshots: dict[str, Snapshot]
    told: tuple[str, ...]


def chosen_items(request: IssueRequest, items: Sequence[ControlledDocument]) -> list[ControlledDocument]:
    """The items the request names, in the order of the manual; of a document those that changed.

    Raises
    ------
    NotIssued
        a name that is none; nothing named.
    """
    if request.every_draft:
        found = [item for item in items if item.control.draft_reasons]
        if not found:
            raise NotIssued("Every page, checklist and card is issued as it is. There is nothing to issue.")
        return found
    if not request.pages:
        raise NotIssued(
            "No page is named. Name pages, as SOP-08-A or SOP-08 for all its systems, or say --all for all that changed."
        )
    chosen = _named(request.pages, items)
    return [item for item in chosen if _is_wanted(request, item)] or chosen


def _named(names: Sequence[str], items: Sequence[ControlledDocument]) -> list[ControlledDocument]:
    unknown = [_unknown(name, items) for name in names if not any(_is(name, item) for item in items)]
    if unknown:
        raise NotIssued(" ".join(unknown))
    return [item for item in items if any(_is(name, item) for name in names)]


def _is_wanted(request: IssueRequest, item: ControlledDocument) -> bool:
    """Whether an item is meant itself: it is named by its own key, or there is something to record of it."""
    own = item.key.upper() in map(str.upper, request.pages)
    return own or request.reviewed or bool(item.control.draft_reasons)


def _is(name: str, item: ControlledDocument) -> bool:
    """Whether a name as typed is the item or the document it is of."""
    return name.upper() in (item.key.upper(), item.control.document.upper())


def _unknown(name: str, items: Sequence[ControlledDocument]) -> str:
    keys = {item.key.upper(): item.key for item in items}
    near = get_close_matches(name.upper(), keys, n=3, cutoff=0.6)
    nearest = (
        f"Nearest: {', '.join(keys[one] for one in near)}." if near else "See the list: trayside changes."
    )
    return f"{name} is no page, checklist or card of this house. {nearest}"


def plan_issue(
    request: IssueRequest, chosen: Sequence[ControlledDocument], register: Register, archive: Archive
) -> IssuePlan:
    """Judge each item and make its entry.

    Raises
    ------
    NotIssued
        with every reason at once; nothing may be written then.
    """
    refused = list(_refused(request, register.house, register.built_for))
    day = _day(request, register, refused)
    if refused:
        raise NotIssued("\n".join(refused))
    make: Callable[..., _Made] = _review if request.reviewed else _issue
    made: list[_Made] = []
    for item in chosen:
        try:
            made.append(make(request, item, register, archive, day))
        except NotIssued as reason:
            refused.append(str(reason))
    if refused:
        raise NotIssued("\n".join(refused))
    return IssuePlan(
        "reviews" if request.reviewed else "issued",
        tuple(one.entry for one in made),
        {one.name: one.snapshot for one in made if one.snapshot is not None},
        tuple(line for one in made for line in one.told),
    )


@dataclass(frozen=True)
class _Made:
    """One entry, and the copy that goes with it."""

    entry: str
    told: tuple[str, ...]
    name: str = ""
    snapshot: Snapshot | None = None


def _refused(request: IssueRequest, house: House, today: date) -> Iterator[str]:
    """What is wrong with the request itself."""
    yield from _approver_refused(request.by, house, today)
    if request.reviewed:
        given = {
            "--why": request.why,
            "--same-meaning": request.same_meaning,
            "--no-retrain": request.no_retrain,
            "--effective": request.effective,
            "--all": request.every_draft,
        }
        wrong = ", ".join(option for option, value in given.items() if value)
        if wrong:
            yield f"{wrong} does not go with --reviewed: a review without a change has page, day and role."
        return
    if not (request.why or "").strip():
        yield 'It is not said why. Say --why "...": the sentence stands in the history of the page.'
    unfilled = house.house.emergency.unfilled()
    if unfilled:
        yield (
            f"Not filled in under house.emergency: {', '.join(unfilled).replace('_', ' ')}. Every page prints these "
            "numbers, so none can be issued before they are real."
        )


def _approver_refused(by: str | None, house: House, today: date) -> Iterator[str]:
    """Why this role may not approve."""
    people = [person.role for person in house.people]
    may = trainers(house, today)
    here = f"Here that is {', '.join(may)}" if may else "Enter one under people first"
    if not by:
        yield f"Nobody is named who approves. Say --by ROLE, a role of level {TRAINER} under people. {here}."
    elif by not in people:
        known = ", ".join(people) or "none"
        yield f'"{by}" is no role under people; there {"are" if len(people) > 1 else "is"} {known}. {here}.'
    elif starts := next(
        (one.starts for one in house.people if one.role == by and not one.has_started(today)), None
    ):
        yield f"{by} may not approve before {starts}, its first day. {here}."
    elif by not in may:
        yield f"{by} may not approve: that takes a role of level {TRAINER} under people. {here}."


def _day(request: IssueRequest, register: Register, refused: list[str]) -> date:
    if request.effective is None:
        return register.built_for
    try:
        return date.fromisoformat(request.effective)
    except ValueError:
        refused.append(
            f'--effective "{request.effective}" is no day. Write year, month and day, as 2026-03-10.'
        )
        return register.built_for


def _issue(
    request: IssueRequest, item: ControlledDocument, register: Register, archive: Archive, day: date
) -> _Made:
    issues = issues_of(register.house, item.key)
    last = issues[-1] if issues else None
    if last is not None and not item.control.draft_reasons:
        raise NotIssued(
            f"{item.key} prints what revision {last.revision} of {last.effective} printed: nothing changed. To date a "
            f"review without a change: trayside issue {item.key} --by ROLE --reviewed."
        )
    if last is not None and day < last.effective:
        raise NotIssued(
            f"{item.key}: {day} is before {last.effective}, the day revision {last.revision} came into force. Choose that "
            "day or a later one."
        )
    kept = archive.of(last, issues) if last is not None else None
    now = snapshot_of(item.view, last.revision if last is not None else 1, register)
    judged = judge_change(kept, now) if kept is not None else None
    if request.same_meaning:
        _only_wording(item, last, judged)
    revision = 1 if last is None else last.revision + (0 if request.same_meaning else 1)
    retrain = _retrain(request, last, judged)
    entry = _entry(request, item.key, revision, day, now.code, retrain, last)
    record = _record(entry)
    name = snapshot_names([*issues, record])[-1]
    told = _told(item, record, judged, last, register)
    return _Made(entry, tuple(told), name, replace(now, revision=revision))


def _only_wording(item: ControlledDocument, last: Issued | None, judged: Judgement | None) -> None:
    """Whether a change may keep the revision: wording alone, compared with a copy."""
    if last is None:
        raise NotIssued(
            f"{item.key} has not been issued yet, so there is nothing whose meaning stays the same."
        )
    if judged is None:
        raise NotIssued(
            f"{item.key}: no copy of revision {last.revision} was kept, so nothing can be compared. Issue it without "
            "--same-meaning."
        )
    if judged.counting:
        lines = "".join(f"\n  {one}" for one in judged.counting)
        raise NotIssued(
            f"{item.key} changed in more than its wording, so it needs a new revision: issue it without --same-meaning."
            f"{lines}"
        )


def _retrain(request: IssueRequest, last: Issued | None, judged: Judgement | None) -> str:
    """What the entry says of training; a change that cannot be compared counts as one that needs it."""
    if last is None:
        return ""
    if request.no_retrain or request.same_meaning:
        return "no"
    return "no" if judged is not None and not judged.retrain else "yes"


def _entry(
    request: IssueRequest,
    key: str,
    revision: int,
    day: date,
    code: str,
    retrain: str,
    last: Issued | None,
) -> str:
    """The entry as a mapping in braces. The reason stands in quotes, whatever is in it."""
    noted = last is not None and request.same_meaning
    effective = last.effective if last is not None and noted else day
    pieces = [
        f"page: {key}",
        f"revision: {revision}",
        f"effective: {effective}",
        f"approved_by: {request.by}",
        f"why: {json.dumps((request.why or '').strip(), ensure_ascii=False)}",
        f'values_code: "{code}"',
        *([f"retrain: {retrain}"] if retrain else []),
        *([f"noted: {day}"] if noted else []),
    ]
    return f"{{{', '.join(pieces)}}}"


def _record(entry: str) -> Issued:
    """The entry as the house will read it."""
    source, problems = read_yaml_text(entry, "issued")
    record = None
    if source is not None and not problems:
        record, problems = build_record(Issued, source)
    if record is None:
        raise NotIssued(" ".join(f"{one.key}: {one.what}. {one.allowed}. {one.remedy}." for one in problems))
    return record


def _told(
    item: ControlledDocument,
    record: Issued,
    judged: Judgement | None,
    last: Issued | None,
    register: Register,
) -> Iterator[str]:
    if record.noted is not None:
        yield f"{item.key}: corrected on {record.noted}, still revision {record.revision}, values code {record.values_code}."
    else:
        yield f"{item.key}: revision {record.revision}, effective {record.effective}, values code {record.values_code}."
    if judged is not None:
        shown = shown_first(judged.differences, FIRST)
        yield from (f"  {one}" for one in told_of(shown, item.view))
        if len(judged.differences) > len(shown):
            yield f"  and {len(judged.differences) - len(shown)} more"
    elif last is not None:
        yield f"  No copy of revision {last.revision} was kept, so what changed cannot be listed."
    void = {
        register.house.role_of(entry.who)
        for entry in register.house.sign_offs
        if entry.covers(item.key) and entry.revision < record.revision
    }
    if record.retrain == "yes":
        count = (
            f"; {len(void)} {'person is' if len(void) == 1 else 'people are'} no longer signed off"
            if void
            else ""
        )
        yield f"  Brief and train again{count}."


def _review(
    request: IssueRequest, item: ControlledDocument, register: Register, archive: Archive, day: date
) -> _Made:
    issues = issues_of(register.house, item.key)
    if not issues:
        raise NotIssued(f"{item.key} has not been issued yet. Issue it; a review comes after.")
    if item.control.draft_reasons:
        raise NotIssued(
            f"{item.key} is not as it was issued: {' '.join(item.control.draft_reasons)} Issue it instead of a review."
        )
    if any(review.page == item.key and review.when == day for review in register.house.reviews):
        raise NotIssued(f"{item.key} was reviewed on {day} already.")
    entry = f"{{page: {item.key}, when: {day}, by: {request.by}, outcome: no change}}"
    return _Made(entry, (f"{item.key}: reviewed on {day}, no change.",))
