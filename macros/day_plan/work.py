"""The work of a day as records: pieces done in one go, waits, and what comes after what."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from macros.calculations.scheduler.records import Activity, Link
from macros.ground.problems import Problem
from macros.page_model.page import PageView, StepView
from macros.published.work import jobs
from macros.published.work.jobs import Job, Part, step_parts

Kind = Literal["work", "again", "wait", "runs"]


@dataclass(frozen=True)
class Piece:
    """Steps one person does in one go, or a wait that runs by itself.

    Parameters
    ----------
    id : `SOP-05/lower`, with `#2` for a second round and `+wait`, `+runs` or `+again 1` for what follows it
    minutes : whole minutes, rounded up; `extra` of them are for what `words` says
    hands : 0 for a wait; 2 for what is never done alone
    label : what the round is for, as the variety
    """

    id: str
    part: Part
    page: PageView
    steps: tuple[StepView, ...]
    minutes: int
    hands: int
    needs: tuple[str, ...]
    kind: Kind = "work"
    words: str = ""
    extra: int = 0
    round: int = 1
    label: str = ""

    def has(self, step: str) -> bool:
        """Whether it is the work that holds this step."""
        return self.kind == "work" and any(is_step(self.page, one, step) for one in self.steps)

    def before(self, step: str) -> int:
        """Minutes from its start to the start of a step inside it, rounded down."""
        done = 0.0
        for one in self.steps:
            if is_step(self.page, one, step):
                return math.floor(self.extra + done)
            done += one.minutes
        raise KeyError(step)

    def until(self, step: str) -> int:
        """Minutes from its start to the end of a step inside it, rounded up."""
        found = next(one for one in self.steps if is_step(self.page, one, step))
        through = self.steps[: self.steps.index(found) + 1]
        return min(self.minutes, math.ceil(self.extra + sum(one.minutes for one in through)))


def is_step(page: PageView, step: StepView, wanted: str) -> bool:
    """Whether a step of a page is the one a rule names."""
    document, name, task = step_parts(wanted)
    timing = step.timing
    return (
        timing is not None
        and page.document == document
        and timing.step == name
        and (not task or ("task", task) in timing.keys)
    )


@dataclass
class Work:
    """The pieces of a job for one system, the links between them, what is done later, and what is told.

    `later` holds piece, the piece it follows, and the least and greatest minutes after that one's end. `instead` holds
    the numbers of steps that may be done in place of a step, by its id.
    """

    job: Job
    system: str
    pieces: list[Piece] = field(default_factory=list)
    links: dict[str, list[Link]] = field(default_factory=dict)
    later: list[tuple[Piece, str, int, int | None]] = field(default_factory=list)
    next_day: list[Piece] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    instead: dict[str, tuple[int, ...]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def with_step(self, step: str) -> list[Piece]:
        """The pieces of work that hold a step, one for each round."""
        return [piece for piece in self.pieces if piece.has(step)]

    @property
    def timed(self) -> Piece | None:
        """The piece that begins with a flood of the timer, if the job has one."""
        return next((piece for step in jobs.rules().timer for piece in self.with_step(step)), None)

    def link(self, piece: str, after: str, least: int = 0, greatest: int | None = None) -> None:
        """Put a piece after another."""
        self.links.setdefault(piece, []).append(Link(after, least, greatest))

    def activities(self, people: int) -> list[Activity]:
        """The pieces as a plan for so many people takes them. What needs two is an appointment in a plan for one."""
        return [
            Activity(
                piece.id,
                piece.minutes,
                min(piece.hands, people),
                tuple(self.links.get(piece.id, ())),
                piece.needs,
            )
            for piece in self.pieces
        ]
