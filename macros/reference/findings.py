"""The guide to findings: one table for each pest, disease and lack, every line with its source."""

from __future__ import annotations

from collections.abc import Sequence

from macros.house import House
from macros.manual.pages.photographs import photo_view
from macros.page_model.page import LinkView, PageView
from macros.page_model.table import Table, TablePage
from macros.photographs import NO_PHOTOGRAPHS, Photographs
from macros.published.pages.findings import Finding, findings
from macros.published.pages.sources import sources

TITLE = "Guide to findings"
HOLD = "SOP-23"
"""The page that holds a finding where it is."""

_LINES = {
    "seen": "What is seen",
    "look": "Where to look",
    "taken_for": "Taken for it",
    "first": "First, without a product",
    "ring": "When to ring",
    "stops": "What stops a harvest",
}


def cited_by_findings() -> set[str]:
    """The keys of the sources that the guide names."""
    guide = findings()
    return {getattr(one, line).source for one in guide.findings for line in _LINES} | {guide.stops_source}


def findings_page(
    house: House, views: Sequence[PageView], photographs: Photographs = NO_PHOTOGRAPHS
) -> TablePage:
    """The page for this house: its number to ring, and the way to the page that holds a finding."""
    guide = findings()
    hold = [
        LinkView(f"{view.document} {view.title}", view.page_address)
        for view in views
        if view.document == HOLD
    ]
    ring = f"Ring {house.house.who_decides}: {house.house.emergency.owner_phone}."
    return TablePage(
        TITLE,
        f"What a finding is, once {HOLD} holds it where it stands: unplug the pump before a hand goes into a tray. {ring} "
        "Not sure which it is: treat it as the worst it may be, and ring.",
        (
            Table(
                "What stops any harvest", ("Rule", "Source"), ((guide.stops, _source(guide.stops_source)),)
            ),
            *(_table(one, photographs) for one in guide.findings),
        ),
        see=tuple(hold),
    )


def _table(finding: Finding, photographs: Photographs) -> Table:
    lines = ((head, getattr(finding, name)) for name, head in _LINES.items())
    rows = tuple((head, line.say, _source(line.source)) for head, line in lines)
    shown = photographs.of("findings", finding.id)
    photos = (photo_view(shown),) if shown else ()
    return Table(finding.name, ("Of what", "What to know", "Source"), rows, photos=photos)


def _source(key: str) -> str:
    return sources()[key].reference
