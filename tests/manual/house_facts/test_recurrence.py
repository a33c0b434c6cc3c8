"""Rhythms are read strictly, and their days are those of RFC 5545 as an outside library counts them."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import vRecur

from macros.calendar.ics_file import rule_of
from macros.manual.house_facts.recurrence import (
    Repeat,
    first_weekday_from,
    months_later,
    parse_rhythm,
    repeat_words,
)

DAY, MONTH = "day", "month"


@pytest.mark.parametrize(
    ("text", "unit", "every"),
    [
        ("every day, lights on", DAY, 1),
        ("every 7 days", DAY, 7),
        ("Every 14 day", DAY, 14),
        ("every week, on the same weekday", DAY, 7),
        ("every 2 weeks", DAY, 14),
        ("every month", MONTH, 1),
        ("every 12 months", MONTH, 12),
        ("every 2 years", MONTH, 24),
        ("weekly", DAY, 7),
        ("monthly, first thing", MONTH, 1),
        # Shorter than a day is daily; parts are rounded down, to the earlier day.
        ("every 12 h", DAY, 1),
        ("every 90 min", DAY, 1),
        ("every 36 h", DAY, 1),
        ("every 2.5 days", DAY, 2),
        ("every 0.5 months", DAY, 14),
        ("every 1.5 months", DAY, 42),
        ("every 0 months", DAY, 1),
        # Within what a calendar can hold: a day at least, a hundred years at most.
        ("every 0 days", DAY, 1),
        ("every 9999999 days", DAY, 36_500),
        ("every 9999999 years", MONTH, 1_200),
    ],
)
def test_a_rhythm_that_names_its_count(text: str, unit: str, every: int) -> None:
    rhythm = parse_rhythm(text)
    assert (rhythm.repeat.unit, rhythm.repeat.every, rhythm.known) == (unit, every, True)


@pytest.mark.parametrize(
    "text", ["twice a day", "3 times a day, lights on", "daily", "every morning", "each night"]
)
def test_what_happens_within_a_day_is_daily(text: str) -> None:
    assert parse_rhythm(text).repeat == Repeat("day", 1)
    assert parse_rhythm(text).known


@pytest.mark.parametrize(
    "text",
    [
        "after each crop",
        "every second Tuesday",
        "every Monday and Thursday",
        "twice a week",
        "",
        "7 days",
        "every 99999999999 days",
    ],
)
def test_what_names_no_count_is_daily_and_not_known(text: str) -> None:
    rhythm = parse_rhythm(text)
    assert rhythm.repeat == Repeat("day", 1)
    assert not rhythm.known


def test_a_named_weekday_is_kept() -> None:
    assert parse_rhythm("every Thursday, before noon") == parse_rhythm("every thursday")
    assert parse_rhythm("every Thursday").weekday == 3


STARTS = st.dates(date(2024, 1, 1), date(2033, 12, 31))


@settings(max_examples=150, deadline=None)
@given(
    start=STARTS,
    unit=st.sampled_from([DAY, MONTH]),
    every=st.integers(1, 40),
    weekday=st.booleans(),
    length=st.integers(0, 1500),
)
def test_days_are_those_of_the_rule(start: date, unit: str, every: int, weekday: bool, length: int) -> None:
    """Outside check: python-dateutil expands the RRULE that the calendar file carries."""
    repeat = Repeat("day", every)
    if unit == MONTH:
        repeat = Repeat("month", every, "first_weekday" if weekday else "date")
        start = first_weekday_from(start, start.weekday()) if weekday else start
    last = start + timedelta(days=length)
    text = vRecur(rule_of(repeat, start, last)).to_ical().decode()
    days = [day.date() for day in rrulestr(f"RRULE:{text}", dtstart=datetime.combine(start, time()))]
    assert list(repeat.days(start, last)) == days


def test_a_month_without_the_date_takes_its_last_day() -> None:
    days = Repeat("month", 1).days(date(2027, 12, 31), date(2028, 4, 30))
    assert [day.isoformat() for day in days] == [
        "2027-12-31",
        "2028-01-31",
        "2028-02-29",
        "2028-03-31",
        "2028-04-30",
    ]
    assert months_later(date(2028, 2, 29), 12) == date(2029, 2, 28)


def test_words_of_a_rhythm() -> None:
    wednesday = date(2026, 3, 11)
    assert repeat_words(Repeat("day", 1), wednesday) == "every day"
    assert repeat_words(Repeat("day", 7), wednesday) == "every Wednesday"
    assert repeat_words(Repeat("day", 14), wednesday) == "every 14 days"
    assert repeat_words(Repeat("month", 1), wednesday) == "every month"
    assert repeat_words(Repeat("month", 6, "first_weekday"), wednesday) == "every 6 months, first Wednesday"
