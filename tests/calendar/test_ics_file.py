"""The calendar: everything the house knows a day of, on that day; the file as an independent reader reads it.

Outside checks: vobject reads the file, python-dateutil expands its rules; form after RFC 5545.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from html import unescape
from typing import Any

import pytest
import vobject

from macros.amounts import Amount
from macros.calendar.event import kinds
from macros.calendar.events import Event, expanded, house_events, known_events
from macros.calendar.ics_file import calendar_file
from macros.manual.house_facts.recurrence import months_later
from macros.published import source_of
from macros.published.pages.frequencies import published_rhythms
from macros.site.site import Site
from tests.making import HOUSES, made_house, made_site, manual_of

READ = ("second", "fourth", "fifth")


@cache
def known(name: str) -> list[Event]:
    return known_events(manual_of(name).register, manual_of(name).views)


def read(text: str) -> list[Any]:
    """The events of a calendar file as the other library reads them."""
    return list(vobject.readOne(text).vevent_list)


def days_of(entry: Any) -> list[date]:
    """Every day of an entry, its rule expanded by the other library."""
    rules = entry.getrruleset(addRDate=True)
    return [entry.dtstart.value] if rules is None else [day.date() for day in rules]


def date_amounts(name: str) -> list[Amount]:
    return [amount for amount in manual_of(name).register.all() if amount.kind == "date"]


def events_of(site: Site, kind: str) -> list[Event]:
    return [event for event in known_events(site.register, site.views) if event.kind == kind]


# ------------------------------------------------------------------ what is in it


@pytest.mark.parametrize("name", READ)
def test_every_date_amount_is_an_event_on_its_day_or_has_a_reason(name: str) -> None:
    data = source_of("calendar").data
    amounts = date_amounts(name)
    assert amounts
    shown = {event.amount_key: event.day.isoformat() for event in known(name) if event.amount_key}
    assert shown == {
        amount.key: amount.value for amount in amounts if amount.id not in data["amounts_not_shown"]
    }
    assert all(len(reason) > 20 for reason in data["amounts_not_shown"].values())


def test_every_rhythm_of_the_manual_is_an_event_or_has_a_reason() -> None:
    data = source_of("calendar").data
    assert set(data["rhythms"]) | set(data["rhythms_not_shown"]) == set(published_rhythms())
    assert not set(data["rhythms"]) & set(data["rhythms_not_shown"])
    assert all(len(reason) > 20 for reason in data["rhythms_not_shown"].values())
    assert {*data["rhythms"].values(), *data["amounts"].values()} <= set(kinds())


@pytest.fixture(scope="module")
def busy(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """One house with everything the others lack: late things, a log, an issue, days off, rhythms of its own."""
    issued = "issued:\n  - {page: SOP-01, revision: 1, effective: 2031-04-01, approved_by: owner, why: first, values_code: x}\n"
    signed = "sign_offs:\n  - {who: QM, procedure: SOP-01, revision: 1, by: owner, when: 2031-04-02}\n"
    rhythms = "frequencies: {drill: after each crop, strainer: every Tuesday}\n"
    acid = "opened: {}, expires: {}, ppe: [goggles, gloves_chem]}}\n  - {{id: up"
    house = made_house(
        tmp_path_factory.mktemp("busy"),
        ("crop_plan:\n", issued + signed + rhythms + "crop_plan:\n"),
        ("{role: helper,", "{role: helper, starts: 2031-05-19, away: [2031-05-20],"),
        (
            "plants: 4}\n",
            "plants: 4}\n    - {variety: rocket, cup_plates: [M-1-R], plants: 6, planting_day: 2031-06-24}\n",
        ),
        ("loss_per_month_after_opening: 0,", "loss_per_month_after_opening: 0.05,"),
        ('reservoir_change_every: "10 day"', 'reservoir_change_every: "40 day"'),
        ("last: 2031-04-28", "last: 2031-04-02"),
        (acid.format("2031-01-10", "2033-01-01"), acid.format("2030-01-10", "2031-04-11")),
        name="fourth",
    )
    log = house / "site_data" / "log"
    log.mkdir()
    rows = "date,time,system,note\n2031-04-20,09:00,M,change\n2031-04-25,09:00,M,top-up\n2031-04-28,09:00,K,no change\n"
    (log / "2031.csv").write_text(rows, encoding="utf-8")
    return made_site(house)


def test_every_kind_is_met_in_a_house_made_for_the_tests(busy: Site) -> None:
    """A kind nothing makes is a line of data nobody reads."""
    met = {event.kind for event in known_events(busy.register, busy.views)}
    assert set(kinds()) - met == set()


def days(name: str, kind: str, thing: str) -> list[str]:
    return [event.day.isoformat() for event in known(name) if (event.kind, event.thing) == (kind, thing)]


def test_days_of_a_house_by_hand() -> None:
    """Worked out by hand from tests/houses/fourth and a calendar of 2031."""
    assert days("fourth", "sowing", "viola") == [
        "2031-05-19"
    ]  # Monday, 22 days before planting on 2031-06-10
    assert days("fourth", "calibration", "pH meter") == ["2031-05-05"]  # 2031-04-28 and 7 days
    assert days("fourth", "calibration", "EC meter") == ["2031-05-20"]  # 2031-04-20 and 30 days
    assert days("fourth", "water_test", "Test of the tap water") == ["2032-03-01"]  # 2031-03-01 and 12 months
    assert days("fourth", "cleanout", "K") == ["2031-06-09"]
    # No change is logged: the first on the sowing weekday; K anew 10 days after the cleanout filled it.
    assert days("fourth", "tank_change", "K") == ["2031-05-05", "2031-06-19"]
    assert days("fourth", "tank_change", "M") == ["2031-05-05"]
    # 2031-05-01 is a Thursday; this house sows on Mondays.
    assert days("fourth", "weekly_check", "Weekly check") == ["2031-05-05"]
    # This house names no weekday: that of the day it is built for, a Friday.
    assert days("second", "weekly_check", "Weekly check") == ["2032-09-10"]


def test_a_change_counts_from_the_last_one_in_the_log_and_top_ups_stand_between(busy: Site) -> None:
    """The row of K says "no change": it is none."""
    change = {event.system: event for event in events_of(busy, "tank_change")}
    assert change["M"].day == date(2031, 5, 30)
    assert change["M"].detail == "every 40 days; last on 2031-04-20"
    assert "No day of the last one is written" in events_of(busy, "tank_change")[0].detail
    every = busy.register.get("days_to_topup", system="M", growth_stage="full").value
    assert 0 < every < 40
    first, last = busy.register.built_for, date(2031, 8, 1)
    events = house_events(busy.register, busy.views, first, last)
    told = {event.day for event in events if event.kind == "topup" and event.system == "M"}
    changes = [date(2031, 4, 20) + timedelta(days=40 * number) for number in range(4)]
    wanted = {day + timedelta(days=after) for day in changes for after in range(every, 40, every)}
    assert told == {day for day in wanted if first <= day <= last}


def test_what_is_overdue_is_told_on_the_first_day_and_counted_on_from_it(busy: Site) -> None:
    pen = [event for event in events_of(busy, "calibration") if event.thing.startswith("pH meter")]
    assert [(event.day, event.title, event.repeat is None) for event in pen] == [
        (date(2031, 5, 1), "Overdue: Calibrate the pH meter", True),
        (date(2031, 5, 8), "Calibrate the pH meter", False),
    ]
    assert pen[0].detail == "due on 2031-04-09; every 7 days; last on 2031-04-02"


def test_a_passed_discard_date_stays_on_its_day_and_is_told_once_more(busy: Site) -> None:
    acid = [event for event in events_of(busy, "discard") if "pH-down" in event.title]
    assert [(event.day, event.amount_key) for event in acid] == [
        (date(2031, 4, 11), "discard_date[chemical=down]"),
        (date(2031, 5, 1), ""),
    ]


def test_a_rhythm_nobody_can_count_is_told_with_its_place(busy: Site) -> None:
    told = [str(problem) for problem in busy.warnings if "frequencies" in problem.key]
    assert len(told) == 1
    assert re.sub(r"yml:\d+", "yml:N", told[0]) == (
        'site_data/house.yml:N: warning: frequencies.drill: "after each crop" names no count of days, so the calendar '
        'shows it every day. For example "every 7 days", "every month", "every Monday", "twice a day". '
        "Write it so, or leave it daily."
    )
    assert [event.repeat.daily for event in events_of(busy, "drill") if event.repeat] == [True]
    assert [event.day for event in events_of(busy, "strainer")] == [date(2031, 5, 6)]


def test_a_page_is_reviewed_a_year_after_its_issue(busy: Site) -> None:
    review = events_of(busy, "review")
    assert [(event.day, event.page_key) for event in review] == [(date(2032, 4, 1), "SOP-01")]


@pytest.mark.parametrize("name", READ)
def test_expanded_entries_are_sorted_and_within_their_days(name: str) -> None:
    site = manual_of(name)
    first, last = site.register.built_for + timedelta(days=3), site.register.built_for + timedelta(days=90)
    events = house_events(site.register, site.views, first, last)
    keys = [(event.day, event.kind, event.title) for event in events]
    assert keys == sorted(keys)
    assert {first, last} == {min(keys)[0], max(keys)[0]}  # there is a daily check
    pages = {view.key for view in site.views}
    assert {event.page_key for event in events} - {""} <= pages


# ------------------------------------------------------------------ the file


@pytest.mark.parametrize("name", READ)
def test_the_file_holds_every_date_amount_of_the_year_on_its_day(name: str) -> None:
    first = manual_of(name).register.built_for
    last = months_later(first, 12)
    wanted = sorted(
        (event.title, event.day) for event in known(name) if event.amount_key and first <= event.day <= last
    )
    titles = {title for title, _ in wanted}
    found = sorted((e.summary.value, e.dtstart.value) for e in read(manual_of(name).files["calendar.ics"]) if e.summary.value in titles)  # fmt: skip
    assert found == wanted
    shown = [
        a.value for a in date_amounts(name) if a.id not in source_of("calendar").data["amounts_not_shown"]
    ]
    assert len(wanted) == sum(first.isoformat() <= value <= last.isoformat() for value in shown) > 0


@pytest.mark.parametrize("name", READ)
def test_rules_expand_to_our_own_days(name: str) -> None:
    first = manual_of(name).register.built_for
    last = months_later(first, 12)
    ours = sorted((event.title, event.day) for event in expanded(known(name), first, last))
    entries = read(manual_of(name).files["calendar.ics"])
    assert any(hasattr(entry, "rrule") for entry in entries)
    assert sorted((entry.summary.value, day) for entry in entries for day in days_of(entry)) == ours


@pytest.mark.parametrize("name", READ)
def test_the_file_keeps_to_the_standard(name: str) -> None:
    """RFC 5545: CRLF, lines of 75 octets at most (3.1), one UID each (3.8.4.7), UTC stamp (3.8.7.2), all-day dates."""
    text = manual_of(name).files["calendar.ics"]
    assert text.startswith("BEGIN:VCALENDAR\r\n")
    assert text.endswith("END:VCALENDAR\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert max(len(line.encode()) for line in text.split("\r\n")) <= 75
    stamp = f"DTSTAMP:{manual_of(name).register.built_for:%Y%m%d}T000000Z"
    assert set(re.findall(r"DTSTAMP.*", text)) == {stamp + "\r"}
    assert text.count("DTSTART;VALUE=DATE:") == text.count("BEGIN:VEVENT") > 10
    uids = [entry.uid.value for entry in read(text)]
    assert len(set(uids)) == len(uids)
    names = {kind.name for kind in kinds().values()}
    assert {entry.categories.value[0] for entry in read(text)} <= names


@pytest.mark.quick
def test_page_and_address_stand_in_the_entry() -> None:
    entry = next(e for e in read(manual_of("fourth").files["calendar.ics"]) if e.summary.value == "Sow viola")
    page = next(view for view in manual_of("fourth").views if view.document == "SOP-11")
    assert entry.url.value == page.public_address == "https://loft.example/p/sop-11.html"
    assert entry.description.value.splitlines()[1:] == [f"SOP-11 {page.title}", page.public_address]


def test_same_bytes_on_two_runs() -> None:
    assert made_site(HOUSES / "fourth").files["calendar.ics"] == manual_of("fourth").files["calendar.ics"]


def test_an_entry_keeps_its_name_when_the_manual_is_built_a_day_later() -> None:
    site = manual_of("fourth")
    later = replace(site.register, built_for=site.register.built_for + timedelta(days=1))
    text = calendar_file(later.house.house, later.built_for, known_events(later, site.views), site.views)
    before = {e.summary.value: e.uid.value for e in read(site.files["calendar.ics"])}
    after = {e.summary.value: e.uid.value for e in read(text)}
    same = before.keys() & after.keys()
    assert len(same) > 25
    assert {title: before[title] for title in same} == {title: after[title] for title in same}


def test_without_an_address_no_entry_has_one() -> None:
    site = manual_of("fourth")
    house = site.register.house.house.model_copy(update={"site_address": None})
    text = calendar_file(house, site.register.built_for, known("fourth"), site.views)
    assert not any(hasattr(entry, "url") for entry in read(text))


HOSTILE = {
    "marks": 'a, b; c: d \\\\ e \\" f',
    "lines": "one\\ntwo",
    "emoji": "pen \\U0001F9EA\\U0001F331 x",
    "right_to_left": "\\u05e2\\u05d8 pH \\u0642\\u0644\\u0645",
    "injected": "pen\\nEND:VEVENT\\nBEGIN:VEVENT",
    "braces": "{thing} {{ x }} <b>&",
    "long": "\\u00e9" * 190 + " end",
}


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """One house whose pens bear every hostile name, so that it is worked out once."""
    pens = "".join(
        f'  - {{name: "{name}", resolution: "0.1", accuracy: "0.1", calibrate_every: "{5 + number} day"}}\n'
        for number, name in enumerate(HOSTILE.values())
    )
    house = made_house(
        tmp_path_factory.mktemp("hostile"),
        ("meters:\n", "meters:\n" + pens),
        ('name: "Test Hall"', f'name: "{HOSTILE["marks"]}"'),
        name="fourth",
    )
    return made_site(house)


def test_hostile_names_survive_the_round_trip(hostile: Site) -> None:
    entries = read(hostile.files["calendar.ics"])
    found = {e.summary.value for e in entries}
    meters = hostile.register.house.meters
    assert len(meters) == len(HOSTILE) + 2
    for meter in meters:
        assert f"Calibrate the {meter.name}" in found
    assert len(entries) == len(read(manual_of("fourth").files["calendar.ics"])) + len(HOSTILE)
    assert max(len(line.encode()) for line in hostile.files["calendar.ics"].split("\r\n")) <= 75
    assert vobject.readOne(hostile.files["calendar.ics"]).contents["x-wr-calname"][0].value == hostile.register.house.house.name  # fmt: skip


def test_other_ends_of_line_end_no_property() -> None:
    """RFC 5545 3.1; a house cannot write them, the file does not rest on that."""
    site = manual_of("fourth")
    coming = next(event for event in known("fourth") if event.day >= site.register.built_for)
    event = replace(coming, title="one\r\ntwo\u2028three\rEND:VEVENT\x07")
    (entry,) = read(calendar_file(site.register.house.house, site.register.built_for, [event], site.views))
    assert entry.summary.value == "one\ntwo\nthree\nEND:VEVENT "


# ------------------------------------------------------------------ the page


def test_the_page_tells_each_entry_of_twelve_weeks_once_or_on_its_day() -> None:
    site = manual_of("fourth")
    page = unescape(site.pages["reference/calendar.md"]).replace("\u00a0", " ")
    first = site.register.built_for
    last = first - timedelta(days=first.weekday()) + timedelta(days=83)
    weeks = page.split("## Week of Monday ")
    assert len(weeks) - 1 >= 6
    for event in expanded(known("fourth"), first, last):
        if event.often:
            assert f'<th scope="row">{event.title}' in weeks[0]
            continue
        monday = event.day - timedelta(days=event.day.weekday())
        part = next(text for text in weeks if text.startswith(monday.isoformat()))
        assert f'<th scope="row">{event.day}</th><td data-label="Weekday">{event.day:%A}</td>' in part
        assert f'data-label="What">{event.title}' in part
        if event.page_key:
            assert f'<a href="../p/{event.page_key.lower()}.html">{event.page_key}</a>' in part


def test_home_page_and_calendar_lead_to_the_file() -> None:
    site = manual_of("fourth")
    assert '<a href="calendar.ics" download>' in site.pages["index.md"]
    assert '<a href="../calendar.ics" download>' in site.pages["reference/calendar.md"]
    assert {"Calendar": "reference/calendar.md"} in site.navigation[-1]["Reference"]
