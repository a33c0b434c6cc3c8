"""The reference section: pages made of the house, the published lists and the finished procedures."""

from __future__ import annotations

from collections.abc import Sequence

from macros.amounts import Register
from macros.calendar.events import Event
from macros.calendar.page import calendar_page
from macros.house import House
from macros.html.environment import render
from macros.manual.pages.build_page import BuiltPage
from macros.page_model.table import TablePage
from macros.reference.requirements import requirements_page
from macros.reference.tables import (
    facts_page,
    frequencies_page,
    glossary_page,
    inventory_page,
    roles_page,
    sources_page,
)


def reference_pages(
    house: House, register: Register, built: Sequence[BuiltPage], events: Sequence[Event]
) -> dict[str, str]:
    """Address -> text of every generated page of the section. `events` are the calendar's, unexpanded."""
    views = [page.view for page in built]
    pages: dict[str, TablePage] = {
        "calendar": calendar_page(register.built_for, events, views),
        "glossary": glossary_page(),
        "facts": facts_page(register),
        "inventory": inventory_page(house, views),
        "frequencies": frequencies_page(house),
        "roles": roles_page(house, views),
        "sources": sources_page(views),
        "requirements": requirements_page(built),
    }
    return {f"reference/{name}.md": render("reference.md.j2", page=page) for name, page in pages.items()}
