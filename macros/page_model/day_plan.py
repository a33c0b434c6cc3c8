"""What the sheet of a day's plan shows: records already worked out, texts plain."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

RowKind = Literal["work", "again", "rest", "free", "later"]


@dataclass(frozen=True)
class PlanRow:
    """One row: who does which steps from when to when; `wait` is what runs by itself after it.

    `critical` rows have no minute to spare; `second` says that a second person must be there, and how.
    """

    start: str
    end: str
    who: str
    page: str = ""
    steps: str = ""
    words: str = ""
    where: str = ""
    tools: tuple[str, ...] = ()
    wait: str = ""
    note: str = ""
    second: str = ""
    critical: bool = False
    kind: RowKind = "work"


@dataclass(frozen=True)
class PlanPiece:
    """Steps of one page in a row of a person, and what they are; a break has no page.

    `after` is what the other ends first, `told` the waits; `second` says that another must be there. `short` is what is
    left of the words where the page was named in an earlier row.
    """

    start: str
    page: str
    steps: str
    words: str
    told: tuple[str, ...] = ()
    second: str = ""
    short: str = ""
    after: str = ""


@dataclass(frozen=True)
class PersonRow:
    """A row of one person's page: one piece, or several joined so that the day stands on its page."""

    start: str
    end: str
    pieces: tuple[PlanPiece, ...]
    critical: bool = False
    kind: RowKind = "work"
    minutes: int = 0


@dataclass(frozen=True)
class PersonPlan:
    """One person's day: the rows, and before them when they come and their long waits."""

    who: str
    rows: tuple[PersonRow, ...]
    waits: tuple[str, ...] = ()


@dataclass(frozen=True)
class PlanBar:
    """A bar of the drawing, minutes from the start of the day. `lane` is A, B or a number of a wait lane from 0."""

    lane: str
    start: int
    end: int
    label: str
    kind: RowKind | Literal["wait"]
    critical: bool = False
    told: str = ""


@dataclass(frozen=True)
class PlanLine:
    """A line below the table: a clock (or empty) and what is told."""

    clock: str
    text: str


@dataclass(frozen=True)
class RoomMoment:
    """How the system stands from a minute of the day on: the level as a share of the tank, what is up or plugged in."""

    minute: float
    level: float
    up: bool
    pump: bool
    air: bool


@dataclass(frozen=True)
class PlanView:
    """A day's plan for so many people, worked out.

    `day_lines` are ready sentences, the first things to know: can it be done in a shift, by when it begins, where a
    shift stops, when it ends, who is signed off. `persons` is the same day for each person alone.
    """

    key: str
    title: str
    system: str
    system_name: str
    house_name: str
    people: int
    day: str
    start: str
    start_minute: int
    finish: str
    minutes: int
    finish_text: str
    people_text: str
    rows: tuple[PlanRow, ...]
    bars: tuple[PlanBar, ...]
    wait_lanes: int
    alarms: tuple[PlanLine, ...]
    second: tuple[PlanLine, ...]
    within_call: tuple[str, ...]
    safe: tuple[PlanLine, ...]
    later: tuple[PlanLine, ...]
    rules: tuple[str, ...]
    notes: tuple[str, ...]
    pages: tuple[str, ...]
    draft: bool
    values_code: str = ""
    public_address: str = ""
    room: tuple[RoomMoment, ...] = ()
    persons: tuple[PersonPlan, ...] = ()
    day_lines: tuple[str, ...] = ()
