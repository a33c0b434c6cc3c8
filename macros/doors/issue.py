"""Records an issue in the house folder: copies first, then the entries, so that an entry never stands without its copy."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from pathlib import Path

from macros.control.changes.baseline import FILE as BASELINE
from macros.control.changes.baseline import Baseline
from macros.control.documents.controlled_documents import ControlledDocument
from macros.control.documents.issued_copies import Archive
from macros.control.documents.plan_issue import IssuePlan, IssueRequest, NotIssued, chosen_items, plan_issue
from macros.ground.disk.safe_write import write_whole
from macros.house.files.append_entry import NotAppended, file_of_section, with_entries
from macros.house.files.load_house import FOLDER
from macros.manual.procedures.shipped_folder import shipped_procedures
from macros.page_model.card import CardView
from macros.site.changes_of_site import new_baseline
from macros.site.site import Site, prepare_site

FILE = "issued.yml"
"""Where the first entry of a house goes; later ones follow those that are there."""

_HEAD = (
    "# What was issued: page, revision, who approved it and which values it had (the values code).\n"
    "# Written by `trayside issue`; the copies of what was printed lie beside it in the folder issued.\n"
)


def issue(house: Path, request: IssueRequest, day: str | None, environment: Mapping[str, str]) -> list[str]:
    """Issue pages of a house; what was done is returned as lines.

    Cards come after pages: the card of sign-offs prints the revisions of the pages.

    Raises
    ------
    NotIssued
        with every reason; nothing was written.
    DataProblems
        the house has mistakes; nothing was written.
    OSError
        the folder cannot be written. What was issued before is as it was.
    """
    site = _prepared(house, day, environment)
    chosen = chosen_items(request, site.controlled_documents)
    pages = [item for item in chosen if item.kind != "card"]
    cards = [item for item in chosen if item.kind == "card"]
    # All is refused before any is written.
    plans = [_planned(house, request, group, site) for group in (pages, cards) if group]
    told = list(_write(house, plans[0]))
    # What is issued stands on other paper too: cards and the baseline are of the manual as it reads from now on.
    site = _prepared(house, day, environment)
    follow = _cards_now(site, request, {item.key for item in cards}) if pages else []
    if follow:
        told += _write(house, _planned(house, request, follow, site))
        site = _prepared(house, day, environment)
    elif pages:
        told += _cards_to_follow(site, request)
    keep_baseline(house, site, {item.key for item in (*chosen, *follow)})
    return told


def _cards_now(site: Site, request: IssueRequest, named: Container[str]) -> list[ControlledDocument]:
    """The cards to issue once the pages are: those named, and of every draft those that became one by it."""
    cards = (item for item in site.controlled_documents if item.kind == "card")
    return [one for one in cards if one.key in named or (request.every_draft and one.control.draft_reasons)]


def keep_baseline(house: Path, site: Site, issued: Iterable[str] | None) -> Baseline:
    """Keep what the site prints as done: what follows from the `issued` items; for None, all that waits for no issue.

    A crash before leaves the old file, which keeps more on the list, never less.
    """
    kept = new_baseline(site, issued)
    write_whole(house / BASELINE, kept.as_json().encode())
    return kept


def _cards_to_follow(site: Site, request: IssueRequest) -> list[str]:
    """Cards that print the revisions of pages, and so are drafts once a page has a new one."""
    if request.every_draft or request.reviewed or request.same_meaning:
        return []
    keys = [
        item.key
        for item in site.controlled_documents
        if isinstance(item.view, CardView) and item.view.kind == "signoff"
    ]
    if not keys:
        return []
    prints, them = ("prints", "it") if len(keys) == 1 else ("print", "them")
    return [f"{', '.join(keys)} {prints} the revisions of pages: issue {them} too."]


def _prepared(house: Path, day: str | None, environment: Mapping[str, str]) -> Site:
    return prepare_site(house, shipped_procedures(house), day, environment, approving=True)


def _planned(
    house: Path, request: IssueRequest, items: Sequence[ControlledDocument], site: Site
) -> IssuePlan:
    return plan_issue(request, items, site.register, Archive(house))


def _write(house: Path, plan: IssuePlan) -> Sequence[str]:
    """Copies, then entries in one stroke: killed between the two, copies lie there that no entry names, and the next
    issue writes them anew."""
    path = file_of_section(house, plan.section, FILE).resolve()
    folder = Archive(house).folder.resolve()
    for one in (path, folder):
        if not one.is_relative_to(house.resolve()):
            raise NotIssued(
                f"{one} is outside the house folder, where a link leads. Put the real file in its place."
            )
    shown = f"{FOLDER}/{path.name}"
    old = path.read_bytes() if path.is_file() else _HEAD.encode()
    try:
        new = with_entries(old.decode("utf-8"), plan.section, plan.entries, shown)
    except NotAppended as reason:
        lines = "".join(f"\n  - {entry}" for entry in plan.entries)
        raise NotIssued(f"{reason}\nThe entries would be:{lines}") from reason
    for name, snapshot in plan.snapshots.items():
        write_whole(folder / name, snapshot.as_json().encode())
    if path.is_file() and path.read_bytes() != old:
        raise NotIssued(f"{shown} was changed by somebody else in this moment. Issue again.")
    write_whole(path, new.encode())
    return plan.told
