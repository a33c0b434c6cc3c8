"""A month on paper: weeks from Monday to Sunday, what comes often told once, and a list of what a cell cannot hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby

from macros.amounts import Register
from macros.calculations.crop.sowing import WEEKDAYS
from macros.calendar.event import Event, kinds
from macros.calendar.events import expanded, known_events
from macros.manual.house_facts.recurrence import months_later, repeat_words
from macros.page_model.page import PageView

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip

# The sheet as month.css sets it, on the shorter and the narrower of A4 and Letter; lengths in lines of 9.5 pt type.
PAGE_LINES = 55.5
"""Lines between the head of the weekdays and the foot, 4 mm kept free."""
WEEK_HEAD = 1.6
"""What the number of the day and the rules take of each week."""
LIST_HEAD = 1.7
"""What the heading of a list takes."""
CELL_LETTERS, COLUMN_LETTERS = 14, 54
"""Letters of a line in a cell, and in one of the two columns of a list: counted short."""
LEAST_LINES = 3
"""A cell keeps this much: one entry and where to find the others."""


@dataclass(frozen=True)
class DayView:
    """A day: its entries in short words, and how many stand in the list alone."""

    number: int
    inside: bool
    items: tuple[str, ...] = ()
    more: int = 0


@dataclass(frozen=True)
class WeekView:
    """A week and the lines its cells are high."""

    days: tuple[DayView, ...]
    lines: float


@dataclass(frozen=True)
class MonthView:
    """A printed month. `often` holds what comes daily or weekly, by rhythm; `listed` every entry of the days that
    their cells cannot hold; `fits` tells whether all of it stands on one page of A4 and of Letter."""

    key: str
    title: str
    house_name: str
    built_for: date
    weeks: tuple[WeekView, ...]
    often: tuple[tuple[str, tuple[str, ...]], ...]
    listed: tuple[tuple[str, tuple[str, ...]], ...]
    fits: bool


def month_views(
    register: Register, views: Sequence[PageView], first_month: date, count: int
) -> list[MonthView]:
    """The month `first_month` lies in and those after it, `count` in all."""
    events = known_events(register, views)
    first = first_month.replace(day=1)
    return [
        month_view(events, register.house.house.name, register.built_for, months_later(first, number))
        for number in range(count)
    ]


def month_view(events: Sequence[Event], house_name: str, built_for: date, first: date) -> MonthView:
    """One month of unexpanded entries; `first` is its first day."""
    last = months_later(first, 1) - timedelta(days=1)
    days: dict[date, list[Event]] = {}
    for event in expanded([event for event in events if not event.often], first, last):
        days.setdefault(event.day, []).append(event)
    often = _often([event for event in events if event.often], first, last)
    weeks, hidden, fits = _fitted(first, last, days, _columns([[words, *titles] for words, titles in often]))
    listed = tuple(
        (f"{day.day} {WEEKDAYS[day.weekday()][:3]}", tuple(event.title for event in _in_order(days[day])))
        for day in hidden
    )
    return MonthView(
        f"CAL-{first:%Y-%m}",
        f"{MONTHS[first.month - 1]} {first.year}",
        house_name,
        built_for,
        weeks,
        often,
        listed,
        fits,
    )


# ------------------------------------------------------------------ fitting


def _fitted(
    first: date, last: date, days: dict[date, list[Event]], often_lines: float
) -> tuple[tuple[WeekView, ...], list[date], bool]:
    """The weeks with as much in their cells as the page holds; the days that must be listed; whether it fits."""
    mondays = []
    monday = first - timedelta(days=first.weekday())
    while monday <= last:
        mondays.append(monday)
        monday += timedelta(days=7)
    most = max((_height(_items(events)) for events in days.values()), default=0)
    for cap in range(max(most, LEAST_LINES), LEAST_LINES - 1, -1):
        weeks = [_week(monday, first, last, days, cap) for monday in mondays]
        hidden = [day for day in sorted(days) if _cell(days[day], cap)[1]]
        listed = _columns([[str(day), *(event.title for event in days[day])] for day in hidden])
        spare = PAGE_LINES - often_lines - listed - sum(week.lines + WEEK_HEAD for week in weeks)
        if spare >= 0:
            return tuple(replace(week, lines=week.lines + spare / len(weeks)) for week in weeks), hidden, True
    return tuple(weeks), hidden, False


def _week(monday: date, first: date, last: date, days: dict[date, list[Event]], cap: int) -> WeekView:
    cells, lines = [], 1
    for number in range(7):
        day = monday + timedelta(days=number)
        items, more = _cell(days.get(day, []), cap)
        cells.append(DayView(day.day, first <= day <= last, items, more))
        lines = max(lines, _height(items) + (2 if more else 0))
    return WeekView(tuple(cells), lines)


def _cell(events: Sequence[Event], cap: int) -> tuple[tuple[str, ...], int]:
    """The entries a cell of so many lines holds, and how many are left out."""
    groups = _groups(events)
    items = [text for text, _ in groups]
    if _height(items) <= cap:
        return tuple(items), 0
    shown = []
    left = cap - 2
    for text, _ in groups:
        if lines_of(text, CELL_LETTERS) > left:
            break
        shown.append(text)
        left -= lines_of(text, CELL_LETTERS)
    return tuple(shown), sum(count for _, count in groups[len(shown) :])


def _groups(events: Sequence[Event]) -> list[tuple[str, int]]:
    """Entries of one kind as one text, with their number: "Sow: basil, borage"."""
    found = []
    for kind, group in groupby(_in_order(events), key=lambda event: event.kind):
        things = [event.thing for event in group]
        words = kinds()[kind].short
        found.append((f"{words}: {', '.join(things)}" if words else "; ".join(things), len(things)))
    return found


def _items(events: Sequence[Event]) -> list[str]:
    return [text for text, _ in _groups(events)]


def _in_order(events: Sequence[Event]) -> list[Event]:
    """In the order of the kinds: what the day is for first, chores last."""
    order = list(kinds())
    return sorted(events, key=lambda event: (order.index(event.kind), event.title))


def _height(items: Sequence[str]) -> int:
    return sum(lines_of(text, CELL_LETTERS) for text in items)


def lines_of(text: str, letters: int) -> int:
    """Lines a text takes at so many letters a line, broken between words, and within a word that is longer."""
    lines, left = 1, letters
    for number, word in enumerate(text.split(" ")):
        space = 1 if number else 0
        if len(word) + space <= left:
            left -= len(word) + space
            continue
        lines += (1 if number else 0) + (max(len(word), 1) - 1) // letters
        left = letters - ((max(len(word), 1) - 1) % letters + 1)
    return lines


# ------------------------------------------------------------------ lists


def _often(events: Sequence[Event], first: date, last: date) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What comes daily or weekly within the month, by rhythm; where it begins or ends within it, the days."""
    found: dict[tuple[int, str], list[str]] = {}
    for event in events:
        assert event.repeat is not None
        days = [one.day for one in expanded([event], first, last)]
        if not days:
            continue
        every = event.repeat.every
        begins = days[0] - timedelta(days=every) >= first
        ends = days[-1] + timedelta(days=every) <= last
        span = f" from {days[0].day}" if begins else ""
        span += f" to {days[-1].day}" if ends else ""
        place = event.day.weekday() if every > 1 else 0
        words = repeat_words(event.repeat, event.day)
        key = (every * 10 + place, words[0].upper() + words[1:])
        found.setdefault(key, []).append(event.title + (f" ({span.strip()})" if span else ""))
    return tuple((words, tuple(titles)) for (_, words), titles in sorted(found.items()))


def _columns(groups: Sequence[Sequence[str]]) -> float:
    """Lines of groups in two columns, under a heading; a group stays in one column.

    The higher column is at most half of all and half of the largest group: the cut moves by no more than that.
    """
    if not groups:
        return 0.0
    lines = [sum(lines_of(text, COLUMN_LETTERS) for text in group) for group in groups]
    return LIST_HEAD + (sum(lines) + max(lines)) / 2
