"""A printed month: the right days, what comes often told once, and nothing lost where a cell is too small."""

from __future__ import annotations

import calendar
import textwrap
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from macros.calendar.event import Event, Pages, new_event
from macros.calendar.month import MonthView, lines_of, month_view
from macros.manual.house_facts.recurrence import Repeat

NO_PAGES = Pages(())
JUNE = date(2031, 6, 1)


def sown(day: date, thing: str) -> Event:
    return new_event(NO_PAGES, "sowing", day, thing)


def chore(day: date, thing: str, every: int, until: date | None = None) -> Event:
    return new_event(NO_PAGES, "stock_count", day, thing, repeat=Repeat("day", every), until=until)


def june(*events: Event) -> MonthView:
    return month_view(events, "Test Hall", date(2031, 5, 1), JUNE)


def cells(view: MonthView) -> dict[int, tuple[tuple[str, ...], int]]:
    return {d.number: (d.items, d.more) for week in view.weeks for d in week.days if d.inside}


@pytest.mark.quick
@given(year=st.integers(2020, 2040), month=st.integers(1, 12))
def test_weeks_are_those_of_the_standard_library(year: int, month: int) -> None:
    view = month_view([], "Test Hall", date(2031, 5, 1), date(year, month, 1))
    ours = [[day.number if day.inside else 0 for day in week.days] for week in view.weeks]
    assert ours == calendar.Calendar(calendar.MONDAY).monthdayscalendar(year, month)
    assert view.title == f"{calendar.month_name[month]} {year}"


def test_things_of_one_kind_share_a_line_and_work_comes_before_chores() -> None:
    view = june(
        new_event(NO_PAGES, "shelf_check", date(2031, 6, 4), "Check of the chemical shelf"),
        sown(date(2031, 6, 4), "borage"),
        sown(date(2031, 6, 4), "basil"),
        new_event(NO_PAGES, "cleanout", date(2031, 6, 4), "K"),
    )
    assert cells(view)[4] == (("Cleanout: K", "Sow: basil, borage", "Check of the chemical shelf"), 0)
    assert view.listed == ()
    assert view.fits


def test_what_comes_daily_or_weekly_is_told_once_beside() -> None:
    view = june(
        chore(date(2031, 5, 1), "Walk", 1),
        chore(date(2031, 5, 5), "Count", 7),
        chore(date(2031, 6, 10), "Dome look", 1, date(2031, 6, 20)),
        chore(date(2031, 5, 5), "Change", 14),
    )
    assert view.often == (("Every day", ("Walk", "Dome look (from 10 to 20)")), ("Every Monday", ("Count",)))
    # 2031-05-05 and every 14 days: June 2, 16 and 30.
    assert {day for day, (items, _) in cells(view).items() if items} == {2, 16, 30}


def test_what_a_cell_cannot_hold_stands_in_the_list_with_all_of_its_day() -> None:
    many = [new_event(NO_PAGES, kind, date(2031, 6, 4), f"thing {n} of {kind}")
            for kind in ("cleanout", "sowing", "dome_off", "topup", "calibration", "review", "discard", "expiry") for n in range(4)]  # fmt: skip
    view = june(*many, sown(date(2031, 6, 5), "basil"))
    items, more = cells(view)[4]
    assert more > 0
    assert len(view.listed) == 1
    day, titles = view.listed[0]
    assert day == "4 Wed"
    assert sorted(titles) == sorted(event.title for event in many)
    assert cells(view)[5] == (("Sow: basil",), 0)
    shown = sum(text.count("thing") for text in items)
    assert shown + more == len(many)
    assert view.fits


def test_a_month_too_full_for_one_page_says_so_and_still_loses_nothing() -> None:
    events = [sown(JUNE + timedelta(days=n % 30), f"a variety with a long name {n}") for n in range(600)]
    view = june(*events)
    assert not view.fits
    told = {title for _, titles in view.listed for title in titles}
    assert told == {event.title for event in events}


@pytest.mark.parametrize(
    ("text", "lines"),
    [("Sow: basil", 1), ("Dome off: nasturtium", 2), ("a" * 27, 3), ("by " + "a" * 27, 4), ("", 1)],
)
def test_lines_by_hand(text: str, lines: int) -> None:
    assert lines_of(text, 13) == lines


@given(words=st.lists(st.text("abcdefgh", min_size=1, max_size=13), min_size=1, max_size=12))
def test_lines_are_those_of_the_standard_library(words: list[str]) -> None:
    text = " ".join(words)
    assert lines_of(text, 13) == len(textwrap.wrap(text, 13))
