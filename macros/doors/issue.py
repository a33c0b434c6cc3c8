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
from macros.ground.yaml_source import read_yaml_text
from macros.house import House
from macros.house.files.append_entry import NotAppended, with_entries
from macros.house.files.load_house import FOLDER
from macros.house.files.writing import file_of_section, house_lock, inside
from macros.manual.procedures.shipped_folder import shipped_procedures
from macros.page_model.card import CardView
from macros.site.changes_of_site import new_baseline
from macros.site.site import Site, prepare_site

FILE = "issued.yml"
"""Where the first entry of a house goes; later ones follow those that are there."""

_CHANGED = "{} was changed by somebody else in this moment. Issue again."

_HEAD = (
    "# What was issued: page, revision, who approved it and which values it had (the values code).\n"
    "# Written by `trayside issue`; the copies of what was printed lie beside it in the folder issued.\n"
)


def issue(house: Path, request: IssueRequest, day: str | None, environment: Mapping[str, str]) -> list[str]:
    """Issue pages of a house; what was done is returned as lines. The house is read, judged and written under its lock.

    Cards come after pages: the card of sign-offs prints the revisions of the pages.

    Raises
    ------
    NotIssued
        with every reason.
    DataProblems
        the house has mistakes.
    NotWritten
        another command writes into this house.
    OSError
        the folder cannot be written. What was issued before is as it was.

    Each, and whatever else stopped it, carries a note that says what was issued by then.
    """
    done: list[str] = []
    try:
        with house_lock(house):
            _issue(house, request, day, environment, done)
    except BaseException as stopped:
        stopped.add_note(_how_it_stands(done))
        raise
    return done


def _how_it_stands(done: Sequence[str]) -> str:
    if not done:
        return "Nothing was issued."
    return "\n".join(["What was issued before that stands:", *(f"  {line}" for line in done)])


def _issue(
    house: Path, request: IssueRequest, day: str | None, environment: Mapping[str, str], done: list[str]
) -> None:
    site = _prepared(house, day, environment)
    chosen = chosen_items(request, site.controlled_documents)
    pages = [item for item in chosen if item.kind != "card"]
    cards = [item for item in chosen if item.kind == "card"]
    # All is refused before any is written.
    plans = [_planned(house, request, group, site) for group in (pages, cards) if group]
    _write(house, plans[0], site.register.house, done)
    # What is issued stands on other paper too: cards and the baseline are of the manual as it reads from now on.
    site = _prepared(house, day, environment)
    follow = _cards_now(site, request, {item.key for item in cards}) if pages else []
    if follow:
        _write(house, _planned(house, request, follow, site), site.register.house, done)
        site = _prepared(house, day, environment)
    elif pages:
        done += _cards_to_follow(site, request)
    keep_baseline(house, site, {item.key for item in (*chosen, *follow)})


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


def _write(house: Path, plan: IssuePlan, record: House, done: list[str]) -> None:
    """Copies, then entries in one stroke: killed between the two, copies lie there that no entry names, and the next
    issue writes them anew. What the plan tells is in `done` as soon as its entries stand."""
    path = file_of_section(record, house, plan.section, FILE)
    folder = inside(Archive(house).folder, house)
    shown = f"{FOLDER}/{path.name}"
    old = path.read_bytes() if path.is_file() else _HEAD.encode()
    _refuse_changed(old, plan.section, record, shown)
    try:
        new = with_entries(old.decode("utf-8"), plan.section, plan.entries, shown).encode()
    except NotAppended as reason:
        lines = "".join(f"\n  - {entry}" for entry in plan.entries)
        raise NotIssued(f"{reason}\nThe entries would be:{lines}") from reason
    for name, snapshot in plan.snapshots.items():
        write_whole(folder / name, snapshot.as_json().encode())
    if path.is_file() and path.read_bytes() != old:
        raise NotIssued(_CHANGED.format(shown))
    try:
        write_whole(path, new)
    finally:
        if path.is_file() and path.read_bytes() == new:
            done += plan.told


def _refuse_changed(text: bytes, section: str, record: House, shown: str) -> None:
    """An editor knows of no lock: what the file says now must be what the entries were made from."""
    source, _ = read_yaml_text(text.decode("utf-8"), shown)
    now = source.data if source is not None and isinstance(source.data, dict) else {}
    if (now.get(section) or []) != (record.read_from.data.get(section) or []):
        raise NotIssued(_CHANGED.format(shown))
