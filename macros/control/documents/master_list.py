"""The master list: every controlled item with its state, its next review and the copies that hang on walls.

Site and paper show the same rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from macros.amounts import Register
from macros.control.documents.controlled_documents import ControlledDocument, DocumentKind
from macros.control.documents.reviews import (
    ReviewStanding,
    review_interval,
    review_line,
    review_problems,
    review_standings,
)
from macros.control.documents.wall_copies import (
    DRAFT_ON_WALL,
    Swap,
    copies_of,
    copy_problems,
    drafts_on_walls,
    hanging,
    swaps,
)
from macros.ground.problems import Problem
from macros.house import House
from macros.house.records.document_control import WallCopy
from macros.house.rules.people import TRAINER
from macros.manual.pages.values_code import last_issue
from macros.page_model.page import LinkView
from macros.page_model.table import Table, TablePage
from macros.published.paper.control import control_words

ADDRESS = "reference/master-list.html"
KINDS: tuple[tuple[DocumentKind, str], ...] = (
    ("page", "Pages"),
    ("checklist", "Checklists"),
    ("card", "Wall cards"),
)
NONE_HANGS = "none noted"


@dataclass(frozen=True)
class MasterRow:
    """One controlled item as listed; texts are plain."""

    item: ControlledDocument
    next_review: str
    owner: str
    state: str
    issued: bool
    in_force: bool
    copies: tuple[str, ...]


@dataclass(frozen=True)
class MasterList:
    """Everything the list shows, worked out."""

    rows: tuple[MasterRow, ...]
    swaps: tuple[Swap, ...]
    drafts: tuple[tuple[str, WallCopy], ...]
    interval: str
    as_of: date
    notes_copies: bool

    @property
    def summary(self) -> str:
        """The list in one sentence of counts; what is nought is left out."""
        in_force = sum(row.in_force for row in self.rows)
        drafts = sum(row.state.startswith("DRAFT") for row in self.rows)
        to_swap = sum(swap.count for swap in self.swaps)
        counts = (
            (in_force, "in force"),
            (drafts, "DRAFT"),
            (len(self.rows) - in_force - drafts, "with a review due"),
            (to_swap, f"wall {'copy' if to_swap == 1 else 'copies'} to swap"),
        )
        return f"{len(self.rows)} items: {', '.join(f'{count} {words}' for count, words in counts if count)}."

    def of_kind(self, kind: DocumentKind) -> tuple[MasterRow, ...]:
        """The rows of one kind."""
        return tuple(row for row in self.rows if row.item.kind == kind)


def master_list(register: Register, items: Sequence[ControlledDocument]) -> MasterList:
    """The list as of the day the manual is built for."""
    house, today = register.house, register.built_for
    standings = review_standings(house, (item.key for item in items))
    rows = tuple(_row(house, item, standings.get(item.key), today) for item in items)
    return MasterList(
        rows,
        swaps(house, items),
        drafts_on_walls(house, items),
        review_interval(house),
        today,
        bool(house.wall_copies),
    )


def master_list_page(register: Register, items: Sequence[ControlledDocument]) -> TablePage:
    """The list as a page of the site, with how control works here."""
    listed = master_list(register, items)
    tables = [
        Table(
            title,
            ("Item", "Title", "State", "Issued", "Next review, and who owns it", "On walls"),
            tuple(_cells(row) for row in listed.of_kind(kind)),
        )
        for kind, title in KINDS
    ]
    return TablePage(
        "Master list",
        f"Everything issued here, as of {listed.as_of}. {listed.summary} Each item is reviewed {listed.interval}. "
        "On paper, with the swap list and a form for a handwritten note: trayside pack control.",
        (
            Table(
                "Swap these wall copies",
                ("Where", "What", "Copies", "Take down", "Hang"),
                tuple(
                    (swap.where, f"{swap.key} {swap.title}", str(swap.count), swap.down, hang_words(swap))
                    for swap in listed.swaps
                ),
            ),
            Table(
                "Hanging, and changed since",
                ("Where", "What", "Copies", "Do"),
                tuple(
                    (copy.where, f"{copy.item} {title}", str(copy.count), DRAFT_ON_WALL)
                    for title, copy in listed.drafts
                ),
            ),
            *tables,
            Table(
                "How control works here",
                ("What", "How"),
                tuple((line.what, line.how) for line in control_words().mechanisms),
            ),
        ),
        example="" if listed.notes_copies else example(items),
    )


def _cells(row: MasterRow) -> tuple[str | LinkView, ...]:
    """A row of the site: few cells, for on a phone each is a line."""
    control = row.item.control
    issued = f"revision {control.revision}, {control.effective}, by {control.approved_by}"
    return (
        row.item.key,
        LinkView(row.item.title, row.item.address),
        row.state,
        issued if row.issued else "not issued",
        f"{row.next_review}, {row.owner}",
        "; ".join(row.copies) or NONE_HANGS,
    )


def hang_words(swap: Swap) -> str:
    """What takes the place of an old copy."""
    if not swap.hang:
        return "nothing: it is no longer in the manual"
    return f"{swap.hang}; {swap.wait}" if swap.wait else swap.hang


def example(items: Sequence[ControlledDocument]) -> str:
    """How a wall copy is noted, for an item of this house."""
    item = next((item for item in items if item.kind == "card"), items[0] if items else None)
    key = item.key if item is not None else "CARD-1"
    return f'wall_copies:\n  - {{item: {key}, where: "beside the door", count: 1, printed: 1}}\n'


def control_problems(register: Register, items: Sequence[ControlledDocument]) -> list[Problem]:
    """What only the finished manual and its day can say of wall copies and reviews."""
    return copy_problems(register.house, items) + review_problems(register, items)


def _row(house: House, item: ControlledDocument, standing: ReviewStanding | None, today: date) -> MasterRow:
    due = review_line(standing, today)
    draft = bool(item.control.draft_reasons)
    state = _draft(item, standing) if draft else due or _in_force(house, item.key, today)
    return MasterRow(
        item,
        next_review=str(standing.due) if standing is not None else "from its issue",
        owner=_owner(house, item.key),
        state=f"{state} Also: {due}." if draft and due else state,
        issued=standing is not None,
        in_force=not draft and not due,
        copies=tuple(hanging(house, copy) for copy in copies_of(house, item.key)),
    )


def _draft(item: ControlledDocument, standing: ReviewStanding | None) -> str:
    """Why an item is a draft; most of a new house was never issued, and says no more than that."""
    return f"DRAFT: {' '.join(item.control.draft_reasons)}" if standing is not None else "DRAFT: not issued"


def _in_force(house: House, key: str, today: date) -> str:
    last = last_issue(house, key)
    return f"issued, from {last.effective}" if last is not None and last.effective > today else "in force"


def _owner(house: House, key: str) -> str:
    """The role that answers for an item: who approved it, while that is a role of level 4; else who decides here."""
    last = last_issue(house, key)
    if last is not None and any(p.role == last.approved_by and p.level >= TRAINER for p in house.people):
        return last.approved_by.replace("_", " ")
    return house.house.responsible_person or "owner"
