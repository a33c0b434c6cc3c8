"""What the calendar gives to the site: what is due today, the next weeks, the file for a phone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from macros.amounts import Register
from macros.calendar.events import known_events
from macros.calendar.ics_file import calendar_file
from macros.calendar.page import ADDRESS, calendar_page
from macros.calendar.today_page import today_page
from macros.control.documents.controlled_documents import ControlledDocument
from macros.html.site_text import SiteText, table_text
from macros.page_model.page import PageView


def calendar_texts(
    register: Register, views: Sequence[PageView], items: Sequence[ControlledDocument]
) -> Iterator[SiteText]:
    """The pages and the file; all show the same events."""
    day, events = register.built_for, known_events(register, views, items)
    yield SiteText("today.md", today_page(day, events, views), ("Today",))
    yield table_text("reference/calendar", calendar_page(day, events, views), "Reference", "Calendar")
    yield SiteText(ADDRESS, calendar_file(register.house.house, day, events, views))
