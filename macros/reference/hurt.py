"""The page for who is hurt: what to do at once, whom to ring, then first aid for every kind of injury."""

from __future__ import annotations

from macros.house import House
from macros.html.environment import render
from macros.html.site_text import SiteText
from macros.manual.cautions.page_safety import first_aid_places
from macros.manual.house_facts.emergency import NOT_GIVEN, phones, urgent_facts
from macros.published.safety.protection import fill, first_aid, first_aid_text

ADDRESS = "reference/hurt"


def hurt_text(house: House, *menu: str) -> SiteText:
    """The page; what the house does not say is said to be missing."""
    entries, places = first_aid(), first_aid_places(house)
    text = render(
        "hurt.md.j2",
        title=entries.page.title,
        lines=[fill(line, places) for line in entries.page.lines],
        urgent=(("Say where", house.house.places.street_address or NOT_GIVEN), *urgent_facts(house)),
        injuries=[first_aid_text(kind, places) for kind in entries.items],
        follow=fill(entries.follow, places),
        phones=phones(house),
    )
    return SiteText(f"{ADDRESS}.md", text, (*menu, entries.page.title))


def hurt_button() -> dict[str, str]:
    """Its button in the red bar, as the theme takes it."""
    return {"word": first_aid().page.button, "address": f"{ADDRESS}.html"}
