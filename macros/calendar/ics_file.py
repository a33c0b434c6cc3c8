"""The calendar file for a phone, after RFC 5545. The only importer of icalendar, which escapes and folds."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from hashlib import sha256
from typing import Any

from icalendar import Calendar, vDDDTypes, vRecur, vText, vUri
from icalendar import Event as FileEvent

from macros.calendar.event import Event, kinds
from macros.house.records.room import HouseFacts
from macros.manual.house_facts.recurrence import Repeat, months_later
from macros.page_model.page import PageView

MONTHS = 12
"""How far the file looks ahead; the next build looks further."""
_WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
_SURE_DATE = 28
"""The last date every month has."""
# RFC 5545 3.1 forbids control characters in a text; some readers take the other ends of line for the end of a property.
_LINE_ENDS = re.compile("\r\n|[\r\x0b\x0c\x1c-\x1e\x85\u2028\u2029]")
_CONTROL = re.compile("[\x00-\x08\x0e-\x1f\x7f]")


def calendar_file(house: HouseFacts, first: date, events: Sequence[Event], views: Sequence[PageView]) -> str:
    """Every entry from `first`, the day the manual is built for, a year on, as all-day events with CRLF line ends.

    `events` are unexpanded: a rhythm is one event with a rule and its end. The stamp is `first`, never the clock.
    """
    last = months_later(first, MONTHS)
    calendar = Calendar()
    name = _text(house.name)
    calendar["PRODID"] = vText("-//Trayside//House calendar//EN")
    calendar["VERSION"] = vText("2.0")
    calendar["X-WR-CALNAME"] = name
    calendar["X-WR-CALDESC"] = _text(f"From {first} to {last}. A later build replaces this file.")
    pages = {view.key: view for view in views}
    stamp = vDDDTypes(datetime.combine(first, time(), UTC))
    seen: Counter[tuple[str, str, str]] = Counter()
    for event in events:
        # Counted over all entries, so that one that passes out of the file leaves the names of the others alone.
        name_of = (event.kind, event.thing, event.page_key)
        seen[name_of] += 1
        start, rule = _when(event, first, last)
        if start is None:
            continue
        page = pages.get(event.page_key)
        entry = FileEvent()
        entry["UID"] = vText(_uid(house.name, *name_of, str(seen[name_of])))
        entry["DTSTAMP"] = stamp
        entry["DTSTART"] = vDDDTypes(start)
        if rule is not None:
            entry["RRULE"] = rule
        entry["SUMMARY"] = _text(event.title)
        entry["CATEGORIES"] = _text(kinds()[event.kind].name)
        description = _description(event, page)
        if description:
            entry["DESCRIPTION"] = _text(description)
        if page is not None and house.site_address:
            entry["URL"] = vUri(_CONTROL.sub("", _LINE_ENDS.sub("", page.public_address)))
        entry["TRANSP"] = vText("TRANSPARENT")
        calendar.subcomponents.append(entry)
    return bytes(calendar.to_ical()).decode("utf-8")


def rule_of(repeat: Repeat, start: date, until: date) -> dict[str, Any]:
    """The parts of the RRULE of a rhythm whose first day is `start`, `until` included.

    RFC 5545 3.3.10 skips a month without the date; the last of several dates that exist is the date, or the month's end.
    """
    if repeat.unit == "day":
        weeks, rest = divmod(repeat.every, 7)
        if rest:
            return {"freq": "DAILY", "interval": repeat.every, "until": until}
        return {"freq": "WEEKLY", "interval": weeks, "until": until}
    parts: dict[str, Any] = {"freq": "MONTHLY", "interval": repeat.every, "until": until}
    if repeat.on == "first_weekday":
        return {**parts, "byday": f"1{_WEEKDAYS[start.weekday()]}"}
    if start.day > _SURE_DATE:
        return {**parts, "bymonthday": list(range(_SURE_DATE, start.day + 1)), "bysetpos": -1}
    return {**parts, "bymonthday": start.day}


def _when(event: Event, first: date, last: date) -> tuple[date | None, vRecur | None]:
    """The entry's first day within the file and its rule; no day where it has none within."""
    if event.repeat is None:
        return (event.day if first <= event.day <= last else None), None
    until = last if event.until is None else min(last, event.until)
    days = (day for day in event.repeat.days(event.day, until) if day >= first)
    start = next(days, None)
    if start is None or next(days, None) is None:
        return start, None
    return start, vRecur(rule_of(event.repeat, event.day, until))


def _description(event: Event, page: PageView | None) -> str:
    lines = [event.detail] if event.detail else []
    if page is not None:
        lines += [f"{page.key} {page.title}", page.public_address]
    return "\n".join(lines)


def _uid(*parts: str) -> str:
    return f"{sha256(chr(0).join(parts).encode()).hexdigest()[:32]}@trayside"


def _text(text: str) -> vText:
    return vText(_CONTROL.sub(" ", _LINE_ENDS.sub("\n", text)))
