"""Everything under document control: pages, checklists and wall cards, each issued by its own key."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

from macros.amounts import Register
from macros.ground.problems import Problem
from macros.ground.records import Record
from macros.house import House
from macros.house.rules.report import problem_at
from macros.manual.checklists.checklists import checklists_of
from macros.manual.pages.values_code import last_issue
from macros.page_model.card import CardView
from macros.page_model.checklist import ChecklistView
from macros.page_model.page import ControlView, PageView
from macros.paper.cards.cards import wall_cards

DocumentKind = Literal["page", "checklist", "card"]


@dataclass(frozen=True)
class ControlledDocument:
    """One controlled item: the key it is issued by, where it stands on the site, its control block and what it shows.

    A bench sheet and a blank record are the page on paper: they carry its revision and its code, and are no items.
    """

    key: str
    title: str
    kind: DocumentKind
    address: str
    control: ControlView
    view: PageView | ChecklistView | CardView


def controlled_documents(
    pages: Iterable[PageView], checklists: Iterable[ChecklistView], cards: Iterable[CardView]
) -> tuple[ControlledDocument, ...]:
    """Every controlled item of the house: pages, then checklists, then cards, each in the order of the manual."""
    return (
        *(
            ControlledDocument(p.key, _of(p.title, p.system), "page", p.page_address, p.control, p)
            for p in pages
        ),
        *(
            ControlledDocument(c.key, _of(c.title, c.system), "checklist", c.address, c.control, c)
            for c in checklists
        ),
        *(
            ControlledDocument(c.key, _of(c.title, c.system, c.part), "card", c.address, c.control, c)
            for c in cards
        ),
    )


def controlled_documents_of(register: Register, pages: Sequence[PageView]) -> tuple[ControlledDocument, ...]:
    """As `controlled_documents`, where the pages alone are at hand."""
    return controlled_documents(
        pages, checklists_of(pages, register.house), wall_cards(register, pages).cards
    )


def unknown_item(
    house: House, record: Record, field: str, key: str, items: Sequence[ControlledDocument]
) -> list[Problem]:
    """What is wrong with the key of an item in a house file: not of this house, no longer, or never issued."""
    keys = [item.key for item in items]
    issued = last_issue(house, key) is not None
    if key in keys:
        what, allowed = (
            f"{key} has not been issued",
            "Under control stands what was issued: it has a revision",
        )
        return (
            []
            if issued
            else [problem_at(record, field, what, allowed, "Issue it first, or remove the entry")]
        )
    if issued:
        what = f"{key} was issued once and is no longer in the manual"
        allowed = "The master list names every page, checklist and card there is"
        remedy = "Take its copies down, then remove the entry"
        return [problem_at(record, field, what, allowed, remedy, severity="warning")]
    near = get_close_matches(key.upper(), keys, n=1, cutoff=0.5)
    what = f"{key} is no page, checklist or card of this house"
    allowed = "Keys are as on the master list: SOP-08-A, CHECK-SOP-08-A, CARD-2-A"
    return [problem_at(record, field, what, allowed, f"Did you mean {near[0]}?" if near else "Mend the key")]


def _of(title: str, system: str, part: str = "") -> str:
    return ", ".join(piece for piece in (title, system, part) if piece)
