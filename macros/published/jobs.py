"""Jobs of a day as data: which pages, in which pieces, what before what, and what a plan must know of single steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from macros.published import load, number

Step = tuple[str, str, str]
"""A step of a page: document, id as written, and the sanitizing task it is repeated for (or empty)."""


@dataclass(frozen=True)
class Part:
    """A piece of a page. `steps` empty means all; see the head of jobs.yml for each field."""

    id: str
    steps: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    stage: str = ""
    each: str = ""
    together: bool = False
    task: str = ""
    extra: tuple[str, ...] = ()
    later: bool = False


@dataclass(frozen=True)
class JobPage:
    """A page of a job, its parts in the order of the page, and the steps left out with the reason."""

    document: str
    parts: tuple[Part, ...]
    left_out: tuple[tuple[str, str], ...] = ()
    next_day: bool = False


@dataclass(frozen=True)
class Job:
    """Pages in the order they are printed."""

    id: str
    title: str
    pages: tuple[JobPage, ...]

    @property
    def stages(self) -> tuple[str, ...]:
        """The stages its parts belong to, in the order of the pages."""
        found = (part.stage for page in self.pages for part in page.parts)
        return tuple(dict.fromkeys(stage for stage in found if stage))


@dataclass(frozen=True)
class Within:
    """From the start of one step to the end of another at most `most`, or what an amount of the house says."""

    first: Step
    last: Step
    most: str = ""
    amount: str = ""
    task: str = ""


@dataclass(frozen=True)
class CropRule:
    """No flood from the end of one step to the end of another; `size` of the plants that stand dry meanwhile."""

    first: Step
    last: Step
    size: str
    then: str
    unless: Step | None = None


@dataclass(frozen=True)
class Break:
    """A rest of `minutes` where the day is over `day_over`; earliest and latest from the last rest [min]."""

    minutes: int
    earliest: int
    latest: int
    day_over: int


def job(name: str) -> Job:
    """A job by its name. Raises KeyError with the names there are."""
    jobs = load("jobs")["jobs"]
    if name not in jobs:
        raise KeyError(f"{name} is no job. There are {', '.join(jobs)}")
    return _job(name)


def job_of(documents: Sequence[str], title: str) -> Job:
    """A job of any pages, each whole and after the one before it."""
    pages: list[JobPage] = []
    before: tuple[str, ...] = ()
    for document in documents:
        part = Part(document, after=before)
        pages.append(JobPage(document, (part,)))
        before = (part.id,)
    return Job("", title, tuple(pages))


@cache
def _job(name: str) -> Job:
    data = load("jobs")["jobs"][name]
    pages: list[JobPage] = []
    before: tuple[str, ...] = ()
    for entry in data["pages"]:
        page = _page(entry, before)
        before = (page.parts[-1].id,)
        pages.append(page)
    return Job(name, data["title"], tuple(pages))


def _page(data: Any, before: tuple[str, ...]) -> JobPage:
    document = data["page"]
    parts = tuple(_part(part) for part in data.get("parts", ())) or (Part(document, after=before),)
    left_out = tuple((step, rule["reason"]) for rule in data.get("leave_out", ()) for step in rule["steps"])
    return JobPage(document, parts, left_out, data.get("next_day") == "yes")


def _part(data: Any) -> Part:
    return Part(
        id=data["id"],
        steps=() if data["steps"] == "all" else tuple(data["steps"]),
        after=tuple(data["after"]),
        stage=data["stage"],
        each=data.get("each", ""),
        together=data.get("together") == "yes",
        task=data.get("task", ""),
        extra=tuple(data.get("extra", ())),
        later=data.get("later") == "yes",
    )


def step_named(text: str) -> Step:
    """`SOP-03/label:tray_spray` as document, step and task."""
    document, _, rest = text.partition("/")
    step, _, task = rest.partition(":")
    return document, step, task


@cache
def either() -> tuple[tuple[Step, ...], ...]:
    """Groups of steps of which one is done."""
    return tuple(tuple(step_named(name) for name in group) for group in _rules()["either"])


@cache
def during() -> dict[Step, float]:
    """Steps inside the wait of the step before them, from this share of its least time."""
    return {step_named(name): number(share) for name, share in _rules()["during"].items()}


@cache
def again() -> dict[Step, tuple[int, int]]:
    """Steps done again inside their own wait: every so many minutes, at most so many late."""
    return {step_named(name): (int(r["every"]), int(r["late"])) for name, r in _rules()["again"].items()}


@cache
def by_itself() -> dict[Step, int]:
    """Steps that need a hand for so many minutes and then run by themselves."""
    return {step_named(name): int(minutes) for name, minutes in _rules()["by_itself"].items()}


@cache
def waits() -> dict[Step, tuple[str, str]]:
    """Least and greatest of waits whose printed text is no plain time; an empty greatest is no limit."""
    return {step_named(n): (rule["least"], rule.get("greatest", "")) for n, rule in _rules()["waits"].items()}


@cache
def within() -> tuple[Within, ...]:
    """What must be over a time after it began."""
    return tuple(
        Within(
            step_named(rule["from"]),
            step_named(rule["to"]),
            rule.get("most", ""),
            rule.get("amount", ""),
            rule.get("task", ""),
        )
        for rule in _rules()["within"]
    )


@cache
def timer_steps() -> tuple[Step, ...]:
    """Steps that begin with a flood the timer starts."""
    return tuple(step_named(name) for name in _rules()["timer"])


@cache
def crop_rules() -> tuple[CropRule, ...]:
    """Stretches without a flood."""
    return tuple(
        CropRule(
            step_named(rule["from"]),
            step_named(rule["to"]),
            rule["size"],
            rule["then"],
            step_named(rule["unless"]) if "unless" in rule else None,
        )
        for rule in _rules()["crop"]
    )


def capacity() -> dict[str, int]:
    """How many of a place or tool there are; one of what is not named."""
    return {name: int(count) for name, count in load("jobs")["capacity"].items()}


@cache
def shared_tools() -> tuple[str, ...]:
    """Tools several pages want at once."""
    return tuple(load("jobs")["shared_tools"])


@cache
def vessels() -> tuple[str, ...]:
    """What stays taken while a wait runs in it."""
    return tuple(load("jobs")["vessels"])


@cache
def extra(name: str) -> tuple[str, int]:
    """What is done around the steps: its words and minutes."""
    found = load("jobs")["extras"][name]
    return found["words"], int(found["minutes"])


def day_starts() -> str:
    """When a day starts where nobody says, `08:00`."""
    return str(load("jobs")["day"]["starts"])


@cache
def rest() -> Break:
    """The rest everybody takes."""
    found = load("jobs")["day"]["break"]
    return Break(*(int(found[name]) for name in ("minutes", "earliest", "latest", "day_over")))


def buffer() -> float:
    """What is kept spare, as a share of the hands-on minutes."""
    return number(load("jobs")["day"]["buffer"])


@cache
def longest_piece() -> int:
    """Minutes of a run of steps done as one piece of work."""
    return int(load("jobs")["longest_piece"])


def _rules() -> Any:
    return load("jobs")["rules"]
