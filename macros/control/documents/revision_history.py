"""The revisions of controlled items: the history of each page, what was withdrawn, and formulas that changed unseen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from macros.amounts import Register
from macros.control.documents.controlled_documents import ControlledDocument
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
    """One withdrawn revision as it was: its entry and copy, the entry that took its place, and what the item is now.

    `following` and `item` are None where the house has no such item any more.
    """

    issue: Issued
    kept: Snapshot
    address: str
    following: Issued | None
    item: ControlledDocument | None

    @property
    def withdrawn(self) -> str:
        """The day another took its place."""
        return str(self.following.noted or self.following.effective) if self.following else ""

    @property
    def replaced_by(self) -> str:
        """What took its place, as `revision 2`."""
        if self.following is None:
            return ""
        return f"revision {self.following.revision}{' as corrected' if self.following.noted else ''}"

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """Place and text of each line."""
        return tuple((in_words(line.place), " ".join(line.text.split())) for line in self.kept.lines)


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
) -> Iterator[RevisionView]:
    """Each issue beside the one before it, oldest first."""
    rows = zip(issues, [None, *kept], kept, snapshot_names(issues), strict=False)
    for index, (issue, before, here, name) in enumerate(rows):
        found = judge_change(before, here).differences if before is not None and here is not None else ()
        shown = shown_first(found, MOST_SHOWN)
        withdrawn = here is not None and issue is not issues[-1]
        yield RevisionView(
            number=str(issue.revision),
            date=str(issue.effective) if issue.noted is None else f"corrected {issue.noted}",
            what=issue.why,
            by=issue.approved_by,
            retrain=issue.retrain or ("not said" if index else ""),
            changes=tuple((one.place, one.old, one.new) for one in told_of(shown, view)),
            more=len(found) - len(shown),
            kept=LinkView("As it was", withdrawn_address(name)) if withdrawn else None,
            note=_not_kept(before, here, first=index == 0),
        )


def _not_kept(before: Snapshot | None, here: Snapshot | None, *, first: bool) -> str:
    """Why nothing can be shown of an issue, where a copy is missing."""
    if here is None:
        return "No copy of it was kept."
    if before is None and not first:
        return "No copy of the one before was kept, so what changed is not listed."
    return ""


def withdrawn_address(name: str) -> str:
    """`issues/sop-08-a-1.html` for the snapshot `SOP-08-A-1.json`."""
    return f"issues/{name.removesuffix('.json').lower()}.html"


def withdrawn_items(
    house: House, items: Iterable[ControlledDocument], archive: Archive
) -> list[WithdrawnView]:
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
                found.append(WithdrawnView(issue, kept, withdrawn_address(names[index]), following, item))
    return found


def withdrawn_list(withdrawn: Sequence[WithdrawnView]) -> TablePage:
    """Where the withdrawn revisions of pages, checklists and cards are found, newest first."""
    rows = tuple(
        (
            one.issue.page,
            LinkView(f"revision {one.issue.revision}: {one.kept.title}", one.address),
            str(one.issue.effective),
            one.withdrawn or "no longer in the manual",
            one.replaced_by or "nothing",
        )
        for one in sorted(withdrawn, key=lambda one: one.withdrawn, reverse=True)
    )
    heads = ("Item", "As it was", "Effective", "Withdrawn", "Replaced by")
    return TablePage(
        "Withdrawn revisions",
        "Kept for the records that cite them. Do not work from these: each leads to the one in force.",
        (Table("Withdrawn", heads, rows),),
    )


def revision_links(withdrawn: Iterable[WithdrawnView]) -> dict[tuple[str, int], LinkView]:
    """By page and revision, where a record that cites a withdrawn revision leads to."""
    return {
        (one.issue.page, one.issue.revision): LinkView(f"revision {one.issue.revision}", one.address)
        for one in withdrawn
    }
