"""When a self-check is done again after a sign-off, and the entries of the calendar for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from macros.manual.calendar_kinds import Event, Pages, new_event
from macros.published import load

KIND = "self_check"


def repeat_dates(signed: date) -> tuple[date, ...]:
    """The days of the spaced repeats after a sign-off: 1, 7, 30 and 90 days on, as `questions.yml` has them."""
    return tuple(signed + timedelta(days=int(days)) for days in load("questions")["repeat_days"])


def repeat_events(pages: Pages, signed: Iterable[tuple[str, str, date]], today: date) -> Iterator[Event]:
    """An entry for each repeat that is still to come.

    Parameters
    ----------
    signed : (who, the page signed off, the day of the sign-off); a role or initials do for who, and "" names nobody
    today : the day the manual is built for; repeats before it are over and are not told
    """
    for who, page_key, day in signed:
        thing = f"{page_key}, {who}" if who else page_key
        document, _, system = page_key.partition("-")[2].partition("-")
        known = pages.key(f"SOP-{document}", system)
        for number, due in enumerate(repeat_dates(day), start=1):
            if due >= today:
                detail = f"repeat {number} after the sign-off of {day}: answer first, then look"
                yield new_event(pages, KIND, due, thing, detail, system=system, page_key=known)
