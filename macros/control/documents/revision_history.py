"""The revisions of controlled items: the history of each page, what was withdrawn, and formulas that changed unseen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from macros.amounts import Register
from macros.control.documents.controlled_items import Controlled
from macros.control.documents.issued_copies import Archive, Snapshot, snapshot_names, values_taken
from macros.control.documents.judge_change import judge_change, shown_first, value_differences
from macros.control.documents.place_words import told_of
from macros.house import House
from macros.house.records.people import Issued
from macros.manual.pages.printed_lines import in_words, page_lines
from macros.manual.pages.values_code import control_block, issues_of
from macros.page_model.page import LinkView, PageContent, PageView, RevisionView
from macros.page_model.table import Table, TablePage

WITHDRAWN = "issues/withdrawn.html"
MOST_SHOWN = 8
"""Changes shown in one line of the history; the rest is counted."""


@dataclass(frozen=True)
class WithdrawnView:
    """One withdrawn revision as it was. `replaced_by` is empty where the house has no such item any more."""

    key: str
    title: str
    revision: int
    effective: str
    withdrawn: str
    replaced_by: str
    approved_by: str
    values_code: str
    lines: tuple[tuple[str, str], ...]
    address: str
    now: LinkView | None


def published_page(content: PageContent, register: Register, archive: Archive) -> PageView:
    """The page under its control block and with its history.

    It is a draft also where a formula behind it changed and the page prints the same.
    """
    control = control_block(
        register.house, content.key, content.document, page_lines(content), content.formulas
    )
    issues = issues_of(register.house, content.key)
    kept = [archive.of(issue, issues) for issue in issues]
    last = kept[-1] if kept else None
    same = last is not None and last.code == control.values_code
    if last is not None and same and value_differences(last, *values_taken(content, register)):
        reason = f"A formula or constant behind it changed since revision {last.revision} was issued."
        control = replace(control, draft_reasons=(*control.draft_reasons, reason))
    history = tuple(reversed(list(_history(content, issues, kept))))
    return PageView(**vars(content), control=control, history=history)


def _history(
    view: PageContent, issues: Sequence[Issued], kept: Sequence[Snapshot | None]
) -> Iterable[RevisionView]:
    names = snapshot_names(issues)
    for index, issue in enumerate(issues):
        before, here = (kept[index - 1] if index else None), kept[index]
        found = judge_change(before, here).differences if before is not None and here is not None else ()
        shown = shown_first(found, MOST_SHOWN)
        last = index + 1 == len(issues)
        note = ""
        if here is None:
            note = "No copy of it was kept."
        elif index and before is None:
            note = "No copy of the one before was kept, so what changed is not listed."
        yield RevisionView(
            number=str(issue.revision),
            date=str(issue.effective) if issue.noted is None else f"corrected {issue.noted}",
            what=issue.why,
            by=issue.approved_by,
            retrain=issue.retrain or ("not said" if index else ""),
            changes=tuple((one.place, one.old, one.new) for one in told_of(shown, view)),
            more=len(found) - len(shown),
            kept=LinkView("As it was", withdrawn_address(names[index]))
            if here is not None and not last
            else None,
            note=note,
        )


def withdrawn_address(name: str) -> str:
    """`issues/sop-08-a-1.html` for the snapshot `SOP-08-A-1.json`."""
    return f"issues/{name.removesuffix('.json').lower()}.html"


def withdrawn_items(house: House, items: Iterable[Controlled], archive: Archive) -> list[WithdrawnView]:
    """Every issue that is no longer in force and of which a copy was kept, by the order of the entries."""
    there = {item.key: item for item in items}
    found = []
    for key in dict.fromkeys(issue.page for issue in house.issued):
        issues, item = issues_of(house, key), there.get(key)
        names = snapshot_names(issues)
        for index, issue in enumerate(issues):
            following = issues[index + 1] if index + 1 < len(issues) else None
            if following is None and item is not None:
                continue
            kept = archive.of(issue, issues)
            if kept is not None:
                found.append(_withdrawn(issue, following, kept, item, withdrawn_address(names[index])))
    return found


def _withdrawn(
    issue: Issued, following: Issued | None, kept: Snapshot, item: Controlled | None, address: str
) -> WithdrawnView:
    return WithdrawnView(
        key=issue.page,
        title=kept.title,
        revision=issue.revision,
        effective=str(issue.effective),
        withdrawn=str(following.noted or following.effective) if following else "",
        replaced_by=_named(following) if following else "",
        approved_by=issue.approved_by,
        values_code=issue.values_code,
        lines=tuple((in_words(line.place), " ".join(line.text.split())) for line in kept.lines),
        address=address,
        now=LinkView(f"{issue.page} as it is now", item.address) if item is not None else None,
    )


def _named(issue: Issued) -> str:
    return f"revision {issue.revision}" + (" as corrected" if issue.noted else "")


def withdrawn_list(withdrawn: Sequence[WithdrawnView]) -> TablePage:
    """Where the withdrawn revisions of pages, checklists and cards are found, newest first."""
    rows = tuple(
        (
            one.key,
            LinkView(f"revision {one.revision}: {one.title}", one.address),
            one.effective,
            one.withdrawn or "no longer in the manual",
            one.replaced_by or "nothing",
        )
        for one in sorted(withdrawn, key=lambda one: one.withdrawn, reverse=True)
    )
    heads = ("Item", "As it was", "Effective", "Withdrawn", "Replaced by")
    return TablePage(
        "Withdrawn revisions",
        "Kept for the records that cite them. Do not work from any of these: each leads to the one in force.",
        (Table("Withdrawn", heads, rows),),
    )


def revision_links(withdrawn: Iterable[WithdrawnView]) -> dict[tuple[str, int], LinkView]:
    """By page and revision, where a record that cites a withdrawn revision leads to."""
    return {(one.key, one.revision): LinkView(f"revision {one.revision}", one.address) for one in withdrawn}
