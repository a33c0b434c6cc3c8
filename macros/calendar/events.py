"""The calendar of the house: everything it knows a day of, from the dates of the crop to the review of a page."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from macros.amounts import Register
from macros.calendar.event import Event, Pages, kinds, late_event
from macros.calendar.one_day import amount_events, days_off, label_dates, plan_events
from macros.calendar.recurring import Rounds
from macros.calendar.sign_offs import sign_off_events
from macros.control.documents.controlled_documents import ControlledDocument, controlled_documents_of
from macros.page_model.page import PageView


def known_events(
    register: Register, views: Sequence[PageView], documents: Sequence[ControlledDocument] = ()
) -> list[Event]:
    """Every entry once, what comes back unexpanded; sorted by day, kind and title.

    `documents` are what is reviewed; without it, those `controlled_documents_of` finds.
    What should have been done before the day the manual is built for stands on that day once more, as overdue.
    """
    pages, today = Pages(views), register.built_for
    single = [
        *amount_events(register, pages),
        *plan_events(register, pages),
        *label_dates(register, pages),
        *days_off(register, pages),
        *sign_off_events(register, pages, views),
    ]
    late = [late_event(event, today) for event in single if event.day < today and kinds()[event.kind].late]
    keys = tuple(item.key for item in documents or controlled_documents_of(register, views))
    rounds = Rounds(register, pages, keys).events()
    return sorted([*single, *late, *rounds], key=_order)


def house_events(register: Register, views: Sequence[PageView], first: date, last: date) -> list[Event]:
    """Every entry from `first` to `last`, both included, one for each day it falls on; sorted by day, kind and title."""
    return expanded(known_events(register, views), first, last)


def expanded(events: Sequence[Event], first: date, last: date) -> list[Event]:
    """The days the entries fall on from `first` to `last`; each keeps its `repeat`, so a rhythm can be told once."""
    found: list[Event] = []
    for event in events:
        if event.repeat is None:
            if first <= event.day <= last:
                found.append(event)
            continue
        end = last if event.until is None else min(last, event.until)
        found += [event.on(day) for day in event.repeat.days(event.day, end) if day >= first]
    return sorted(found, key=_order)


def _order(event: Event) -> tuple[date, str, str]:
    return event.day, event.kind, event.title


__all__ = ["Event", "expanded", "house_events", "known_events"]
