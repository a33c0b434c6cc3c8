"""Packs without a browser: what is in them, what is asked wrongly, what is told where nothing can print."""

from __future__ import annotations

import re
import shutil
import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from macros.day_plan.rows import done
from macros.doors.cli import main
from macros.doors.print_pack import NotPrinted, Printed, check_print, pack_of, print_pack, with_pictures
from macros.ground import pdf
from macros.ground.problems import DataProblems
from macros.house.records.document_control import WallCopy
from macros.house.records.tools import Meter
from macros.packs.cover import cover_notes
from macros.packs.day_lines import day_lines
from macros.packs.fronts import before_fronts
from macros.packs.ledger import stock_rows
from macros.packs.log import log_blocks
from macros.packs.makers import DOCUMENT_MAKERS, MAKERS, pack_document, pack_parts
from macros.packs.on_the_wall import on_the_wall
from macros.packs.pack import PackContext, PackRequest, day_text
from macros.packs.pens import meter_on
from macros.packs.readiness import NOT_TOLD, small_needs, stock_needs, things
from macros.packs.sheets import COVER, ledger_part, log_part, readiness_part
from macros.published.paper.packs import ASKED, packs
from macros.site.site import Site, prepare_site
from tests.making import HOUSES, PROCEDURES, made_house, manual_of


@pytest.fixture(scope="module")
def site() -> Site:
    """The manual of the house that has every kind of thing."""
    return manual_of("fourth")


@pytest.fixture(scope="module")
def cleanout(site: Site) -> PackContext:
    """Its cleanout pack for system K."""
    return pack_of(site, PackRequest("cleanout", system="K", people="1"), day_given=False)


def refusals(site: Site, asked: PackRequest) -> str:
    """Everything that is said against what was asked."""
    with pytest.raises(DataProblems) as told:
        pack_of(site, asked, day_given=True)
    return str(told.value)


def test_every_entry_has_its_maker() -> None:
    assert len(packs().packs) >= 3
    for plan in packs().packs.values():
        assert len(set(plan.parts)) == len(plan.parts)
        for entry in plan.parts:
            known = DOCUMENT_MAKERS if entry.document else {*MAKERS, COVER}
            assert entry.maker in known
            assert entry.document == ASKED or re.fullmatch(r"(SOP-\d\d)?", entry.document)


def test_sheets_stand_in_the_order_of_the_plan(cleanout: PackContext) -> None:
    """Cover, one page, plan, the sheets as the plan first uses them, one log, one ledger; tomorrow's page is tomorrow's."""
    keys = [part.key for part in pack_parts(cleanout)]
    assert keys[:2] == ["CHECK-K", "PLAN-K-1"]
    assert keys[-2:] == ["log", "ledger"]
    assert cleanout.planned is not None
    used = [one.activity.page.key for one in done(cleanout.planned)]
    first = [key for key in dict.fromkeys(used) if key in keys]
    assert [key for key in keys[2:-2] if key in first] == first
    assert {"SOP-03-K", "SOP-08-K", "SOP-18"} <= set(first)
    assert not any(part.landscape for part in pack_parts(cleanout))
    assert "SOP-13-K" not in keys


def test_the_day_after_and_readiness_are_packs_of_their_own(site: Site) -> None:
    planting = pack_of(site, PackRequest("planting", system="K"), day_given=False)
    assert [part.key for part in pack_parts(planting)] == ["SOP-13-K", "log"]
    assert site.register.house.crop_plan is not None
    assert planting.day == site.register.house.crop_plan.days_of("K").planting_day
    ready = pack_of(site, PackRequest("readiness", system="K"), day_given=False)
    assert [part.key for part in pack_parts(ready)] == ["readiness"]
    assert ready.file_stem.startswith("readiness-K-")


def test_a_value_is_written_once_and_where_the_sheet_says(site: Site, cleanout: PackContext) -> None:
    """In the pack of a day on its log, alone on the record behind it; without either the sheet has boxes."""
    alone = pack_parts(pack_of(site, PackRequest("page", page="SOP-08-K"), day_given=False))
    assert [part.key for part in alone][-2:] == ["SOP-08-K", "SOP-08-K-record"]
    told = {"log": pack_parts(cleanout), "record": alone}
    sheets = {name: next(str(p.html) for p in found if p.key == "SOP-08-K") for name, found in told.items()}
    for sheet in sheets.values():
        assert 'class="rec ' not in sheet
        assert 'class="rec"' not in sheet
    assert "log of the day, in the row of the step" in sheets["log"].replace("\u00a0", " ")
    assert "behind this sheet" not in sheets["log"]
    assert "record behind this sheet" in sheets["record"].replace("\u00a0", " ")


def test_the_log_has_a_row_for_every_value_of_the_day(cleanout: PackContext) -> None:
    """Every step of the plan that writes a value or starts a wait; a harvest is one row a variety."""
    blocks = log_blocks(cleanout)
    told = {(row.document, row.number) for block in blocks for row in block.rows}
    assert cleanout.planned is not None
    for one in done(cleanout.planned):
        for step in one.activity.steps:
            if step.record is not None:  # done again: written in its one row
                assert (one.activity.page.document, step.number) in told
    tables = [block for block in blocks if block.labels]
    assert len(tables) == 1
    planted = (
        {block.variety for block in cleanout.house.crop_plan.blocks} if cleanout.house.crop_plan else set()
    )
    assert 0 < len(tables[0].labels) <= len(planted)
    assert any("lot" in row.quantity for row in tables[0].rows)
    eight = [row.quantity for block in blocks for row in block.rows if row.document == "SOP-08"]
    assert sum("poured" in name for name in eight) == len(cleanout.house.nutrients.parts)
    assert [name for name in eight if name.startswith("pH before")]


def test_a_wait_has_its_due_box_in_the_row_of_the_value_before(cleanout: PackContext) -> None:
    rows = [row for block in log_blocks(cleanout) for row in block.rows]
    poured = [row for row in rows if row.document == "SOP-08" and "poured" in row.quantity]
    assert poured
    assert all(row.due == "wait 5 min, 1 h at most" for row in poured)
    html = str(log_part(cleanout).html)
    assert html.count('class="c-none"') == sum(
        not row.due for block in log_blocks(cleanout) if not block.labels for row in block.rows
    )


def test_one_person_is_asked_for_one_initial_and_a_later_check(site: Site, cleanout: PackContext) -> None:
    two = pack_of(site, PackRequest("cleanout", system="K", people="2"), day_given=False)
    assert "every page of this day has your initials; somebody else checks later" in str(
        ledger_part(cleanout).html
    )
    assert "every page of this day has two initials" in str(ledger_part(two).html)
    for page in cleanout.day_pages:
        assert f"<b>{page.document}</b>" in ledger_part(cleanout).html
    assert "<b>SOP-13</b>" not in ledger_part(cleanout).html


def test_a_sheet_whose_copy_hangs_in_its_revision_is_left_out(tmp_path: Path) -> None:
    """Issued and hung: on the wall. One revision older, or in large print: printed."""
    found = manual_of("fourth")
    pack = pack_of(found, PackRequest("cleanout", system="K", people="1"), day_given=False)
    page = next(one for one in pack.day_pages if one.document == "SOP-07")
    in_force = replace(page, control=replace(page.control, revision="2", draft_reasons=()))
    views = tuple(in_force if view is page else view for view in pack.views)
    for printed, at in ((2, "the tool board"), (1, "")):
        copy = WallCopy(item="SOP-07", where="the tool board", count=1, printed=printed)
        house = pack.house.model_copy(update={"wall_copies": (copy,)})
        hung = replace(pack, house=house, views=views)
        assert on_the_wall(hung) == ({"SOP-07": at} if at else {})
        assert ("SOP-07" in [part.key for part in pack_parts(hung)]) == (not at)
        text, _ = pack_document(hung, pack_parts(hung))
        assert ("hangs: the tool board" in text.replace("\u00a0", " ")) == bool(at)
        assert on_the_wall(replace(hung, asked=replace(hung.asked, large=True))) == {}
    assert on_the_wall(replace(hung, views=pack.views)) == {}


def test_the_cover_tells_the_day_in_five_lines(cleanout: PackContext) -> None:
    lines = dict(day_lines(cleanout))
    assert list(lines) == ["Today?", "Begin", "Who", "Not ready", "After"]
    assert cleanout.planned is not None
    assert cleanout.planned.clock(cleanout.planned.plan.finish) in lines["Begin"]
    assert "SOP-13-K" in lines["After"]
    drafts = sum(bool(page.control.draft_reasons) for page in cleanout.day_pages)
    assert (f"{drafts} of {len(cleanout.day_pages)} pages are DRAFT" in lines["Not ready"]) == bool(drafts)
    tested = [replace_meter(meter, cleanout.day - timedelta(days=400)) for meter in cleanout.house.meters]
    house = cleanout.house.model_copy(update={"meters": tuple(tested)})
    late = replace(cleanout, house=house)
    assert f"{tested[0].name}" in dict(day_lines(late))["Not ready"]
    assert (
        "OUT OF CALIBRATION: calibrate before the first reading, SOP-10" in dict(day_lines(late))["Not ready"]
    )
    assert dict(day_lines(late))["Today?"].startswith("Not before ")
    assert "SOP-10" in [page.document for page in late.day_pages]
    assert "SOP-10" in {row.document for block in log_blocks(late) for row in block.rows}


def replace_meter(meter: Meter, last: date) -> Meter:
    """A pen calibrated on another day."""
    return meter.model_copy(update={"last": last})


def test_document_needs_no_other_file(cleanout: PackContext) -> None:
    text, sheets = pack_document(cleanout, pack_parts(cleanout))
    assert sheets[0].key == COVER
    assert '<link rel="stylesheet"' not in text
    assert "url(fonts/" not in text
    assert text.count("url(data:font/woff2;base64,") == 3
    assert not re.search(r'(?:src|href)="(?!#|data:)', text)
    assert text == pack_document(cleanout, pack_parts(cleanout))[0]


def test_cover_judges_the_pens_on_the_day(tmp_path: Path) -> None:
    """Last calibrated on 8 September every 7 days: in date up to the 15th, a date counted on the calendar."""
    house = HOUSES / "second"
    states = {}
    for day in ("2032-09-15", "2032-09-16"):
        found = prepare_site(house, PROCEDURES, day, {})
        pack = pack_of(found, PackRequest("cleanout", system="N"), day_given=True)
        states[day] = {meter.name: meter_on(meter, pack.day) for meter in pack.house.meters}["pH tester"]
    assert states["2032-09-15"].due == "2032-09-15"
    assert not states["2032-09-15"].out
    assert states["2032-09-16"].out
    assert states["2032-09-16"].state.startswith("OUT OF CALIBRATION")


def test_cover_says_what_the_house_lacks_and_which_sheets_are_drafts() -> None:
    found = manual_of("second")
    pack = pack_of(found, PackRequest("cleanout", system="N"), day_given=False)
    text, _ = pack_document(pack, pack_parts(pack))
    assert "Left out, as this house has no such page" not in text
    assert "DRAFT: every sheet of a page. This page has not been issued yet." in text.replace("\u00a0", " ")
    planting = pack_of(found, PackRequest("planting", system="N"), day_given=False)
    assert not pack_parts(planting)
    assert list(cover_notes(planting)) == ["Left out, as this house has no such page: SOP-13."]
    assert "system S" not in text.split("The build warns")[1].split("</div>")[0]


def test_readiness_counts_packages_up() -> None:
    """100 mL of a gallon of 3785 mL is one container, counted up; two stand on the shelf: none to buy."""
    found = manual_of("second")
    pack = pack_of(found, PackRequest("cleanout", system="N"), day_given=False)
    bleach = next(row for row in stock_needs(pack) if "bleach" in row.name)
    assert bleach.needed == found.register.get("stock_total", system="N", chemical="bleach").printed
    assert (bleach.packages, bleach.shelf, bleach.buy) == ("1 × 1 gal", "2 × 1 gal", "none")
    # 10 September 2032 is a Friday, by any calendar; three days before it the list is gone through.
    assert "Go through it on Tuesday 2032-09-07" in str(readiness_part(pack).html).replace("\u00a0", " ")
    assert any(row.shelf == NOT_TOLD for row in small_needs(pack))


def test_readiness_lists_every_supply_of_the_pages_once(cleanout: PackContext) -> None:
    names = [thing.name.split(" (")[0] for thing in things(cleanout)]
    assert len(names) == len(set(names))
    listed = {row.name for row in (*stock_needs(cleanout), *small_needs(cleanout))} | set(names)
    for page in cleanout.all_pages():
        for item in page.supplies:
            if item.group != "Chemicals and feed":
                assert item.name.split(" (")[0] in listed or item.name in listed


def test_ledger_leaves_what_was_taken_blank(cleanout: PackContext) -> None:
    rows = list(stock_rows(cleanout))
    total = cleanout.register.get("disposal_volume", system="K").printed.replace(" ", "\u00a0")
    assert f"whole day <b>{total}</b>" in ledger_part(cleanout).html
    assert [row.task for row in rows]
    poured = {amount.printed for amount in cleanout.register.of_id("stock_for_batch", system="K")}
    assert not poured & {value for row in rows for value in (row.task, row.stock)}


def test_the_day_is_reviewed_within_a_week(cleanout: PackContext) -> None:
    by = day_text(cleanout.day + timedelta(days=7))
    assert f") by {by}" in ledger_part(cleanout).html.replace("\u00a0", " ")


def test_sheets_of_two_pages_begin_on_a_front_within_the_pages_allowed(cleanout: PackContext) -> None:
    """One page, then two, one, two: a page for notes before the first of two, and none is left over for the last."""
    parts = pack_parts(cleanout)[:4]
    pages = {part.key: page for part, page in zip(parts, (1, 2, 4, 5), strict=True)}
    assert before_fronts(parts, pages, 6, 16) == [parts[1].key, parts[3].key]
    assert before_fronts(parts, pages, 6, 7) == [parts[1].key]
    assert before_fronts(parts, pages, 6, 6) == []


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (PackRequest("clean"), '"clean" is no pack. Packs: cleanout, readiness, planting, week, cards, labels, page'),
        (PackRequest("cleanout"), "no system is named. Systems: K, M."),
        (PackRequest("cleanout", system="Z"), '"Z" is no system of this house. Systems: K, M.'),
        (PackRequest("cleanout", system="K", paper="A3"), '"A3" is not known. Papers: A4, Letter.'),
        (PackRequest("cleanout", system="K", people="3"), '"3" is not known. A day is planned for one or two people: 1, 2.'),
        (PackRequest("cleanout", system="K", start="25:00"), '"25:00" is no time of day. Hours and minutes of the 24-hour clock'),
        (PackRequest("cleanout", page="SOP-08", system="K"), 'For one procedure: trayside pack page SOP-08.'),
        (PackRequest("page"), "no procedure is named. Procedures: SOP-"),
        (PackRequest("page", page="SOP-99"), '"SOP-99" is no procedure of this house. Procedures: SOP-'),
        (PackRequest("week", system="K"), "the pack week is for the whole house. Leave --system out."),
    ],
)  # fmt: skip
def test_what_is_asked_wrongly_is_told_with_what_is_allowed(
    site: Site, asked: PackRequest, words: str
) -> None:
    assert words in refusals(site, asked)


def test_all_that_is_wrong_is_told_at_once(site: Site) -> None:
    told = refusals(site, PackRequest("cleanout", system="Z", paper="A3", people="9", start="noon"))
    assert len(told.splitlines()) == 4


def test_a_page_may_be_named_by_its_key(site: Site) -> None:
    pack = pack_of(site, PackRequest("page", page="sop-08-k"), day_given=True)
    assert [part.key for part in pack_parts(pack)] == ["CHECK-SOP-08-K", "SOP-08-K", "SOP-08-K-record"]
    assert pack.file_stem == f"SOP-08-K-{pack.day}"
    both = pack_of(site, PackRequest("page", page="SOP-08"), day_given=True)
    sheets = [part.key for part in pack_parts(both) if part.key.startswith("SOP")]
    assert [key for key in sheets if "record" not in key] == ["SOP-08-K", "SOP-08-M"]


def test_cards_labels_and_the_week_are_packs(site: Site) -> None:
    cards = pack_parts(pack_of(site, PackRequest("cards"), day_given=False))
    assert len(cards) >= 10
    assert all(part.one_page for part in cards)
    labels = pack_of(site, PackRequest("labels", system="K", kinds=("batch",)), day_given=False)
    assert pack_parts(labels)[0].key == "labels-single-1"
    assert labels.file_stem == f"labels-K-{labels.day}"
    assert pack_of(site, PackRequest("labels"), day_given=False).file_stem == f"labels-{labels.day}"
    with pytest.raises(DataProblems, match="no label sheet on A4 is called 9x9") as told:
        pack_parts(pack_of(site, PackRequest("labels", stock="9x9", kinds=("jam",)), day_given=False))
    assert "no kind of label is called jam. Kinds are batch, " in str(told.value)
    week = pack_of(site, PackRequest("week"), day_given=False)
    assert pack_parts(week)[-1].key == f"CAL-{week.day:%Y-%m}"


def test_training_is_packed_by_unit_and_the_key_is_no_file_of_the_site(site: Site) -> None:
    for given in ("M8", "m8_cleanout"):
        training = pack_of(site, PackRequest("training", module=given), day_given=False)
        assert training.file_stem == f"training-M8-{training.day}"
        assert len(pack_parts(training)) > 3
    key = pack_parts(pack_of(site, PackRequest("key", module="M8"), day_given=False))
    assert len(key) == 1
    assert "TRAINER" in str(key[0].html).upper()
    assert not any(key[0].key.lower() in address for address in (*site.pages, *site.files))
    for name in ("naming", "roster", "measure"):
        assert pack_parts(pack_of(site, PackRequest(name), day_given=False))
    assert "no training unit is named. Training units: M1, M2, " in refusals(site, PackRequest("key"))
    assert '"M42" is no training unit. Training units: M1, ' in refusals(
        site, PackRequest("training", module="M42")
    )
    assert "the pack week is for no training unit. Leave --module out" in refusals(
        site, PackRequest("week", module="M8")
    )


def test_a_house_that_trains_nobody_is_told_so() -> None:
    us = manual_of("second")
    with pytest.raises(DataProblems, match="this house says nothing under training"):
        pack_parts(pack_of(us, PackRequest("training", module="M8"), day_given=False))


def test_paper_follows_the_units_unless_the_house_says(site: Site, tmp_path: Path) -> None:
    us = manual_of("second")
    assert pack_of(us, PackRequest("week"), day_given=False).paper == "Letter"
    assert pack_of(site, PackRequest("week"), day_given=False).paper == "A4"
    assert pack_of(site, PackRequest("week", paper="letter"), day_given=False).paper == "Letter"
    house = made_house(tmp_path, ("unit_style: metric", "unit_style: metric\n  paper: Letter"))
    own = prepare_site(house, PROCEDURES, None, {})
    assert pack_of(own, PackRequest("week"), day_given=False).paper == "Letter"


def test_day_in_words_is_the_same_everywhere() -> None:
    assert day_text(date(2000, 1, 1)) == "Saturday 2000-01-01"  # from memory: a Saturday


class Press:
    """Gives each sheet two pages, and a third once it holds more than `room` pictures."""

    def __init__(self, room: int) -> None:
        self.room = room

    def print(self, html: Path, *, rough: bool = False) -> Printed:
        """Where each sheet of the document begins, and how many pages there are."""
        assert rough
        _, *sheets = re.split(r'id="(sheet-[^"]+)"', html.read_text(encoding="utf-8"))
        places, at = {}, 1
        for place, text in zip(sheets[::2], sheets[1::2], strict=True):
            places[place] = at
            at += 3 if text.count('<div class="see">') > self.room else 2
        return Printed(b"", ((210.0, 297.0),) * (at - 1), places)


@pytest.mark.parametrize("room", [0, 1, 9])
def test_a_sheet_takes_the_pictures_that_add_no_page(tmp_path: Path, room: int) -> None:
    site = manual_of("fifth")
    system = site.register.house.systems[0].id
    pack = pack_of(site, PackRequest("page", system=system, page="SOP-06"), day_given=False)
    parts = pack_parts(pack)
    (plain,) = [part for part in parts if part.pictures]
    assert len(plain.pictures) > 1
    assert 'class="see"' not in plain.html
    takes = dict.fromkeys((part.key for part in parts), 2)
    laid = with_pictures(pack, parts, tmp_path / "pack.html", takes, Press(room))  # type: ignore[arg-type]
    assert [part.key for part in laid] == [part.key for part in parts]
    seen = [str(part.html).count('<div class="see">') for part in laid]
    assert sum(seen) == max(seen) == min(room, len(plain.pictures))


def test_sheet_that_outgrows_its_page_is_told_by_name(cleanout: PackContext) -> None:
    drawn = pack_document(cleanout, pack_parts(cleanout))[1]
    sheets = [replace(part, one_page=True) if part.key == "SOP-08-K" else part for part in drawn]
    places, sizes, at = {}, [], 1
    for part in sheets:
        places[part.page] = at
        takes = 2 if part.key == "SOP-08-K" else 1
        sizes += [(297.0, 210.0) if part.landscape else (210.0, 297.0)] * takes
        at += takes
    printed = pdf.Printed(b"", tuple(sizes), places)
    told = {part.key: places[part.page] for part in sheets}
    problems = [str(problem) for problem in check_print(cleanout, sheets, told, printed)]
    assert len(problems) == 1
    assert "SOP-08-K takes 2 pages on A4. It is meant for one, and type is never made smaller." in problems[0]
    moved = [str(problem) for problem in check_print(cleanout, sheets, {**told, "ledger": 1}, printed)]
    assert any("its contents moved the sheets behind it" in line for line in moved)
    narrow = Printed(b"", ((200.0, 297.0), *sizes[1:]), places)
    lines = [str(problem) for problem in check_print(cleanout, sheets, told, narrow)]
    assert any("page 1 is 200.0 x 297.0 mm. A4 is 210.0 x 297.0 mm here." in line for line in lines)


def test_without_a_browser_the_pack_is_left_as_html(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda name: None)
    older = tmp_path / "mine.pdf"
    older.write_bytes(b"older")
    with pytest.raises(NotPrinted) as told:
        print_pack(HOUSES / "second", PackRequest("page", page="SOP-07"), None, older, lambda stage: None, {})
    said = str(told.value)
    assert (
        "was not made: no Chromium is installed (looked for chromium, chromium-browser, google-chrome" in said
    )
    assert "open it in any browser and print it" in said
    assert f"The older {older} is as it was." in said
    assert ".venv/bin/pip install -q -c constraints.txt '.[pdf]'" in said
    assert older.read_bytes() == b"older"
    assert "Clean and keep tools" in (tmp_path / "mine.html").read_text(encoding="utf-8")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["mine.html", "mine.pdf"]


def test_browser_named_by_the_environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(pdf.NoBrowser, match="TRAYSIDE_CHROMIUM names nowhere, which is no program"):
        pdf.find_chromium({"TRAYSIDE_CHROMIUM": "nowhere"})
    program = tmp_path / "browser"
    program.touch(mode=0o755)
    assert pdf.find_chromium({"TRAYSIDE_CHROMIUM": str(program)}) == str(program)
    monkeypatch.setattr(shutil, "which", lambda name: f"/bin/{name}" if name == "google-chrome" else None)
    assert pdf.find_chromium({}) == "/bin/google-chrome"


def test_missing_package_is_told_by_name(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    program = tmp_path / "browser"
    program.touch(mode=0o755)
    monkeypatch.setitem(sys.modules, "pypdf", None)
    with (
        pytest.raises(pdf.NoBrowser, match="the Python package pypdf is not installed"),
        pdf.printer({"TRAYSIDE_CHROMIUM": str(program)}),
    ):
        raise AssertionError("nothing can print here")


def test_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    target = tmp_path / "nowhere" / "pack.pdf"
    with pytest.raises(NotPrinted, match=r"pack\.pdf cannot be written: No such file or directory"):
        print_pack(
            HOUSES / "second", PackRequest("page", page="SOP-07"), None, target, lambda stage: None, {}
        )


def test_command_line_ends_with_words_and_status_1(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(shutil, "which", lambda name: None)
    monkeypatch.delenv("TRAYSIDE_CHROMIUM", raising=False)
    for arguments, words in (
        (["nothing"], '"nothing" is no pack'),
        (["page", "SOP-07"], "was not made: no Chromium is installed"),
    ):
        monkeypatch.setattr(sys, "argv", ["trayside", "pack", *arguments, "--house", str(HOUSES / "second")])
        with pytest.raises(SystemExit) as ended:
            main()
        assert ended.value.code == 1
        said = capsys.readouterr().err
        assert words in said
        assert "Traceback" not in said
    assert [path.name for path in tmp_path.iterdir()] == ["SOP-07-2032-09-10.html"]
