"""Master list, wall copies, swap list and reviews: requirements D-02, D-10, D-12 and D-13.

The expectations follow from those requirements: the list equals the site, every copy of an older revision is to be
swapped, a review counts like an issue, and what is overdue says so.
"""

from __future__ import annotations

import html
import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import pytest

from macros.calendar.events import known_events
from macros.control.documents.master_list import (
    MasterList,
    MasterRow,
    control_problems,
    master_list,
    master_list_page,
)
from macros.control.documents.sheets import control_parts
from macros.control.documents.wall_copies import Swap, hanging
from macros.doors.print_pack import pack_of
from macros.ground.problems import DataProblems
from macros.house import load_house
from macros.house.records.document_control import WallCopy
from macros.html.paper import Part
from macros.packs.makers import pack_parts
from macros.packs.pack import PackRequest
from macros.published import source_of
from macros.site.site import Site
from tests.controlling import CHANGED, ISSUES, WALL_COPIES, controlled_house, issued_lines
from tests.making import made_site, manual_of
from tests.signing import fourth_with

HOUSES_OF_ALL_KINDS = ("first", "second", "third", "fourth", "fifth")


@pytest.fixture(scope="module")
def site(sites: Mapping[str, Site], tmp_path_factory: pytest.TempPathFactory) -> Site:
    return made_site(controlled_house(sites["fourth"], tmp_path_factory.mktemp("control")))


@pytest.fixture(scope="module")
def listed(site: Site) -> MasterList:
    return master_list(site.register, site.controlled_documents)


def row(listed: MasterList, key: str) -> MasterRow:
    (found,) = (one for one in listed.rows if one.item.key == key)
    return found


# ---------------------------------------------------------------- a copy in words


@pytest.mark.parametrize(
    ("where", "said"),
    [
        ("room door", "1 at room door, revision 2"),
        ("innermost shelf", "1 at innermost shelf, revision 2"),
        ("at the mixing bench", "1 at the mixing bench, revision 2"),
        ("At the mixing bench", "1 At the mixing bench, revision 2"),
        ("near the sink", "1 near the sink, revision 2"),
        ("next to the sink", "1 next to the sink, revision 2"),
    ],
)
def test_a_place_that_brings_its_own_preposition_gets_no_second_one(
    sites: Mapping[str, Site], where: str, said: str
) -> None:
    copy = WallCopy(item="NOT-ISSUED", where=where, count=1, printed=2)
    assert hanging(sites["fourth"].register.house, copy) == said


# ---------------------------------------------------------------- the list


@pytest.mark.parametrize("name", HOUSES_OF_ALL_KINDS)
def test_the_list_equals_the_site(name: str) -> None:
    """D-12: every procedure page, checklist and card that is published is listed once, and nothing else is."""
    site = manual_of(name)
    published = {address.replace(".md", ".html") for address in site.pages if address.startswith("p/")}
    published |= {a for a in site.files if re.match(r"sheets/(check|card)-", a)}
    rows = master_list(site.register, site.controlled_documents).rows
    assert len(rows) == len(published) > 30
    assert {one.item.address for one in rows} == published
    text = site.pages["reference/master-list.md"]
    assert set(re.findall(r'<td data-label="Title"><a href="\.\./([^"]+)"', text)) == published


def test_each_item_shows_what_was_recorded_of_it(listed: MasterList) -> None:
    shown = row(listed, "SOP-08-K")
    control = shown.item.control
    assert (control.revision, control.effective, control.approved_by) == ("2", "2031-03-01", "owner")
    assert (shown.next_review, shown.owner, shown.state) == ("2032-03-01", "owner", "in force")
    assert shown.copies == ("1 at tank K, revision 2",)
    fresh = row(listed, "CARD-1")
    control = fresh.item.control
    assert (control.revision, control.effective, control.approved_by) == ("0", "not issued", "nobody yet")
    assert (fresh.state, fresh.next_review) == (
        "DRAFT: not issued",
        "from its issue",
    )
    assert row(listed, "SOP-01").state == "DRAFT: The values changed since revision 1 was issued."
    assert row(listed, "CHECK-K").state == "issued, from 2031-06-01"
    assert row(listed, "CARD-3-M").in_force
    assert not row(listed, "CARD-1").in_force


def test_the_counts_add_up(listed: MasterList) -> None:
    assert len(listed.rows) == 73
    never = 73 - len({line.split()[0] for line in ISSUES.strip().splitlines()} - {"SOP-99"})
    drafts, due = never + len(CHANGED), 2  # SOP-08-M by its age, SOP-16 by its review
    assert listed.summary == (
        f"73 items: {73 - drafts - due} in force, {drafts} DRAFT, {due} with a review due, 7 wall copies to swap."
    )


def test_a_card_is_its_own_item(sites: Mapping[str, Site], site: Site) -> None:
    """Its code covers what it says: pages issued since do not make it a draft. The sign-off card prints their revisions."""
    before = {item.key: item.control for item in sites["fourth"].controlled_documents}
    moved = [
        item.key
        for item in site.controlled_documents
        if item.control.values_code != before[item.key].values_code
    ]
    assert moved == ["CARD-10-1", "CARD-10-2"]
    card = next(item for item in site.controlled_documents if item.key == "CARD-2-K")
    assert card.control.draft_reasons == ()
    sheet = site.files[card.address]
    assert "revision <b>2</b>, effective <b>2031-04-01</b>, approved by owner" in sheet.replace("&#8288;", "")
    assert "DRAFT" not in sheet
    assert "DRAFT" in site.files["sheets/card-2-m.html"]
    codes = {item.control.values_code for item in site.controlled_documents}
    assert len(codes) == len(site.controlled_documents)


def test_a_changed_figure_makes_the_card_a_draft_and_no_other(
    sites: Mapping[str, Site], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """D-08: with another feed rate the feed card is a draft; the emergency card prints the same and stays in force."""
    folder = tmp_path_factory.mktemp("changed")
    lines = "CARD-1 1 2031-01-01\nCARD-4-K 1 2031-01-01\nCARD-8 1 2031-01-01"
    house = fourth_with(folder, issued_lines(sites["fourth"], lines, ()))
    file = house / "site_data" / "house.yml"
    text = file.read_text(encoding="utf-8")
    assert 'part_1: "1.5 mL/L"' in text
    file.write_text(text.replace('part_1: "1.5 mL/L"', 'part_1: "1.4 mL/L"'), encoding="utf-8")
    controls = {item.key: item.control for item in made_site(house).controlled_documents}
    assert controls["CARD-4-K"].draft_reasons == ("The values changed since revision 1 was issued.",)
    assert controls["CARD-1"].draft_reasons == ()
    assert controls["CARD-8"].draft_reasons == ()


# ---------------------------------------------------------------- wall copies


def test_every_old_copy_is_on_the_swap_list_by_place(listed: MasterList) -> None:
    assert listed.swaps == (
        Swap(
            "SOP-17", row(listed, "SOP-17").item.title, "Bench", 3, "revision 1",
            "revision 2, effective 2031-02-02", date(2031, 2, 2), "DRAFT: issue it first",
        ),
        Swap(
            "CHECK-K", row(listed, "CHECK-K").item.title, "door, inside", 1, "revision 1",
            "revision 2, effective 2031-06-01", date(2031, 6, 1),
        ),
        Swap("SOP-99", "no longer in the manual", "hall", 1, "revision 1", ""),
        Swap(
            "CARD-2-K", "Dilution, K", "sink, left of the <b>tap</b> & {{ 7 * 7 }}", 2, "revision 1",
            "revision 2, effective 2031-04-01", date(2031, 4, 1),
        ),
    )  # fmt: skip
    assert [(title, copy.item, copy.where) for title, copy in listed.drafts] == [
        (row(listed, "SOP-01").item.title, "SOP-01", "door, outside")
    ]
    assert row(listed, "CARD-2-K").copies == (
        "2 at sink, left of the <b>tap</b> & {{ 7 * 7 }}, revision 1: swap",
    )


def test_the_page_tells_where_to_swap_and_escapes_the_place(site: Site) -> None:
    text = site.pages["reference/master-list.md"]
    assert "Swap these wall copies" in text
    assert "nothing: it is no longer in the manual" in text.replace(" ", " ")
    assert "&lt;b&gt;tap&lt;/b&gt;" in text
    assert "<b>tap" not in text
    assert "49" not in text


def test_a_house_without_copies_is_shown_how_to_note_them(sites: Mapping[str, Site]) -> None:
    page = master_list_page(sites["fifth"].register, sites["fifth"].controlled_documents)
    assert (
        page.example == 'wall_copies:\n  - {item: CARD-1, where: "beside the door", count: 1, printed: 1}\n'
    )
    titles = [table.title for table in page.tables if table.rows]
    assert titles == ["Pages", "Checklists", "Wall cards", "How control works here"]


def test_how_control_works_names_each_mechanism(site: Site) -> None:
    """D-02: available, protected and changed under control, kept, how long, obsolete copies caught."""
    names = [line["what"] for line in source_of("control").data["mechanisms"]]
    assert names == [
        "Where it is",
        "Who changes it",
        "How it is kept",
        "How long it is kept",
        "How an old copy is caught",
    ]
    text = site.pages["reference/master-list.md"]
    assert all(f'<th scope="row">{name}' in text.replace(" ", " ") for name in names)


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        (
            "{item: CARD-2-KK, where: sink, count: 1, printed: 1}",
            "item: CARD-2-KK is no page, checklist or card of this house. Keys are as on the master list: SOP-08-A, "
            "CHECK-SOP-08-A, CARD-2-A. Did you mean CARD-2-K?",
        ),
        (
            "{item: CARD-2-M, where: sink, count: 1, printed: 1}",
            "item: CARD-2-M has not been issued. Under control stands what was issued: it has a revision. Issue it first, "
            "or remove the entry.",
        ),
        (
            "{item: SOP-99, where: sink, count: 1, printed: 1}",
            "item: SOP-99 was issued once and is no longer in the manual. The master list names every page, checklist and "
            "card there is. Take its copies down, then remove the entry.",
        ),
    ],
)
def test_a_copy_of_what_is_not_there_is_told(
    site: Site, sites: Mapping[str, Site], tmp_path_factory: pytest.TempPathFactory, entry: str, message: str
) -> None:
    folder = tmp_path_factory.mktemp("copies")
    house, _ = load_house(controlled_house(sites["fourth"], folder, f"wall_copies:\n  - {entry}\n"))
    assert house is not None
    found = control_problems(replace(site.register, house=house), site.controlled_documents)
    told = [str(problem) for problem in found if problem.key.startswith("wall")]
    assert len(told) == 1
    assert re.match(r"site_data/house\.yml:\d+: (warning: )?wall_copies\[0\]\.", told[0])
    assert told[0].endswith(message)
    assert ("warning" in told[0]) == ("SOP-99" in entry)


# ---------------------------------------------------------------- reviews


def test_the_next_review_is_a_year_after_the_last_issue_or_review(listed: MasterList) -> None:
    """D-10: `reviewed, no change` is dated and counts, the last of several; a re-issue meets the change found that day."""
    assert row(listed, "SOP-10").next_review == "2031-06-01"
    assert row(listed, "SOP-10").state == "in force"
    assert row(listed, "CARD-3-M").next_review == "2032-01-05"
    assert row(listed, "SOP-08-K").next_review == "2032-03-01"


def test_what_is_due_says_so_on_the_list_and_on_its_page(site: Site, listed: MasterList) -> None:
    assert row(listed, "SOP-08-M").state == "review due since 2031-01-05"
    assert row(listed, "SOP-16").state == "review of 2031-02-01 found a change: ask before use"
    for key, line in (
        ("sop-08-m", "review due since 2031-01-05"),
        ("sop-16", "review of 2031-02-01 found a change: ask before use"),
    ):
        head = (
            site.pages[f"p/{key}.md"]
            .split('class="docline" data-control>')[1]
            .split("</p>")[0]
            .replace("\N{NO-BREAK SPACE}", " ")
        )
        assert line in head
    assert "review due" not in site.pages["p/sop-10.md"]


def test_a_build_warns_of_what_is_due(site: Site) -> None:
    told = [str(problem) for problem in site.warnings if "review of" in problem.what]
    assert [re.sub(r":\d+:", ":n:", one) for one in told] == [
        "site_data/house.yml:n: warning: issued[3].effective: the review of SOP-08-M is due since 2031-01-05. A page is read "
        "against the work every 12 months, from its last issue or review. Issue anew what must change; for the rest: "
        "trayside issue PAGE --by ROLE --reviewed.",
        "site_data/house.yml:n: warning: issued[5].effective: the review of SOP-16 is due since 2031-02-01. A page is read "
        "against the work every 12 months, from its last issue or review. Issue anew what must change; for the rest: "
        "trayside issue PAGE --by ROLE --reviewed.",
    ]


def test_the_calendar_counts_from_the_review_and_holds_cards(site: Site) -> None:
    events = [e for e in known_events(site.register, site.views) if e.kind == "review"]
    days = {(event.day, event.title): event.detail for event in events}
    assert "SOP-10" in days[date(2031, 6, 1), "Review pages reviewed 2030-06-01"]
    assert "CARD-3-M" in days[date(2032, 1, 5), "Review pages issued 2031-01-05"]
    assert days[date(2031, 5, 1), "Overdue: Review pages issued 2030-01-05"].endswith("SOP-08-M")
    assert (date(2031, 5, 1), "Overdue: Review pages to be changed, reviewed 2031-02-01") in days


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        (
            "{page: SOP-100, when: 2031-01-01, by: owner, outcome: no change}",
            "page: SOP-100 is no page, checklist or card of this house. Keys are as on the master list: SOP-08-A, "
            "CHECK-SOP-08-A, CARD-2-A. Did you mean SOP-10?",
        ),
        (
            "{page: SOP-10, when: 2031-05-02, by: owner, outcome: no change}",
            "when: 2031-05-02 is after 2031-05-01, the day the manual is built for. A review is in the past. Mend the date, "
            "or build for a later day.",
        ),
    ],
)
def test_a_review_that_cannot_be_is_told(
    site: Site, sites: Mapping[str, Site], tmp_path_factory: pytest.TempPathFactory, entry: str, message: str
) -> None:
    folder = tmp_path_factory.mktemp("reviews")
    house, _ = load_house(controlled_house(sites["fourth"], folder, f"reviews:\n  - {entry}\n"))
    assert house is not None
    found = control_problems(replace(site.register, house=house), site.controlled_documents)
    told = [str(problem) for problem in found if problem.key.startswith("reviews")]
    assert len(told) == 1
    assert told[0].endswith(message)


def test_an_unknown_copy_stops_the_build(
    sites: Mapping[str, Site], tmp_path_factory: pytest.TempPathFactory
) -> None:
    house = controlled_house(
        sites["fourth"], tmp_path_factory.mktemp("stop"), WALL_COPIES.replace("CARD-3-M", "CARD-33-M")
    )
    with pytest.raises(DataProblems) as found:
        made_site(house)
    errors = [problem for problem in found.value.problems if problem.severity == "error"]
    assert [problem.key for problem in errors] == ["wall_copies[2].item"]


# ---------------------------------------------------------------- paper


def parts_of(site: Site, **asked: bool) -> list[Part]:
    return pack_parts(pack_of(site, PackRequest("control", **asked), day_given=False))


def words_of(part: Part) -> str:
    """The text of a sheet, its no-break marks left out."""
    text = (
        re.sub(r"<[^>]+>", " ", str(part.html))
        .replace("\N{NO-BREAK SPACE}", " ")
        .replace("\N{WORD JOINER}", "")
    )
    return " ".join(html.unescape(text).split())


def test_the_pack_holds_swap_list_master_list_and_note(site: Site) -> None:
    swap, master, note, trace = parts_of(site)
    assert [part.key for part in (swap, master, note, trace)] == [
        "SWAP-LIST",
        "MASTER-LIST",
        "NOTE",
        "TRACE",
    ]
    assert note.one_page
    assert trace.one_page
    listed = words_of(master)
    assert all(f" {item.key} " in listed for item in site.controlled_documents)
    assert "How an old copy is caught" in listed


def test_the_swap_list_tells_where_what_and_ends_with_the_old_copies(site: Site) -> None:
    """D-13: place, count, what comes down, what goes up, a box to tick; then what becomes of the old ones."""
    swap = words_of(parts_of(site)[0])
    assert "door, inside CHECK-K Cleanout day, K 1 revision 1 revision 2, effective 2031-06-01" in swap
    assert (
        "Bench SOP-17 Weekly check and tidy 3 revision 1 revision 2, effective 2031-02-02; DRAFT: issue it first"
        in swap
    )
    assert "A sheet with a later day in force hangs from that day, not before." in swap
    assert "7 to take down. Count them, then destroy them, or write WITHDRAWN across the face" in swap
    assert "door, outside SOP-01 Enter the room, hands and clothes 1 revision 1" in swap
    assert "<b>tap</b> & {{ 7 * 7 }}" in swap
    assert str(parts_of(site)[0].html).count('<td class="c-box"><span class="box">') == 4


def test_the_new_sheets_are_printed_as_often_as_they_hang(site: Site) -> None:
    """Neither a draft nor what is no longer in the manual is among them."""
    new = parts_of(site, with_copies=True)[4:]
    assert [part.key for part in new] == ["CHECK-K-hang-2-1", "CARD-2-K-hang-4-1", "CARD-2-K-hang-4-2"]
    assert all("DRAFT" not in str(part.html) for part in new)
    assert [part.title for part in new] == ["Cleanout day", "Dilution, K", "Dilution, K"]
    assert len({part.page for part in new}) == 3


def test_only_control_prints_copies(site: Site) -> None:
    with pytest.raises(DataProblems) as told:
        pack_of(site, PackRequest("cards", with_copies=True), day_given=False)
    assert str(told.value) == (
        "trayside pack, --with-copies:1: with-copies: the pack cards swaps no wall copies. Leave it out, or print: "
        "trayside pack control."
    )


def test_an_empty_swap_list_says_which_of_two_it_is(sites: Mapping[str, Site], site: Site) -> None:
    none_noted = words_of(parts_of(sites["fifth"])[0])
    assert "The house file notes no wall copies, so nobody can say what hangs." in none_noted
    register = replace(site.register, house=site.register.house.model_copy(update={"wall_copies": ()}))
    assert master_list(register, site.controlled_documents).swaps == ()
    current = tuple(copy for copy in site.register.house.wall_copies if copy.item in ("CARD-3-M", "SOP-08-K"))
    house = site.register.house.model_copy(update={"wall_copies": current})
    (swap, *_) = control_parts(replace(site.register, house=house), site.controlled_documents)
    assert (
        "Nothing to swap: every copy noted in the house file hangs in the revision last issued."
        in words_of(swap)
    )


def test_a_handwritten_note_changes_nothing_that_can_hurt(site: Site) -> None:
    """D-14: dated, initialled, with an end date; our own rule on how long and on what is never changed by hand."""
    note = words_of(parts_of(site)[2])
    assert "Never by hand: an amount of a chemical, a limit, a caution. Stop, and ask the owner." in note
    assert "at most 30 days (our own, because a note nobody ends stays for good)" in note
    for field in (
        "From, date",
        "Ends, 30 days at most",
        "Initials",
        "Agreed by the owner: initials, date",
        "Why",
    ):
        assert note.count(field) >= 2
    for box in ("no amount of a chemical", "no limit", "no caution is changed"):
        assert note.count(box) == 2
