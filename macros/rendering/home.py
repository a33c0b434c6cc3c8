"""The start page: emergency first, where things are, then the procedures by section."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from macros.house import House
from macros.manual.procedure import SECTIONS
from macros.manual.views import ChecklistView, PageView
from macros.rendering.environment import render


def home_page(
    house: House,
    views: Sequence[PageView],
    checklists: Sequence[ChecklistView] = (),
    reckoners: Mapping[str, str] | None = None,
) -> str:
    """The first page a helper opens."""
    places = house.house.places
    named = [
        (name.replace("_", " ").capitalize(), getattr(places, name))
        for name in type(places).model_fields
        if getattr(places, name)
    ]
    sections = [(section, [view for view in views if view.section == section]) for section in SECTIONS]
    unfilled = house.house.emergency.unfilled()
    return render(
        "home.md.j2",
        house=house.house.name,
        draft=f"Not filled in: {', '.join(unfilled).replace('_', ' ')}." if unfilled else "",
        emergency=views[0].emergency_line if views else "",
        places=named,
        cleanout=[one for one in checklists if len(one.pages) > 1],
        checklists={one.pages[0]: one for one in checklists if len(one.pages) == 1},
        reckoners=[(title, address.replace(".md", ".html")) for title, address in (reckoners or {}).items()],
        sections=[(section, found) for section, found in sections if found],
    )
