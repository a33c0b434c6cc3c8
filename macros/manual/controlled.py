"""Everything under document control: pages, checklists and wall cards, each issued by its own key."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from macros.manual.card_views import CardView
from macros.manual.views import ChecklistView, ControlView, PageView

Kind = Literal["page", "checklist", "card"]


@dataclass(frozen=True)
class Controlled:
    """One controlled item: the key it is issued by, where it stands on the site, its control block and what it shows.

    A bench sheet and a blank record are the page on paper: they carry its revision and its code, and are no items.
    """

    key: str
    title: str
    kind: Kind
    address: str
    control: ControlView
    view: PageView | ChecklistView | CardView


def controlled_items(
    pages: Iterable[PageView], checklists: Iterable[ChecklistView], cards: Iterable[CardView]
) -> tuple[Controlled, ...]:
    """Every controlled item of the house: pages, then checklists, then cards, each in the order of the manual."""
    return (
        *(Controlled(p.key, _of(p.title, p.system), "page", p.page_address, p.control, p) for p in pages),
        *(
            Controlled(c.key, _of(c.title, c.system), "checklist", c.address, c.control, c)
            for c in checklists
        ),
        *(Controlled(c.key, _of(c.title, c.system, c.part), "card", c.address, c.control, c) for c in cards),
    )


def _of(title: str, system: str, part: str = "") -> str:
    return ", ".join(piece for piece in (title, system, part) if piece)
