"""Entries of sign-offs: the day one has to be refreshed by, and the days its questions are asked again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from macros.amounts import Register
from macros.calendar.event import Event, Pages, new_event
from macros.page_model.page import PageView
from macros.published.training.training import sign_off_rules
from macros.training.path.sign_offs import names_published, shown_name, standings


def sign_off_events(register: Register, pages: Pages, views: Sequence[PageView]) -> Iterator[Event]:
    """One entry for each person and day: refreshing, and asking again after so many days.

    A sign-off that a re-issue voided has none: it is done anew. Initials are left out where the house publishes none.
    """
    names = names_published(register.house)
    refresh: dict[tuple[str, date], list[str]] = {}
    recall: dict[tuple[str, date, int], list[str]] = {}
    for one in standings(register, views):
        if one.state == "void":
            continue
        who = shown_name(register.house, one.entry.who, names)
        refresh.setdefault((who, one.due), []).append(one.page.key)
        for days in sign_off_rules().recall_days:
            recall.setdefault((who, one.entry.when, days), []).append(one.page.key)
    for (who, due), keys in sorted(refresh.items()):
        yield _event(pages, "sign_off_refresh", due, f"{who}, by {due}", keys)
    for (who, signed, days), keys in sorted(recall.items()):
        thing = f"{who}, day {days} after sign-off on {signed}"
        yield _event(pages, "recall", signed + timedelta(days=days), thing, keys)


def _event(pages: Pages, kind: str, day: date, thing: str, keys: Sequence[str]) -> Event:
    keys = list(dict.fromkeys(keys))
    page = keys[0] if len(keys) == 1 else None  # several: the page of training
    return new_event(pages, kind, day, thing, ", ".join(keys), page_key=page)
