"""The page of what is due: its data goes along, the day is the phone's own."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from macros.calendar.events import Event, expanded
from macros.html.environment import render, script_data
from macros.manual.house_facts.recurrence import months_later
from macros.page_model.page import PageView
from macros.published.labour.calendar import calendar

MONTHS = 12
"""How far the page knows what is due; the next build looks further."""


def today_page(first: date, events: Sequence[Event], views: Sequence[PageView]) -> str:
    """The page. `events` are unexpanded; `first` is the day the manual is built for."""
    document = calendar().kinds["daily_check"].document
    daily = next((view.key for view in views if view.document == document and view.records), "")
    return render("today.md.j2", data=script_data(today_data(first, events, views)), first=first, daily=daily)


def today_data(first: date, events: Sequence[Event], views: Sequence[PageView]) -> dict[str, Any]:
    """What the page's script needs.

    Each entry has its days from `first` to `last`; one that comes every day or every week has `every` and `start`
    (and `end` where it ends) instead. `again` marks a rhythm: doing it once makes good for the rounds before.
    """
    last = months_later(first, MONTHS)
    pages = {view.key: view for view in views}
    entries: dict[tuple[str, str, str], dict[str, Any]] = {}
    for event in events:
        if not event.often:
            continue
        assert event.repeat is not None
        entry = _entry(event, pages)
        entry |= {"every": event.repeat.every, "start": event.day.isoformat()}
        if event.until is not None:
            entry["end"] = event.until.isoformat()
        entries[event.kind, event.thing, event.page_key] = entry
    for event in expanded([one for one in events if not one.often], first, last):
        known = entries.setdefault(
            (event.kind, event.thing, event.page_key), {**_entry(event, pages), "days": []}
        )
        known.setdefault("days", []).append(event.day.isoformat())
    return {"first": first.isoformat(), "last": last.isoformat(), "entries": list(entries.values())}


def _entry(event: Event, pages: dict[str, PageView]) -> dict[str, Any]:
    page = pages.get(event.page_key)
    return {
        "title": event.title,
        "detail": "" if event.repeat is not None else event.detail,
        "again": event.repeat is not None,
        "system": event.system,
        "key": event.page_key,
        "address": page.page_address if page is not None else "",
    }
