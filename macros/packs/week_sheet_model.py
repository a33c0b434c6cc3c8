"""What the sheets of a week show: grids with printed cells and blank boxes, and the lines every record has."""

from __future__ import annotations

from dataclasses import dataclass

from macros.page_model.page import ControlView

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

    `across` sets it as so many tables side by side. `lines` holds the numbers of rows with a strong line above,
    `limits` for each row what stands in strong type behind its first cell.
    """

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    height: float = 8.0
    across: int = 1
    lines: tuple[int, ...] = ()
    limits: tuple[str, ...] = ()

    def strips(self) -> tuple[tuple[tuple[int, tuple[str, ...]], ...], ...]:
        """The numbered rows of each of the tables side by side."""
        each = -(-len(self.rows) // self.across)
        numbered = tuple(enumerate(self.rows))
        return tuple(numbered[n : n + each] for n in range(0, len(numbered), each))


@dataclass(frozen=True)
class WeekSheet:
    """One sheet. `record` sheets print who, when, the pens, the rule of correction and the review.

    `signed` adds who and when for the sheet as a whole, where its rows have no such columns. `control` names the page the figures and the work come from; `outside` tells what to do with a value outside its
    limits, as (sign, act).
    """

    key: str
    title: str
    scope: str
    system: str
    house_name: str
    control: ControlView
    public_address: str
    grids: tuple[Grid, ...]
    notes: tuple[str, ...] = ()
    pens: tuple[str, ...] = ()
    outside: tuple[tuple[str, str], ...] = ()
    record: bool = False
    signed: bool = False
    reviewed_within: str = ""
    kept: str = ""
    landscape: bool = False
