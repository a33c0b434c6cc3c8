"""The calendar of the reference section: what is due in the next twelve weeks, week by week."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from macros.calculations.crop.sowing import WEEKDAYS
from macros.calendar.events import Event, expanded
from macros.manual.house_facts.recurrence import repeat_words
from macros.page_model.page import LinkView, PageView
from macros.page_model.table import Table, TablePage

WEEKS = 12
ADDRESS = "calendar.ics"


def calendar_page(first: date, events: Sequence[Event], views: Sequence[PageView]) -> TablePage:
    """What comes every day or every week once, then a table for each week from Monday to Sunday.

    `events` are unexpanded; `first` is the day the manual is built for.
    """
    monday = first - timedelta(days=first.weekday())
    last = monday + timedelta(days=7 * WEEKS - 1)
    pages = {view.key: view for view in views}
    often = [event for event in events if event.often]
    weeks: dict[date, list[tuple[str | LinkView, ...]]] = {}
    for event in expanded([event for event in events if not event.often], first, last):
        start = event.day - timedelta(days=event.day.weekday())
        row = (event.day.isoformat(), WEEKDAYS[event.day.weekday()], *_what(event, pages))
        weeks.setdefault(start, []).append(row)
    return TablePage(
        "Calendar",
        f"What is due from {first} to {last}. What comes every day or week stands once, first. What has no last day in "
        "the house files is counted from the day this manual was built for. The file below holds a year: import it into a "
        "calendar of its own on the phone, and replace that after each build.",
        (
            Table(
                "Every day and every week",
                ("What", "When", "System", "Page"),
                tuple(_often(event, first, pages) for event in often if _within(event, first, last)),
            ),
            *(
                Table(f"Week of Monday {start}", ("Date", "Weekday", "What", "System", "Page"), tuple(rows))
                for start, rows in sorted(weeks.items())
            ),
        ),
        LinkView("Calendar file for your phone", ADDRESS),
    )


def _what(event: Event, pages: dict[str, PageView]) -> tuple[str | LinkView, ...]:
    text = f"{event.title} ({event.detail})" if event.detail and event.repeat is None else event.title
    return text, event.system or "room", _link(event, pages)


def _often(event: Event, first: date, pages: dict[str, PageView]) -> tuple[str | LinkView, ...]:
    assert event.repeat is not None
    title, system, link = _what(event, pages)
    words = repeat_words(event.repeat, event.day)
    begin = f" from {event.day}" if event.day > first else ""
    end = f" to {event.until}" if event.until is not None else ""
    return title, f"{words}{begin}{end}", system, link


def _within(event: Event, first: date, last: date) -> bool:
    return event.day <= last and (event.until is None or event.until >= first)


def _link(event: Event, pages: dict[str, PageView]) -> str | LinkView:
    page = pages.get(event.page_key)
    return LinkView(event.page_key, page.page_address) if page is not None else "none"
