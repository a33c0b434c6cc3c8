"""What an issue records, and every refusal in the words the owner reads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from macros.control.documents.controlled_documents import ControlledDocument
from macros.control.documents.issued_copies import FOLDER, Archive, read_snapshot, snapshot_of
from macros.control.documents.plan_issue import IssuePlan, IssueRequest, NotIssued, chosen_items, plan_issue
from macros.manual.pages.printed_lines import PrintedLine
from macros.manual.pages.values_code import lines_code
from macros.site.site import Site
from tests.signing import register_with


@pytest.fixture
def site(sites: Mapping[str, Site]) -> Site:
    """The fourth house: nothing of it is issued, and it stands on 2031-05-01."""
    return sites["fourth"]


def asked(
    *pages: str, by: str | None = "owner", why: str | None = "first issue", **more: object
) -> IssueRequest:
    return IssueRequest(pages, by, why, **more)  # type: ignore[arg-type]


def planned(
    site: Site,
    folder: Path,
    request: IssueRequest,
    *,
    issued: str = "",
    items: Sequence[ControlledDocument] | None = None,
) -> IssuePlan:
    """The plan on top of entries the house has already; `items` as they stand under these."""
    register = register_with(site, folder, issued) if issued else site.register
    items = items if items is not None else site.controlled_documents
    return plan_issue(request, chosen_items(request, items), register, Archive(folder / "house"))


def refused(site: Site, folder: Path, request: IssueRequest, **more: object) -> str:
    with pytest.raises(NotIssued) as told:
        planned(site, folder, request, **more)  # type: ignore[arg-type]
    return str(told.value)


def in_force(items: Sequence[ControlledDocument], *keys: str) -> list[ControlledDocument]:
    """The items with those named no draft any more."""
    return [
        replace(item, control=replace(item.control, draft_reasons=() if item.key in keys else item.control.draft_reasons))
        for item in items
    ]  # fmt: skip


def kept(site: Site, folder: Path, key: str, *, change: tuple[str, str] | None = None) -> str:
    """A copy of the item as revision 1, one text of it replaced; the entry that goes with it."""
    item = next(one for one in site.controlled_documents if one.key == key)
    now = snapshot_of(item.view, 1, site.register)
    lines = tuple(
        PrintedLine(line.place, line.kind, line.text.replace(*change) if change else line.text)
        for line in now.lines
    )
    assert (lines != now.lines) == (change is not None)
    old = replace(now, lines=lines, code=lines_code(lines, now.formulas))
    path = folder / "house" / FOLDER / f"{key}-1.json"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(old.as_json(), encoding="utf-8")
    assert read_snapshot(path, folder / "house") == (old, [])
    return (
        f"issued:\n  - {{page: {key}, revision: 1, effective: 2031-02-01, approved_by: owner, why: first, "
        f'values_code: "{old.code}"}}\n'
    )


# ------------------------------------------------------------------ what is recorded


@pytest.mark.quick
def test_a_first_issue(site: Site, tmp_path: Path) -> None:
    plan = planned(site, tmp_path, asked("SOP-08-K", why='acid: 5 "drops", {braces} # and more'))
    code = next(item.control.values_code for item in site.controlled_documents if item.key == "SOP-08-K")
    assert plan.section == "issued"
    assert plan.entries == (
        "{page: SOP-08-K, revision: 1, effective: 2031-05-01, approved_by: owner, "
        f'why: "acid: 5 \\"drops\\", {{braces}} # and more", values_code: "{code}"}}',
    )
    assert list(plan.snapshots) == ["SOP-08-K-1.json"]
    assert plan.told == (f"SOP-08-K: revision 1, effective 2031-05-01, values code {code}.",)


def test_a_document_stands_for_its_systems_and_all_for_every_draft(site: Site, tmp_path: Path) -> None:
    assert [one.key for one in chosen_items(asked("sop-08"), site.controlled_documents)] == [
        "SOP-08-K",
        "SOP-08-M",
    ]
    items = in_force(site.controlled_documents, "SOP-08-K")
    assert [one.key for one in chosen_items(asked("SOP-08"), items)] == ["SOP-08-M"]
    every = chosen_items(asked(every_draft=True), items)
    assert [one.key for one in every] == [
        one.key for one in site.controlled_documents if one.key != "SOP-08-K"
    ]


def test_a_changed_amount_is_a_new_revision_that_trains_again(site: Site, tmp_path: Path) -> None:
    entry = kept(site, tmp_path, "SOP-08-K", change=("15 min", "20 min"))
    signed = "sign_offs:\n  - {who: helper, procedure: SOP-08-K, revision: 1, by: owner, when: 2031-03-01}\n"
    plan = planned(site, tmp_path, asked("SOP-08-K", effective="2031-05-03"), issued=entry + signed)
    assert "revision: 2, effective: 2031-05-03," in plan.entries[0]
    assert plan.entries[0].endswith(", retrain: yes}")
    assert list(plan.snapshots) == ["SOP-08-K-2.json"]
    assert plan.snapshots["SOP-08-K-2.json"].revision == 2
    assert "20 min" in plan.told[1]
    assert plan.told[-1] == "  Brief and train again; 1 person is no longer signed off."
    plan = planned(site, tmp_path, asked("SOP-08-K", no_retrain=True), issued=entry)
    assert plan.entries[0].endswith(", retrain: no}")


def test_a_correction_keeps_the_revision_and_its_day(site: Site, tmp_path: Path) -> None:
    """D-06: a build note, dated, with what and by whom; the copy of the revision stays beside the corrected one."""
    entry = kept(site, tmp_path, "SOP-08-K", change=("carries over", "caries over"))
    plan = planned(site, tmp_path, asked("SOP-08-K", same_meaning=True, why="typing"), issued=entry)
    assert 'revision: 1, effective: 2031-02-01, approved_by: owner, why: "typing"' in plan.entries[0]
    assert plan.entries[0].endswith(", retrain: no, noted: 2031-05-01}")
    assert list(plan.snapshots) == ["SOP-08-K-1-note-1.json"]
    assert plan.told[0].startswith("SOP-08-K: corrected on 2031-05-01, still revision 1, values code ")


def test_without_a_copy_the_safe_side_is_taken(site: Site, tmp_path: Path) -> None:
    entry = (
        "issued:\n  - {page: SOP-08-K, revision: 3, effective: 2031-02-01, approved_by: owner, why: x, "
        "values_code: 0000 0000}\n"
    )
    plan = planned(site, tmp_path, asked("SOP-08-K"), issued=entry)
    assert "revision: 4," in plan.entries[0]
    assert plan.entries[0].endswith(", retrain: yes}")
    assert plan.told[1:] == (
        "  No copy of revision 3 was kept, so what changed cannot be listed.",
        "  Brief and train again.",
    )


def test_a_review_without_a_change_is_dated(site: Site, tmp_path: Path) -> None:
    entry = kept(site, tmp_path, "SOP-08-K")
    items = in_force(site.controlled_documents, "SOP-08-K")
    plan = planned(site, tmp_path, asked("SOP-08-K", why=None, reviewed=True), issued=entry, items=items)
    assert plan.section == "reviews"
    assert plan.entries == ("{page: SOP-08-K, when: 2031-05-01, by: owner, outcome: no change}",)
    assert plan.snapshots == {}
    again = entry + "reviews:\n  - {page: SOP-08-K, when: 2031-05-01, by: owner, outcome: no change}\n"
    told = refused(
        site, tmp_path / "b", asked("SOP-08-K", why=None, reviewed=True), issued=again, items=items
    )
    assert told == "SOP-08-K was reviewed on 2031-05-01 already."


# ------------------------------------------------------------------ what is refused

ROLE = "a role of level 4 under people. Here that is owner."


@pytest.mark.parametrize(
    ("request_", "told"),
    [
        (asked(), "No page is named. Name pages, as SOP-08-A or SOP-08 for all its systems, or say --all for all that changed."),
        (asked("SOP-08-KK"), "SOP-08-KK is no page, checklist or card of this house. Nearest: SOP-08-K, SOP-09-K, SOP-08-M."),
        (asked("zzz"), "zzz is no page, checklist or card of this house. See the list: trayside changes."),
        (asked("SOP-01", by=None), f"Nobody is named who approves. Say --by ROLE, {ROLE}"),
        (asked("SOP-01", by="cook"), '"cook" is no role under people; there are owner, helper. Here that is owner.'),
        (asked("SOP-01", by="helper"), f"helper may not approve: that takes {ROLE}"),
        (asked("SOP-01", why=" "), 'It is not said why. Say --why "...": the sentence stands in the history of the page.'),
        (asked("SOP-01", effective="1.5.2031"), '--effective "1.5.2031" is no day. Write year, month and day, as 2026-03-10.'),
        (asked("SOP-01", why="y" * 2001), "why: the text has 2001 characters. At most 2000. Shorten it."),
        (asked("SOP-01", same_meaning=True), "SOP-01 has not been issued yet, so there is nothing whose meaning stays the same."),
        (asked("SOP-01", why=None, reviewed=True), "SOP-01 has not been issued yet. Issue it; a review comes after."),
        (
            asked("SOP-01", reviewed=True, no_retrain=True),
            "--why, --no-retrain does not go with --reviewed: a review without a change has page, day and role.",
        ),
    ],
)  # fmt: skip
def test_each_refusal(site: Site, tmp_path: Path, request_: IssueRequest, told: str) -> None:
    assert refused(site, tmp_path, request_) == told


def test_nobody_approves_before_the_first_day(site: Site, tmp_path: Path) -> None:
    """The house stands on 2031-05-01."""
    register = site.register
    people = tuple(
        one.model_copy(update={"starts": date(2031, 5, 2)}) if one.role == "owner" else one
        for one in register.house.people
    )
    late = replace(register, house=register.house.model_copy(update={"people": people}))
    told = "owner may not approve before 2031-05-02, its first day. Enter one under people first."
    assert refused(replace(site, _register=late), tmp_path, asked("SOP-01")) == told


def test_nothing_changed(site: Site, tmp_path: Path) -> None:
    entry = kept(site, tmp_path, "SOP-08-K")
    items = in_force(site.controlled_documents, "SOP-08-K")
    assert refused(site, tmp_path, asked("SOP-08-K"), issued=entry, items=items) == (
        "SOP-08-K prints what revision 1 of 2031-02-01 printed: nothing changed. To date a review without a change: trayside "
        "issue SOP-08-K --by ROLE --reviewed."
    )
    everything = in_force(site.controlled_documents, *(item.key for item in site.controlled_documents))
    assert refused(site, tmp_path / "b", asked(every_draft=True), items=everything) == (
        "Every page, checklist and card is issued as it is. There is nothing to issue."
    )


def test_a_day_before_the_last_issue(site: Site, tmp_path: Path) -> None:
    entry = kept(site, tmp_path, "SOP-08-K", change=("15 min", "20 min"))
    assert refused(site, tmp_path, asked("SOP-08-K", effective="2031-01-31"), issued=entry) == (
        "SOP-08-K: 2031-01-31 is before 2031-02-01, the day revision 1 came into force. Choose that day or a later one."
    )


def test_same_meaning_with_another_number_lists_the_lines(site: Site, tmp_path: Path) -> None:
    entry = kept(site, tmp_path, "SOP-08-K", change=("15 min after the dose", "20 min after the dose"))
    told = refused(site, tmp_path, asked("SOP-08-K", same_meaning=True), issued=entry)
    assert told == (
        "SOP-08-K changed in more than its wording, so it needs a new revision: issue it without --same-meaning.\n"
        "  step prove ph: what to do: Read pH again in stirred water, 20 min after the dose. -> Read pH again in stirred water, "
        "15 min after the dose. (a printed amount changed)"
    )


def test_same_meaning_without_a_copy(site: Site, tmp_path: Path) -> None:
    entry = (
        "issued:\n  - {page: SOP-08-K, revision: 3, effective: 2031-02-01, approved_by: owner, why: x, "
        "values_code: 0000 0000}\n"
    )
    assert refused(site, tmp_path, asked("SOP-08-K", same_meaning=True), issued=entry) == (
        "SOP-08-K: no copy of revision 3 was kept, so nothing can be compared. Issue it without --same-meaning."
    )


def test_a_review_of_a_changed_page(site: Site, tmp_path: Path) -> None:
    entry = kept(site, tmp_path, "SOP-08-K", change=("15 min", "20 min"))
    assert refused(site, tmp_path, asked("SOP-08-K", why=None, reviewed=True), issued=entry) == (
        "SOP-08-K is not as it was issued: This page has not been issued yet. Issue it instead of a review."
    )


def test_every_reason_is_told_at_once(site: Site, tmp_path: Path) -> None:
    told = refused(site, tmp_path, asked("SOP-01", by="helper", why=None, effective="soon"))
    assert [line.split(" ")[0] for line in told.splitlines()] == ["helper", "It", "--effective"]


def test_emergency_numbers_that_are_not_real(site: Site, tmp_path: Path) -> None:
    house = site.register.house
    emergency = house.house.emergency.model_copy(update={"poison_line": "fill in before printing"})
    facts = house.house.model_copy(update={"emergency": emergency})
    register = replace(site.register, house=house.model_copy(update={"house": facts}))
    with pytest.raises(NotIssued) as told:
        plan_issue(asked("SOP-01"), [site.controlled_documents[0]], register, Archive(tmp_path))
    assert str(told.value) == (
        "Not filled in under house.emergency: poison line. Every page prints these numbers, so none can be issued before they "
        "are real."
    )
