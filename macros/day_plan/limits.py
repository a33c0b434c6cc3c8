"""What bounds a day beside the order of its steps: lives of batches, thirst of the crop, floods of the timer, rests."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from macros.amounts import NotFound, Register
from macros.day_plan.times import DAY, length
from macros.day_plan.work import DayActivity, Work
from macros.ground.problems import Problem
from macros.manual.procedures.expand_steps import planned_varieties
from macros.page_model.clock_times import whole_minutes
from macros.published.labour import jobs
from macros.published.labour.jobs import CropRule, Within

SHORT = 60
"""Room below this [min] asks for a flood right before the floods stop (our own choice)."""


@dataclass(frozen=True)
class Alarm:
    """A moment that may not pass, and what must be done by then.

    The moment is `most` minutes after `inside` minutes of the activity `first`.
    """

    first: str
    inside: int
    most: int
    words: str


def add_limits(work: Work, register: Register, start: int) -> list[Alarm]:
    """Link what must be over in time; the alarms for the sheet. What the steps alone overrun is a problem of the work.

    `start` of the day is in minutes from midnight.
    """
    alarms = []
    for rule in jobs.rules().within:
        for first, last in _pairs(work, rule.first, rule.last):
            most = _most(rule, register, work.system)
            if most is not None:
                alarms += _within(work, rule, first, last, most)
    for crop in jobs.rules().crop:
        if crop.unless is None or not work.with_step(crop.unless):
            alarms += _crop(work, crop, register, start)
    return alarms


def _pairs(work: Work, first: str, last: str) -> list[tuple[DayActivity, DayActivity]]:
    """The activities with both steps: round by round where both have the same rounds, else all from the first."""
    firsts, lasts = work.with_step(first), work.with_step(last)
    if not firsts or not lasts:
        return []
    if len(firsts) == len(lasts):
        return list(zip(firsts, lasts, strict=True))
    return [(firsts[0], activity) for activity in lasts]


def _most(rule: Within, register: Register, system: str) -> int | None:
    """The time a rule allows [min]; None where the house has no such amount."""
    if rule.most is not None:
        return whole_minutes(rule.most.to("min"), up=False)
    try:
        return int(register.get(rule.amount, system=system, task=rule.task).rounded)
    except NotFound:
        return None


def _within(work: Work, rule: Within, first: DayActivity, last: DayActivity, most: int) -> list[Alarm]:
    start, end = first.before(rule.first), last.until(rule.last)
    if first is last:
        if end - start > most:
            work.problems.append(_too_long(rule.first, rule.last, first, last, end - start, most))
        return []
    room = most - (first.minutes - start) - end
    if room < 0:
        work.problems.append(_too_long(rule.first, rule.last, first, last, most - room, most))
        return []
    work.link(last.id, first.id, 0, room)
    words = f"{_named(last, rule.last)} is over"
    return [Alarm(first.id, start, most, words)]


def _named(activity: DayActivity, step: str) -> str:
    number = activity.step(step).number
    return f"{activity.page.document} step {number}" + (f", {activity.label}" if activity.label else "")


def _too_long(a: str, b: str, first: DayActivity, last: DayActivity, takes: int, most: int) -> Problem:
    timing = first.step(a).timing
    assert timing is not None
    return Problem(
        timing.place,
        f"steps[{timing.step}]",
        f"from {_named(first, a)} to {_named(last, b)} the steps alone take {takes} min",
        f"At most {most} min",
        "Mend the minutes of the steps, or the time allowed",
    )


# ------------------------------------------------------------------ the crop


def _crop(work: Work, rule: CropRule, register: Register, start: int) -> list[Alarm]:
    """No flood between two steps: the thirstiest variety sets how long."""
    firsts, lasts = work.with_step(rule.first), work.with_step(rule.last)
    thirst = _thirst(register, work.system, rule.size)
    if not firsts or not lasts or thirst is None:
        return []
    first, last = firsts[0], lasts[0]
    variety, dry = thirst
    floods = flood_starts(register, work.system)
    most = dry - longest_gap(register, work.system)
    system = register.house.system(work.system).name
    alarms = []
    if not floods or most < SHORT or start < floods[0]:
        most = dry
        words = f"flood {system} once by hand, right before {_named(first, rule.first)}: its last flood may be too old"
        alarms.append(Alarm(first.id, first.before(rule.first), 0, words))
    inside = last.until(rule.last)
    room = most - (first.minutes - first.until(rule.first)) - inside
    if first is last:
        room = most - (inside - first.until(rule.first))
    if room < 0:
        work.problems.append(_too_long(rule.first, rule.last, first, last, most - room, most))
        return []
    if first is not last:
        work.link(last.id, first.id, 0, room)
    words = (
        f"{rule.then.replace('{system}', system)} (crop limit: {variety}, {length(dry)} from its last flood)"
    )
    return [*alarms, Alarm(first.id, first.until(rule.first), most, words)]


def _thirst(register: Register, system: str, size: str) -> tuple[str, int] | None:
    """The variety of the system that stands dry the shortest, and for how long [min]."""
    found = []
    for variety in planned_varieties(register.house, system):
        try:
            hours = register.get("dry_hours", variety=variety, growth_stage=size).rounded
        except NotFound:
            continue
        found.append((int(hours * 60), variety.replace("_", " ")))
    if not found:
        return None
    minutes, name = min(found)
    return name, minutes


def longest_gap(register: Register, system: str) -> int:
    """Minutes between the floods of a day that lie furthest apart, the night left out; a day where that is not known."""
    floods = flood_starts(register, system)
    return max((b - a for a, b in pairwise(floods)), default=DAY)


def flood_starts(register: Register, system: str) -> list[int]:
    """The timer's floods of a day, minutes from midnight, in order."""
    timer = register.house.system(system).timer
    return sorted(start.hour * 60 + start.minute for start in timer.floods_set) if timer is not None else []


def next_flood(floods: Sequence[int], earliest: int) -> int:
    """The first flood at or after a minute counted from midnight of the first day."""
    day, inside = divmod(earliest, DAY)
    later = [flood for flood in floods if flood >= inside]
    return day * DAY + later[0] if later else (day + 1) * DAY + floods[0]
