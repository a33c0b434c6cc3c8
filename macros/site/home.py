"""The start page: emergency first, then a door for each who comes: the new helper, the cleanout day, who looks something up."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass

from macros.house import House
from macros.html.environment import render
from macros.html.site_text import SiteText
from macros.manual.house_facts.emergency import phones
from macros.manual.procedures.file_format import SECTIONS
from macros.page_model.addresses import source_address
from macros.page_model.checklist import ChecklistView
from macros.page_model.page import PageView
from macros.published.labour.jobs import job


@dataclass(frozen=True)
class HomeLink:
    """A link of the start page, and what it is good for."""

    text: str
    address: str
    note: str


@dataclass(frozen=True)
class CleanoutDay:
    """The cleanout of one system: its pages in the order of the day, and its checklist."""

    system: str
    pages: tuple[PageView, ...]
    checklist: ChecklistView | None


NEW_HERE = (
    HomeLink("The way to working alone", "training/path.html", "what to learn, in which order, how long it takes."),
    HomeLink("Who may do what", "reference/roles.html", "what you may do today, and with whom."),
    HomeLink("Glossary", "reference/glossary.html", "one word for one thing."),
    HomeLink("Cautions", "reference/cautions.html", "what can hurt here, and where."),
    HomeLink("Inventory", "reference/inventory.html", "where things are kept."),
)  # fmt: skip
LOOK_UP = (
    HomeLink(
        "Guide to findings",
        "reference/findings.html",
        "what it is on leaf, bloom or root, and what comes first.",
    ),
    HomeLink("Calendar", "reference/calendar.html", "what is due in the next twelve weeks."),
    HomeLink("Calendar file for your phone", "calendar.ics", "the same dates for a year."),
    HomeLink("Workings", "reference/workings.html", "how each amount comes about."),
    HomeLink("Checks", "reference/checks.html", "what the formulas were compared with."),
)
RECKONER = "a reading becomes the answer of the printed tables."
FIRST_PAGES = ("SOP-01", "SOP-26")
"""Pages a new helper reads before any other."""


def home_page(
    house: House,
    views: Sequence[PageView],
    checklists: Sequence[ChecklistView],
    texts: Sequence[SiteText],
) -> str:
    """The first page anyone opens. `texts` are all others: a link to what is not among them is left out."""
    built = {one.address for one in texts}
    sections = [(section, [view for view in views if view.section == section]) for section in SECTIONS]
    first = [HomeLink(one.title, one.page_address, one.when) for one in views if one.document in FIRST_PAGES]
    return render(
        "home.md.j2",
        house=house.house.name,
        draft=house.unfilled_words(),
        emergency=views[0].emergency_line if views else "",
        phones=phones(house),
        places=_places(house),
        new_here=[*first, *_there(NEW_HERE, built)],
        cleanout=_cleanout_days(house, views, checklists),
        look_up=[*_reckoners(texts), *_there(LOOK_UP, built)],
        checklists={one.pages[0]: one for one in checklists if not one.one_page},
        sections=[(section, found) for section, found in sections if found],
    )


def _places(house: House) -> list[tuple[str, str]]:
    """Where the things are that are looked for in an emergency, as far as the house says it."""
    places = house.house.places
    named = ((name, getattr(places, name)) for name in type(places).model_fields)
    return [(name.replace("_", " ").capitalize(), where) for name, where in named if where]


def _reckoners(texts: Sequence[SiteText]) -> list[HomeLink]:
    return [
        HomeLink(one.menu[-1], one.address.removesuffix(".md") + ".html", RECKONER)
        for one in texts
        if one.menu[:1] == ("Reckoners",)
    ]


def _there(links: Sequence[HomeLink], built: Container[str]) -> list[HomeLink]:
    return [link for link in links if source_address(link.address) in built or link.address in built]


def _cleanout_days(
    house: House, views: Sequence[PageView], checklists: Sequence[ChecklistView]
) -> list[CleanoutDay]:
    """A day for each system that has pages of its own in it."""
    order = [page.document for page in job("cleanout").pages]
    in_order = sorted(
        (view for view in views if view.document in order), key=lambda one: order.index(one.document)
    )
    days = []
    for system in house.systems:
        pages = tuple(view for view in in_order if view.system in ("", system.id))
        if any(page.system for page in pages):
            own = (one for one in checklists if one.one_page and one.system == system.id)
            days.append(CleanoutDay(system.id, pages, next(own, None)))
    return days
