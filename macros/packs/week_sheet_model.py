"""What the sheets of a week show: grids with printed cells and blank boxes, and the lines every record has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from macros.amounts import Register
from macros.house import House
from macros.page_model.page import ControlView, PageView

BOX = "[box]"
"""A cell that holds a tick box."""


@dataclass(frozen=True)
class Column:
    """Head and width [mm] of a column; 0 shares what is left. `day` stands on a line of its own under the head."""

    head: str
    width: int = 0
    day: str = ""


@dataclass(frozen=True)
class Grid:
    """A table; an empty cell is a box to write in, `height` [mm] its least height.

    `across` sets it as so many tables side by side.
    """

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    height: float = 8.0
    across: int = 1

    def strips(self) -> tuple[tuple[tuple[str, ...], ...], ...]:
        """The rows of each of the tables side by side."""
        each = -(-len(self.rows) // self.across)
        return tuple(self.rows[n : n + each] for n in range(0, len(self.rows), each))


@dataclass(frozen=True)
class RoundRow:
    """One check of the daily round: its name with unit, its limits, what to do outside of them, a line for each system."""

    label: str
    limits: tuple[str, ...]
    outside: str
    systems: tuple[str, ...]


@dataclass(frozen=True)
class Week:
    """What the sheets of a week are made of; `first` is the first of its seven days."""

    register: Register
    views: Sequence[PageView]
    first: date

    @property
    def house(self) -> House:
        """The house of the register."""
        return self.register.house

    @property
    def last(self) -> date:
        """The seventh day."""
        return self.first + timedelta(days=6)

    def holds(self, day: str) -> bool:
        """Whether a day, as 2031-05-05, is one of the seven."""
        return self.first.isoformat() <= day <= self.last.isoformat()

    def page(self, *documents: str, system: str = "") -> PageView | None:
        """The first of the pages this house has; that of the system, else of the room."""
        for document in documents:
            for view in self.views:
                if view.document == document and view.system in ("", system):
                    return view
        return None


@dataclass(frozen=True)
class WeekSheet:
    """One sheet. `record` sheets print who, when, the pens, the rule of correction and the review.

    `signed` sheets are records whose rows have no columns for who and when: these stand once for the whole. `page` is
    where the figures and the work come from, `own_scope` what the sheet is for beside its week; `rounds` are the checks
    of the daily round, `days` the weekday and the date above its columns.
    """

    week: Week
    page: PageView
    key: str
    title: str
    grids: tuple[Grid, ...]
    notes: tuple[str, ...] = ()
    system: str = ""
    own_scope: str = ""
    pens: tuple[str, ...] = ()
    rounds: tuple[RoundRow, ...] = ()
    days: tuple[tuple[str, str], ...] = ()
    record: bool = False
    signed: bool = False
    landscape: bool = False

    @property
    def scope(self) -> str:
        """`week of 2031-05-05 to 2031-05-11`, and what else the sheet is for."""
        week = f"week of {self.week.first} to {self.week.last}"
        return f"{week} · {self.own_scope}" if self.own_scope else week

    @property
    def control(self) -> ControlView:
        """The control block of the page, by the page's key."""
        return replace(self.page.control, document=self.page.key)
