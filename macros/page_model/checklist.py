"""The checklist of a job or a procedure as it is printed."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from macros.page_model.page import ControlView, RecordView


@dataclass(frozen=True)
class ChecklistItem:
    """One item: what to say, and the state to see or the value to write.

    `response` is the state (with an amount, the tool it is measured with), `record` a value with its limits;
    an item has one of them at least. Items of one row say the same: `column` says whose, `boxes` how often it is
    ticked. `page` and `step_id` say which step it is of; `phase` stands over the
    first item of each phase in a block of several; `conditional` lets it be n/a.
    """

    number: int
    text: str
    response: str
    tool: str
    record: RecordView | None
    page: str
    procedure: str
    step: int
    step_id: str
    hold: bool
    phase: str = ""
    conditional: bool = False
    column: str = ""
    boxes: int = 1


@dataclass(frozen=True)
class ChecklistBlock:
    """Five to nine rows between two pauses, ended by a completion line; `trigger` says when it is read.

    With `columns`, each row has items in several of them; `beside` blocks stand two in a row.
    """

    name: str
    trigger: str
    items: tuple[ChecklistItem, ...]
    columns: tuple[str, ...] = ()
    beside: bool = False

    @property
    def rows(self) -> list[list[ChecklistItem]]:
        """Its items, those that say the same together."""
        return [list(group) for _, group in groupby(self.items, key=lambda item: item.text)]


@dataclass(frozen=True)
class ChecklistRest:
    """Steps of a page that must not be missed and stand on its bench sheet alone: (number, id)."""

    page: str
    procedure: str
    revision: str
    steps: tuple[tuple[int, str], ...]


@dataclass(frozen=True)
class ChecklistContent:
    """The must-not-miss items of one job or procedure, read aloud and answered.

    `mode` is `read_do` or `do_confirm`; `worked_to` names the pages and their revisions. `one_page` is the one page
    of a job's day: `rest` names what else must not be missed, `emergency` whom to ring.
    """

    key: str
    title: str
    mode: str
    system: str
    house_name: str
    blocks: tuple[ChecklistBlock, ...]
    pages: tuple[str, ...]
    worked_to: tuple[str, ...]
    address: str
    public_address: str
    one_page: bool = False
    rest: tuple[ChecklistRest, ...] = ()
    emergency: str = ""

    @property
    def bands(self) -> list[tuple[ChecklistBlock, ...]]:
        """Its blocks from top to bottom, those that stand beside each other together."""
        found: list[tuple[ChecklistBlock, ...]] = []
        for block in self.blocks:
            if block.beside and found and len(found[-1]) == 1 and found[-1][0].beside:
                found[-1] = (*found[-1], block)
            else:
                found.append((block,))
        return found


@dataclass(frozen=True, kw_only=True)
class ChecklistView(ChecklistContent):
    """A checklist as it is published, under its control block."""

    control: ControlView
