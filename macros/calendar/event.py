"""One entry of the calendar, and the kinds there are: their words and pages are published data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from macros.manual.house_facts.recurrence import Repeat
from macros.page_model.page import PageView
from macros.published.labour.calendar import EventWords, calendar


@dataclass(frozen=True)
class Event:
    """What is due on a day, all day long.

    `page_key` is the page it is done by, "" where this house has none; `amount_key` the date amount it comes from.
    An entry with `repeat` comes back until `until`, without one for as long as the calendar goes. `thing` is what it is
    about (a variety, a tank, a pen): with the kind and the page it tells the entry from all others.
    """

    day: date
    kind: str
    title: str
    detail: str
    system: str
    page_key: str
    amount_key: str = ""
    until: date | None = None
    repeat: Repeat | None = None
    thing: str = ""

    @property
    def often(self) -> bool:
        """Whether it comes every day or every week: then it is told once, not on each of its days."""
        return self.repeat is not None and (self.repeat.daily or self.repeat.weekly)

    def on(self, day: date) -> Event:
        """The same entry on another day."""
        return replace(self, day=day)


def kinds() -> Mapping[str, EventWords]:
    """Every kind by its id."""
    return calendar().kinds


class Pages:
    """The pages of this house by document and system."""

    def __init__(self, views: Sequence[PageView]) -> None:
        self._keys: dict[tuple[str, str], str] = {}
        for view in views:
            self._keys.setdefault((view.document, view.system), view.key)

    def key(self, document: str, system: str = "") -> str:
        """The page of a document for a system, else for the room; "" where this house has neither."""
        return self._keys.get((document, system)) or self._keys.get((document, ""), "")

    def systems(self, document: str) -> list[str]:
        """The systems that have a page of this document; "" stands for the room."""
        return sorted(system for name, system in self._keys if name == document)


def new_event(
    pages: Pages,
    kind: str,
    day: date,
    thing: str,
    detail: str = "",
    *,
    system: str = "",
    amount_key: str = "",
    page_key: str | None = None,
    repeat: Repeat | None = None,
    until: date | None = None,
) -> Event:
    """An entry in the words of its kind, with the page of its kind unless another is given."""
    words = kinds()[kind]
    page = pages.key(words.document, system) if page_key is None else page_key
    # Not str.format on the thing: a house may write braces.
    title = words.title.replace("{thing}", thing)
    return Event(day, kind, title, detail, system, page, amount_key, until, repeat, thing)


def late_event(event: Event, today: date) -> Event:
    """The entry told once more today, because its own day has passed."""
    detail = f"due on {event.day}" + (f"; {event.detail}" if event.detail else "")
    once = replace(event, day=today, detail=detail, amount_key="", until=None, repeat=None)
    return replace(once, title=f"Overdue: {event.title}", thing=f"{event.thing}, overdue")
