"""Jobs of a day as data: which pages, in which pieces, what before what, and what a plan must know of single steps."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from macros.ground.field_types import (
    ClockTime,
    Count,
    Duration,
    Flag,
    Fraction,
    Identifier,
    Mapped,
    Name,
    Text,
)
from macros.ground.names import gaps
from macros.ground.records import Record, mistake
from macros.published import published
from macros.published.names import AmountId, DocumentId, Place, SanitizingTask, SourceKey, StepName, Thing

Extra = Literal["dress", "way_to_kitchen"]
_Steps = Annotated[
    tuple[Identifier, ...],
    BeforeValidator(lambda steps: () if steps == "all" else steps),
    WithJsonSchema({"items": {"type": "string"}, "type": ["array", "string"]}),
]


class Part(Record):
    """A piece of a page. `steps` empty means all; see the head of jobs.yml for each field."""

    id: Identifier
    steps: _Steps
    after: tuple[Identifier, ...]
    stage: Identifier = ""
    each: Literal["variety", "soak_loads"] | None = None
    together: Flag = False
    task: SanitizingTask = ""
    extra: tuple[Extra, ...] = ()
    later: Flag = False


class LeftOut(Record):
    """Steps of a page that are not done in this job, and why."""

    steps: tuple[Identifier, ...]
    reason: Text


class JobPage(Record):
    """A page of a job, its parts in the order of the page, and the steps left out with the reason."""

    document: DocumentId = Field(alias="page")
    parts: tuple[Part, ...]
    leave_out: tuple[LeftOut, ...] = ()
    next_day: Flag = False
    when: Literal["pen_due"] | None = None

    @property
    def left_out(self) -> dict[str, str]:
        """Each step left out, with its reason."""
        return {step: rule.reason for rule in self.leave_out for step in rule.steps}


class ListRow(Record):
    """An item of the one page of a job: what is said, and what is answered. See jobs.yml for each field."""

    say: Name
    steps: tuple[StepName, ...]
    answer: Literal["value", "limits", "amount", "hold"] | None = None
    see: Name = ""
    each: Literal["variety"] | None = None

    @model_validator(mode="after")
    def _says_what_is_answered(self) -> ListRow:
        if self.answer is None and not self.see:
            raise mistake("an item without an answer", "answer, or see, or both", "Say what the doer answers")
        return self


class ListBlock(Record):
    """A block of the one page of a job; with columns, a row has a step in each."""

    name: Name
    trigger: Name
    columns: tuple[Name, ...] = ()
    beside: Flag = False
    rows: tuple[ListRow, ...]

    @model_validator(mode="after")
    def _a_step_for_each_column(self) -> ListBlock:
        if any(self.columns and len(row.steps) != len(self.columns) for row in self.rows):
            raise mistake(
                "a row has not one step for each column",
                f"Steps in the order of the columns: {', '.join(self.columns)}",
                "Name the step of every column",
            )
        return self


class Job(Record):
    """Pages in the order they are printed, and the stages their parts belong to, in the order of the pages."""

    title: Name
    stages: tuple[Identifier, ...] = ()
    pages: tuple[JobPage, ...]
    checklist: tuple[ListBlock, ...] = ()

    @property
    def id(self) -> str:
        """Its name in the file; empty for a job of any pages."""
        return str(self.path[-1]) if self.path else ""


class Again(Record):
    """Done again inside its own wait: every so many minutes, from start to start.

    `minutes` of hands each time, where steps before it are done again with it; else those of the step.
    """

    every: Count
    minutes: Count | None = None


class WaitMeaning(Record):
    """Least and greatest of a wait whose printed text is no plain time; no greatest is no limit."""

    least: Duration
    greatest: Duration | None = None


class Within(Record):
    """From the start of one step to the end of another at most `most`, or what an amount of the house says."""

    first: StepName = Field(alias="from")
    last: StepName = Field(alias="to")
    most: Duration | None = None
    amount: AmountId = ""
    task: SanitizingTask = ""
    source: SourceKey = ""

    @model_validator(mode="after")
    def _says_how_long(self) -> Within:
        if (self.most is None) == (not self.amount):
            raise mistake(
                "it says not once how long it may last", "Either most or amount", "Write one of them"
            )
        return self


class CropRule(Record):
    """No flood from the end of one step to the end of another; `size` of the plants that stand dry meanwhile."""

    first: StepName = Field(alias="from")
    last: StepName = Field(alias="to")
    size: Literal["young", "half", "full"]
    then: Annotated[Text, gaps("system")]
    unless: StepName | None = None


class StepRules(Record):
    """What a day's plan must know of single steps; each list is explained in the file.

    `during` is a share of the least time of the wait before; `by_itself` is in minutes.
    """

    either: tuple[tuple[StepName, ...], ...]
    during: Mapped[StepName, Fraction]
    again: Mapped[StepName, Again]
    by_itself: Mapped[StepName, Count]
    waits: Mapped[StepName, WaitMeaning]
    within: tuple[Within, ...]
    timer: tuple[StepName, ...]
    crop: tuple[CropRule, ...]


class Break(Record):
    """A rest of `minutes` where the day is over `day_over`; earliest and latest from the last rest [min]."""

    minutes: Count
    earliest: Count
    latest: Count
    day_over: Count


class DayRules(Record):
    """The day itself, where the house does not say; `buffer` is a share of the hands-on minutes; from level
    `signed_from` on a page is done by those signed off for it."""

    starts: ClockTime
    rest: Break = Field(alias="break")
    buffer: Fraction
    signed_from: Count


class Preparing(Record):
    """What is done around the steps: its words and minutes."""

    words: Name
    minutes: Count


class Jobs(Record):
    """`jobs.yml`; its head and comments say every field."""

    jobs: Mapped[Identifier, Job]
    rules: StepRules
    capacity: Mapped[Place, Count]
    shared_tools: tuple[Thing, ...]
    vessels: tuple[Place, ...]
    extras: Mapped[Extra, Preparing]
    day: DayRules
    longest_piece: Count


def day_facts() -> Jobs:
    """All that is published on jobs of a day."""
    return published(Jobs, "jobs")


def rules() -> StepRules:
    """What a day's plan must know of single steps."""
    return day_facts().rules


def job(name: str) -> Job:
    """A job by its name. Raises KeyError with the names there are."""
    jobs = day_facts().jobs
    if name not in jobs:
        raise KeyError(f"{name} is no job. There are {', '.join(jobs)}")
    return jobs[name]


def job_of(documents: Sequence[str], title: str) -> Job:
    """A job of any pages, each whole and after the one before it."""
    pages = tuple(
        JobPage(page=document, parts=(Part(id=document, steps=(), after=before),))
        for document, before in zip(documents, ((), *((one,) for one in documents)), strict=False)
    )
    return Job(title=title, pages=pages)


@cache
def step_parts(name: str) -> tuple[str, str, str]:
    """`SOP-03/label:tray_spray` as document, id as written, and the sanitizing task it is repeated for (or empty)."""
    document, _, rest = name.partition("/")
    step, _, task = rest.partition(":")
    return document, step, task
