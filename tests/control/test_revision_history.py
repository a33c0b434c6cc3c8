"""Revisions on the site: the history with what changed, withdrawn pages, drafts that print the same, the policy."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from macros.control.documents.controlled_documents import ControlledDocument
from macros.control.documents.issued_copies import FOLDER, Archive, Snapshot, snapshot_names, snapshot_of
from macros.control.documents.refuse_unapproved import unapproved_problems
from macros.control.documents.revision_history import published_page, revision_links, withdrawn_items
from macros.control.documents.withdrawn_markdown import with_link_to_withdrawn, withdrawn_pages
from macros.ground.problems import DataProblems, errors_in
from macros.house.records.people import Issued
from macros.manual.pages.page_markdown import procedure_page
from macros.manual.pages.printed_lines import PrintedLine
from macros.manual.pages.values_code import lines_code
from macros.page_model.page import LinkView
from macros.page_model.table import Table, TablePage
from macros.site.site import Site, prepare_site
from macros.training.path.roster import roster_tables
from tests.making import PROCEDURES, content_of, made_house
from tests.signing import register_with

KEY = "SOP-08-K"


def item_of(site: Site) -> ControlledDocument:
    return next(item for item in site.controlled_documents if item.key == KEY)


def number_of_proof(site: Site) -> int:
    """The number of the step that reads pH again, in which the revisions here differ."""
    return next(step.number for step in item_of(site).view.steps if step.id == "prove_ph")  # type: ignore[union-attr]


def keep(folder: Path, name: str, snapshot: Snapshot) -> None:
    path = folder / "house" / FOLDER / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(snapshot.as_json(), encoding="utf-8")


def with_text(snapshot: Snapshot, old: str, new: str) -> Snapshot:
    """The snapshot with one text replaced, whole again."""
    lines = tuple(PrintedLine(one.place, one.kind, one.text.replace(old, new)) for one in snapshot.lines)
    assert lines != snapshot.lines
    return replace(snapshot, lines=lines, code=lines_code(lines, snapshot.formulas))


@pytest.fixture
def issued(sites: Mapping[str, Site], tmp_path: Path) -> tuple[str, Path]:
    """SOP-08-K issued twice, the first time with another time, once corrected between; the last is as it is now."""
    site = sites["fourth"]
    now = snapshot_of(item_of(site).view, 2, site.register)
    first = replace(with_text(now, "15 min after the dose", "20 min after the dose"), revision=1)
    corrected = with_text(first, "carries over", "caries over")
    for name, one in ((f"{KEY}-1.json", first), (f"{KEY}-1-note-1.json", corrected), (f"{KEY}-2.json", now)):
        keep(tmp_path, name, one)
    head = f"{{page: {KEY}, approved_by: owner, "
    text = (
        "issued:\n"
        f'  - {head}revision: 1, effective: 2030-01-05, why: first <b>issue</b>, values_code: "{first.code}"}}\n'
        f'  - {head}revision: 1, effective: 2030-01-05, noted: 2030-02-01, why: typing, values_code: "{corrected.code}", retrain: no}}\n'
        f'  - {head}revision: 2, effective: 2031-03-01, why: pH settles sooner, values_code: "{now.code}", retrain: yes}}\n'
    )
    return text, tmp_path


def test_the_history_tells_what_changed_newest_first(
    sites: Mapping[str, Site], issued: tuple[str, Path]
) -> None:
    """D-09: number, date, what changed (old value to new value), why, who, retrain yes or no."""
    text, folder = issued
    site = sites["fourth"]
    register = register_with(site, folder, text)
    view = published_page(content_of(item_of(site).view), register, Archive(folder / "house"))  # type: ignore[arg-type]
    second, corrected, first = view.history
    assert (second.number, second.date, second.what, second.by, second.retrain) == (
        "2", "2031-03-01", "pH settles sooner", "owner", "yes",
    )  # fmt: skip
    was, now = (
        "Read pH again in stirred water, 20 min after the dose.",
        "Read pH again in stirred water, 15 min after the dose.",
    )
    assert second.changes[0] == (f"step {number_of_proof(site)}: what to do", was, now)
    assert (corrected.number, corrected.date, corrected.retrain) == ("1", "corrected 2030-02-01", "no")
    assert (first.number, first.changes, first.note) == ("1", (), "")
    assert [one.kept.address if one.kept else None for one in view.history] == [
        None, "issues/sop-08-k-1-note-1.html", "issues/sop-08-k-1.html",
    ]  # fmt: skip
    page = procedure_page(view, {view.page_address: view})
    assert "first &lt;b&gt;issue&lt;/b&gt;" in page
    assert '<a href="../issues/sop-08-k-1.html">As it was</a>' in page


def test_what_was_withdrawn_is_a_page_that_says_so(
    sites: Mapping[str, Site], issued: tuple[str, Path]
) -> None:
    """D-11: kept, dated withdrawn, reachable from the record that cites it."""
    text, folder = issued
    site = sites["fourth"]
    signed = "sign_offs:\n  - {who: helper, procedure: SOP-08-K, revision: 1, by: owner, when: 2030-06-01}\n"
    register = register_with(site, folder, text + signed)
    found = withdrawn_items(register.house, site.controlled_documents, Archive(folder / "house"))
    assert [(one.issue.revision, one.withdrawn, one.replaced_by) for one in found] == [
        (1, "2030-02-01", "revision 1 as corrected"), (1, "2031-03-01", "revision 2"),
    ]  # fmt: skip
    pages = withdrawn_pages(found)
    page = pages["issues/sop-08-k-1-note-1.md"].replace("\u00a0", " ").replace("\u2060", "")
    assert "search: {exclude: true}" in page
    assert "replaced by revision 2. Do not work from it." in page
    assert "20 min after the dose" in page
    assert '<a href="../p/sop-08-k.html">' in page
    listed = pages["issues/withdrawn.md"]
    assert listed.index("sop-08-k-1-note-1.html") < listed.index("sop-08-k-1.html")
    see = with_link_to_withdrawn(TablePage("Master list", "", ()), found).see
    assert see == (LinkView("Withdrawn revisions", "issues/withdrawn.html"),)
    assert with_link_to_withdrawn(TablePage("Master list", "", ()), []).see == ()
    tables = {t.title: t for t in roster_tables(register, site.views, True, revision_links(found))}
    void: Table = tables["Void by a re-issue: brief and sign anew"]
    assert void.rows[0][2] == LinkView("revision 1", "issues/sop-08-k-1-note-1.html")


def test_an_issue_without_a_copy_says_so(sites: Mapping[str, Site], issued: tuple[str, Path]) -> None:
    text, folder = issued
    site = sites["fourth"]
    register = register_with(site, folder, text)
    archive = folder / "house" / FOLDER
    (archive / f"{KEY}-1.json").unlink()
    changed = archive / f"{KEY}-1-note-1.json"  # a copy somebody wrote into is no copy
    changed.write_text(changed.read_text(encoding="utf-8").replace("20 min", "25 min"), encoding="utf-8")
    view = published_page(content_of(item_of(site).view), register, Archive(folder / "house"))  # type: ignore[arg-type]
    assert [one.note for one in view.history] == [
        "No copy of the one before was kept, so what changed is not listed.",
        "No copy of it was kept.",
        "No copy of it was kept.",
    ]
    assert withdrawn_items(register.house, site.controlled_documents, Archive(folder / "house")) == []


LONE = json.dumps(
    {
        "key": KEY,
        "revision": 1,
        "title": "x",
        "code": "1",
        "lines": [["a", "text", "\ud800"]],
        "formulas": {},
        "amounts": {},
        "inputs": {},
    }
)
"""A whole snapshot with half a character in it."""


@pytest.mark.parametrize(
    "content", ["", "{", "[]", '{"key": 1}', "[" * 100_000, '{"lines": [[1]]}', "\ud800", LONE, LONE[:-1]]
)
def test_a_broken_copy_is_no_copy(tmp_path: Path, content: str) -> None:
    folder = tmp_path / FOLDER
    folder.mkdir(parents=True)
    (folder / f"{KEY}-1.json").write_bytes(content.encode("utf-8", "surrogatepass"))
    issue = Issued(
        page=KEY, revision="1", effective="2030-01-05", approved_by="owner", why="x", values_code="1"
    )  # type: ignore[arg-type]
    archive = Archive(tmp_path)
    assert archive.of(issue, [issue]) is None
    assert archive.of(issue, [issue]) is None
    (told,) = archive.problems
    assert str(told).endswith(
        f"{KEY}-1.json:1: warning: file: the file is damaged and counts as not there. This program writes it. Take back a copy "
        "of it, or delete it."
    )


def test_a_page_name_never_leads_out_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / FOLDER).mkdir(parents=True)
    name = "../../outside"
    issue = Issued(
        page=name, revision="1", effective="2030-01-05", approved_by="owner", why="x", values_code="1"
    )  # type: ignore[arg-type]
    (tmp_path / FOLDER / f"{name}-1.json").write_text("{}")
    assert Archive(tmp_path).of(issue, [issue]) is None
    assert snapshot_names([issue]) == ["../../outside-1.json"]


def test_a_constant_that_prints_the_same_makes_a_draft(
    sites: Mapping[str, Site], issued: tuple[str, Path]
) -> None:
    """D-05 (5) and D-08: the code stays, for the sheet is the same; the page is a draft until somebody approves."""
    text, folder = issued
    site = sites["fourth"]
    register = register_with(site, folder, text)
    item = item_of(site)
    content = content_of(item.view)  # type: ignore[arg-type]
    now = snapshot_of(item.view, 2, site.register)
    key, taken = next((k, t) for k, t in now.amounts.items() if isinstance(t.exact, float) and t.exact)
    keep(
        folder,
        f"{KEY}-2.json",
        replace(now, amounts={**now.amounts, key: replace(taken, exact=taken.exact * 1.001)}),
    )
    drafted = published_page(content, register, Archive(folder / "house"))
    assert drafted.control.draft_reasons == (
        "A formula or constant behind it changed since revision 2 was issued.",
    )
    keep(folder, f"{KEY}-2.json", now)
    assert published_page(content, register, Archive(folder / "house")).control.draft_reasons == ()


# ------------------------------------------------------------------ policy

REFUSE = ('spill_limit: "0.5 L",', 'spill_limit: "0.5 L", unapproved: refuse,')


def test_where_the_house_refuses_drafts_each_stops_the_build(
    sites: Mapping[str, Site], issued: tuple[str, Path]
) -> None:
    """D-08: changes nobody approved make the build fail, with the first differences and what to type."""
    text, folder = issued
    site = sites["fourth"]
    policies = site.register.house.policies
    assert policies is not None
    item = item_of(site)
    keep(
        folder,
        f"{KEY}-2.json",
        with_text(snapshot_of(item.view, 2, site.register), "15 min after the dose", "20 min after the dose"),
    )
    last = with_text(
        snapshot_of(item.view, 2, site.register), "15 min after the dose", "20 min after the dose"
    ).code
    entries = text.replace(item.control.values_code, last)
    register = register_with(site, folder, entries)
    assert (
        unapproved_problems(register, [item], Archive(folder / "house")) == []
    )  # a draft, as the house allows
    strict = register.house.model_copy(
        update={"policies": policies.model_copy(update={"unapproved": "refuse"})}
    )
    strict.policies.__dict__["_origin"] = policies._origin  # type: ignore[union-attr]
    (problem,) = unapproved_problems(replace(register, house=strict), [item], Archive(folder / "house"))
    assert str(problem).endswith(
        f"policies.unapproved: SOP-08-K is not issued as it is. Since revision 2: step {number_of_proof(site)}: "
        "what to do: Read pH again in stirred water, 20 min after the dose. -> Read pH again in stirred water, 15 min after the dose. (a printed amount changed). The policy refuse "
        'publishes what is issued, and nothing else. trayside issue SOP-08-K --by ROLE --why "...", or put the change back.'
    )


def test_issuing_and_listing_changes_are_not_stopped_by_the_policy(tmp_path: Path) -> None:
    house = made_house(tmp_path, REFUSE, name="fifth")
    with pytest.raises(DataProblems) as refused:
        prepare_site(house, PROCEDURES, None, {})
    told = [str(problem) for problem in errors_in(refused.value.problems)]
    assert all(
        " is not issued as it is. This " in one and " has not been issued yet. " in one for one in told
    )
    site = prepare_site(house, PROCEDURES, None, {}, approving=True)
    assert len(told) == len(site.controlled_documents) > 20
