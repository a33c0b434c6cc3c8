"""The work of a day as records: activities done in one go, waits, and what comes after what."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Literal

from macros.calculations.scheduler.records import Link, NetworkActivity
from macros.ground.problems import Problem
from macros.manual.checklists.day_list import is_named
from macros.page_model.page import PageView, StepView
from macros.published.labour import jobs
from macros.published.labour.jobs import Job, Part

ActivityKind = Literal["work", "again", "wait", "runs"]


@dataclass(frozen=True)
class DayActivity:
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
    kind: ActivityKind = "work"
    words: str = ""
    extra: int = 0
    label: str = ""

    def has(self, step: str) -> bool:
        """Whether it is the work that holds this step."""
        return self.kind == "work" and any(is_named(self.page, one, step) for one in self.steps)

    def step(self, name: str) -> StepView:
        """The step of it that a rule names."""
        return next(one for one in self.steps if is_named(self.page, one, name))

    def before(self, step: str) -> int:
        """Minutes from its start to the start of a step inside it, rounded down."""
        done = self.steps[: self.steps.index(self.step(step))]
        return math.floor(self.extra + sum(one.minutes for one in done))

    def until(self, step: str) -> int:
        """Minutes from its start to the end of a step inside it, rounded up."""
        through = self.steps[: self.steps.index(self.step(step)) + 1]
        return min(self.minutes, math.ceil(self.extra + sum(one.minutes for one in through)))


def step_name(page: PageView, step: StepView) -> str:
    """A step as the rules of `jobs.yml` name it: `SOP-05/lower`."""
    assert step.timing is not None
    return f"{page.document}/{step.timing.step}"


@dataclass
class Work:
    """The activities of a job for one system, the links between them, what is done later, and what is told.

    `later` holds an activity, the one it follows, and the least and greatest minutes after that one's end. `instead`
    holds the numbers of steps that may be done in place of a step, by its id; `for_a` the pages that A alone may do.
    """

    job: Job
    system: str
    activities: list[DayActivity] = field(default_factory=list)
    links: dict[str, list[Link]] = field(default_factory=dict)
    later: list[tuple[DayActivity, str, int, int | None]] = field(default_factory=list)
    next_day: list[DayActivity] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    instead: dict[str, tuple[int, ...]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    for_a: frozenset[str] = frozenset()

    def with_step(self, step: str) -> list[DayActivity]:
        """The activities of work that hold a step, one for each round."""
        return [activity for activity in self.activities if activity.has(step)]

    @property
    def timed(self) -> DayActivity | None:
        """The activity that begins with a flood of the timer, if the job has one."""
        return next((activity for step in jobs.rules().timer for activity in self.with_step(step)), None)

    def up_to(self, last: str) -> Work:
        """The work an activity waits for, and itself."""
        own, waiting = {last}, [last]
        while waiting:
            found = [link.activity for link in self.links.get(waiting.pop(), ()) if link.activity not in own]
            own |= set(found)
            waiting += found
        return replace(self, activities=[one for one in self.activities if one.id in own])

    def link(self, activity: str, after: str, least: int = 0, greatest: int | None = None) -> None:
        """Put an activity after another."""
        self.links.setdefault(activity, []).append(Link(after, least, greatest))

    def network(self, people: int) -> list[NetworkActivity]:
        """The activities as a plan for so many people takes them. What needs two is an appointment in a plan for one."""
        return [
            NetworkActivity(
                activity.id,
                activity.minutes,
                min(activity.hands, people),
                tuple(self.links.get(activity.id, ())),
                activity.needs,
                0 if activity.hands == 1 and activity.page.key in self.for_a else None,
            )
            for activity in self.activities
        ]
