"""The sheets of a week: right days, printed figures, empty boxes, and what every record must carry."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import pytest

from macros.calendar.events import house_events
from macros.manual.pages.figures import amount_table
from macros.packs.week import week_sheets
from macros.packs.week_sheet import week_parts
from macros.packs.week_sheet_model import BOX, WeekSheet
from macros.published import source_of
from macros.site.site import Site
from tests.making import manual_of

MONDAY = date(2031, 5, 19)  # a Monday: ISO 8601 week 21 of 2031
RECORDS = ("WEEK-DAILY", "WEEK-SOWING", "WEEK-HARVEST", "WEEK-STICKY", "WEEK-STOCK")


def sheets(site: Site, first: date = MONDAY) -> dict[str, WeekSheet]:
    before, after = week_sheets(site.register, site.views, first)
    return {sheet.key: sheet for sheet in (*before, *after)}


def rows(sheet: WeekSheet, grid: int = 0) -> tuple[tuple[str, ...], ...]:
    return sheet.grids[grid].rows


def test_a_whole_house_has_every_sheet_in_order(sites: Mapping[str, Site]) -> None:
    site = sites["fourth"]
    parts = week_parts(site.register, site.views, MONDAY)
    assert [part.key for part in parts] == [
        "WEEK-DAILY",
        "SOP-17",
        "SOP-17-record",
        "WEEK-TOPUP-K",
        "WEEK-DOSES-K",
        "WEEK-TOPUP-M",
        "WEEK-DOSES-M",
        "WEEK-SOWING",
        "WEEK-HARVEST",
        "WEEK-STICKY",
        "WEEK-STOCK",
        "WEEK-DATES",
    ]


def test_daily_check_has_the_seven_days_and_every_value_of_the_round(sites: Mapping[str, Site]) -> None:
    """A row for each check in the order it is walked, a line for each of the two systems, what to do beside it."""
    card = sheets(sites["fourth"])["WEEK-DAILY"]
    assert card.days == (
        ("Mon", "05-19"), ("Tue", "05-20"), ("Wed", "05-21"), ("Thu", "05-22"), ("Fri", "05-23"), ("Sat", "05-24"),
        ("Sun", "05-25"),
    )  # fmt: skip
    page = next(view for view in sites["fourth"].views if view.document == "SOP-16")
    values = [s.record for s in page.steps if s.record is not None]
    assert sum(len(row.systems) for row in card.rounds) == len(values), (
        "no value is lost, none is there twice"
    )
    for value in values:
        row = next(
            row
            for row in card.rounds
            if row.label in (value.label, value.label.replace(" K", "").replace(" M", ""))
        )
        assert any(value.limits in limits for limits in row.limits)
        assert row.outside == value.outside
    labels = [row.label for row in card.rounds]
    assert labels == list(dict.fromkeys(labels))
    assert [row.systems for row in card.rounds if row.label == "pH"] == [("K", "M")]
    assert all(row.outside for row in card.rounds[:-2]), "but for the harvest and the initials"
    assert card.pens == ("pH meter", "EC meter")


def test_the_minutes_of_the_round_are_those_of_its_steps(sites: Mapping[str, Site]) -> None:
    page = next(view for view in sites["fourth"].views if view.document == "SOP-16")
    house = sites["fourth"].register.house
    leaves = [step.minutes for step in page.steps if step.id.startswith("leaves-")]
    assert leaves == [float(system.trays.count) for system in house.systems], "a minute for each shelf"
    minutes = sum(step.minutes for step in page.steps)
    said = float(page.scope_line.rpartition("about ")[2].removesuffix(" min"))
    assert abs(said - minutes) <= 2.5
    assert f"about {said:.0f} min" in sheets(sites["fourth"])["WEEK-DAILY"].scope


@pytest.mark.parametrize("name", ["second", "fourth", "fifth"])
def test_no_record_holds_a_value_before_it_is_read(sites: Mapping[str, Site], name: str) -> None:
    """Requirement G-02: boxes that are to be written are empty; printed are names, limits and figures of the house."""
    found = sheets(sites[name])
    printed = {"WEEK-SOWING": 6, "WEEK-HARVEST": 0, "WEEK-STICKY": 1, "WEEK-STOCK": 3}
    looked = 0
    for key, count in printed.items():
        if key in found:
            for row in rows(found[key]):
                assert set(row[count:]) <= {"", BOX}, key
                looked += 1
    assert looked > 20


def test_tables_are_the_registers(sites: Mapping[str, Site]) -> None:
    register = sites["second"].register
    found = sheets(sites["second"], date(2032, 9, 6))
    level = amount_table(register.get("level_table", system="N"), "")
    assert rows(found["WEEK-TOPUP-N"]) == level.rows
    topup = amount_table(register.get("topup_table", system="N"), "")
    shown = tuple(
        tuple("too little to measure" if c == "–" else c for c in r) for r in rows(found["WEEK-TOPUP-N"], 1)
    )
    assert shown == topup.rows
    titles = [grid.title for grid in found["WEEK-DOSES-N"].grids]
    first = register.get("ph_first_dose", system="N").printed
    assert titles[0] == f"pH too high: pH-down, sulfuric acid, first dose at most {first}"
    assert titles[1:] == ["EC too low: add", "EC too high: water to add", "EC too high: drain and refill"]
    assert rows(found["WEEK-DOSES-N"]) == amount_table(register.get("ph_next_dose", system="N"), "").rows


def test_the_harvest_log_says_what_this_week_may_be_promised(sites: Mapping[str, Site]) -> None:
    """Viola: 8 x 6 / 7 x 0.85 = 5.829 a day, seven days: 40. Rocket: 8 x 60 g / 14 x 0.85 = 29.14 g a day until 07-09: 80 g."""
    told = "May be promised this week, of the sets as they were planted: "
    july = sheets(sites["fourth"], date(2031, 7, 21))["WEEK-HARVEST"].notes
    assert told + "40 flowers viola." in july
    wednesday = sheets(sites["fourth"], date(2031, 7, 9))["WEEK-HARVEST"].notes
    assert any("80 g rocket" in note for note in wednesday if note.startswith(told))
    assert not any(
        note.startswith(told) for note in sheets(sites["fourth"], date(2031, 5, 5))["WEEK-HARVEST"].notes
    )


def test_sowing_card_holds_what_is_sown_this_week(sites: Mapping[str, Site]) -> None:
    register = sites["fourth"].register
    assert register.get("sow_date", variety="viola").printed == "2031-05-19"
    first = [row for row in rows(sheets(sites["fourth"])["WEEK-SOWING"]) if row[0]]
    plugs, seeds = (register.get(id_, variety="viola").printed for id_ in ("sow_plugs", "seed_count"))
    assert first == [("viola", "sheet 1", plugs, seeds, "K-1-L, K-1-R (8 plants)", "2031-05-19", *[""] * 5)]
    second = sheets(sites["fourth"], date(2031, 5, 26))["WEEK-SOWING"]
    assert [row[0] for row in rows(second) if row[0]] == ["lettuce", "rocket"]
    assert any("viola-1: viola, untreated, tested 2031-04-01" in note for note in second.notes)


def test_a_week_without_sowing_says_so(sites: Mapping[str, Site]) -> None:
    card = sheets(sites["fourth"], date(2031, 5, 5))["WEEK-SOWING"]
    assert card.notes[0] == (
        "No first sowing falls into this week. The next is viola on 2031-05-19. The rows are for sets that follow on "
        "(SOP-14)."
    )
    assert {cell for row in rows(card) for cell in row} == {""}


def test_harvest_log_leads_from_the_punnet_to_the_seed_lot(sites: Mapping[str, Site]) -> None:
    """Requirement G-12: each pick names date, time, variety, tray, seed lot, who had it, and who picked."""
    log = sheets(sites["fourth"], date(2031, 6, 23))["WEEK-HARVEST"]
    heads = [column.head for column in log.grids[0].columns]
    assert heads == [
        "Date", "Time", "Variety", "Part", "Tray", "Sow lot", "Mass or count", "Hold? until", "To whom", "Picker", "Checked",
    ]  # fmt: skip
    assert any("Back: punnet, this log, sowing card, seed lot." in note for note in log.notes)
    assert "Hold after any spray: 1 day and rinse passed. Nothing is picked from a tray on hold." in log.notes
    assert "Harvests this week: 2031-06-27 first rocket." in log.notes


def test_sticky_cards_hang_on_every_shelf(sites: Mapping[str, Site]) -> None:
    sheet = sheets(sites["fourth"])["WEEK-STICKY"]
    shelves = ["K, shelf 1", "K, shelf 2", "M, shelf 1", "M, shelf 2"]
    assert [row[0] for row in rows(sheet)] == [*shelves, "nursery", "door"]
    heads = [column.head.lower() for column in sheet.grids[0].columns]
    assert heads == ["card", "changed on", *source_of("week").data["pests"], "initials"]


@pytest.mark.quick
def test_stock_count_prints_the_reorder_points(sites: Mapping[str, Site]) -> None:
    register = sites["fourth"].register
    counted = {row[0]: row[1:3] for row in rows(sheets(sites["fourth"])["WEEK-STOCK"])}
    assert counted["part 1 (calcium)"] == (register.get("reorder_point", part="part_1").printed, "not set")
    order = register.get("reorder_point", chemical="perox").printed
    assert counted["peroxide, food-contact grade"] == (order, "2032-01-01")
    assert counted["pH-up, potassium hydroxide"][0] == "not set"
    assert counted["high strip"] == ("not set", "not set")


def test_next_weeks_dates_are_the_calendars_of_the_week_after(sites: Mapping[str, Site]) -> None:
    site = sites["fourth"]
    shown = [row for row in rows(sheets(site)["WEEK-DATES"]) if row[0]]
    events = house_events(site.register, site.views, date(2031, 5, 26), date(2031, 6, 1))
    wanted = [e for e in events if e.kind not in source_of("week").data["every_day"]]
    assert [row[1:4] for row in shown] == [(e.title, e.detail, e.page_key) for e in wanted]
    assert ("Mon 2031-05-26", "Sow rocket") in [row[:2] for row in shown]
    assert ("Fri 2031-05-30", "Dome off: rocket") in [row[:2] for row in shown]
    assert not any("Daily check" in row for row in shown)
    assert {row[0][4:] for row in shown} <= {f"2031-05-{day}" for day in range(26, 32)} | {"2031-06-01"}


def test_every_record_carries_what_a_record_must(sites: Mapping[str, Site]) -> None:
    """Requirements G-01, G-02, G-05, G-07, G-08, G-09."""
    site = sites["fourth"]
    parts = {p.key: p for p in week_parts(site.register, site.views, MONDAY)}
    for key in RECORDS:
        part, text = parts[key], parts[key].html
        assert "Test Hall" in text
        assert "Write at the time of the act, in ink." in text
        assert "one line through it, initials, date, reason; never write over" in text
        assert "Reviewed by (responsible person), within 7\u00a0days" in text
        assert "worked to SOP-" in text
        assert ", revision 0" in text
        assert part.bottom_right == "Kept for 2 years · reviewed within 7 days"
        assert part.bottom_left.startswith("Effective not issued · values code ")
        assert "2031-05-19\u00a0to\u00a02031-05-25" in text
    assert "last calibrated on" in parts["WEEK-DAILY"].html
    assert "Write at the time" not in parts["WEEK-TOPUP-K"].html


@pytest.mark.parametrize("name", ["first", "third"])
def test_a_house_with_little_has_a_week_all_the_same(name: str) -> None:
    site = manual_of(name)
    register = site.register
    found = sheets(site, register.built_for)
    assert {"WEEK-DAILY", "WEEK-HARVEST", "WEEK-STICKY", "WEEK-STOCK", "WEEK-DATES"} <= set(found)
    assert ("WEEK-SOWING" in found) == bool(register.house.varieties)
    assert len(week_parts(register, site.views, register.built_for)) >= len(found)
