"""The first things to know of a day: can it be done, by when it begins, where a shift stops, when it ends, who is signed off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from macros.amounts import Register
from macros.day_plan.limits import flood_starts, next_flood
from macros.day_plan.rows import Done, done, numbers
from macros.day_plan.schedule import PlannedDay
from macros.day_plan.times import DAY, length
from macros.page_model.page import StepView
from macros.published.labour import jobs

PERSONS = {1: "one person", 2: "two people"}


def day_lines(day: PlannedDay, register: Register) -> tuple[str, ...]:
    """Ready sentences, the one that matters most first."""
    return (
        _can_be_done(day, register),
        _begin(day, register),
        *_shift(day, register),
        _end(day, register),
        *_who(day),
    )


# ------------------------------------------------------------------ shifts


@dataclass(frozen=True)
class Leave:
    """A step after which the whole day may be left: nothing else runs, and no time is pending."""

    minute: int
    one: Done
    step: StepView

    @property
    def name(self) -> str:
        """`SOP-06 step 45`."""
        return f"{self.one.activity.page.document} step {self.step.number}"

    @property
    def up_to(self) -> str:
        """How long it may be left."""
        assert self.step.safe_to_leave is not None
        return self.step.safe_to_leave.up_to


def leaves(day: PlannedDay) -> list[Leave]:
    """Every point at which the whole day may be left, in the order of the clock."""
    return [
        Leave(one.end, one, one.activity.steps[-1])
        for one in done(day)
        if one.activity.steps[-1].safe_to_leave is not None and not _pending(day, one)
    ]


def _pending(day: PlannedDay, one: Done) -> bool:
    """Whether at the end of an activity another activity is under way, or something must follow within a time."""
    placed = day.plan.placed
    if any(
        other.start < one.end < other.finish for other in day.plan.plan.placed if other.finish > other.start
    ):
        return True
    return any(
        link.greatest is not None and placed[link.activity].finish <= one.end <= placed[id_].start
        for id_, links in day.work.links.items()
        for link in links
        if link.greatest is not None and id_ in placed and link.activity in placed
    )


def longest_shift(register: Register) -> int | None:
    """The house's longest shift [min, rounded down]; None where it gives none."""
    labour = register.house.labour
    return math.floor(labour.longest_shift.to("min")) if labour and labour.longest_shift else None


def _can_be_done(day: PlannedDay, register: Register) -> str:
    shift, who = longest_shift(register), PERSONS[day.people]
    takes = f"{length(day.plan.finish)} for {who}, {day.clock(0)} to {day.clock(day.plan.finish)}"
    if shift is None:
        return f"The day takes {takes}."
    if day.plan.finish <= shift:
        return f"Can be done in one shift: {takes}; a shift lasts {length(shift)} at most."
    return f"NOT in one shift ({length(shift)} at most): {takes}."


def _shift(day: PlannedDay, register: Register) -> list[str]:
    """Where the first shift stops, and what the second begins with."""
    shift = longest_shift(register)
    if shift is None or day.plan.finish <= shift:
        return []
    before_end = [leave for leave in leaves(day) if 0 < leave.minute < day.plan.finish]
    inside = [leave for leave in before_end if leave.minute <= shift]
    if inside:
        stop = inside[-1]
        return [
            f"Shift 1 stops at {day.clock(stop.minute)}, after {stop.name}: may be left up to {stop.up_to}. "
            f"Shift 2 begins with {_next(day, stop.minute)}."
        ]
    first = (
        f"the first is {before_end[0].name}, at {day.clock(before_end[0].minute)}"
        if before_end
        else "there is none"
    )
    return [
        f"No step in the first {length(shift)} at which the whole day may be left: {first}. Others take over by "
        f"{day.clock(shift)} with the work going on, from {_next(day, shift)}."
    ]


def _next(day: PlannedDay, minute: int) -> str:
    first = next(one for one in done(day) if one.start >= minute)
    return f"{first.activity.page.document} {numbers(first.activity.steps[:1], {})}"


# ------------------------------------------------------------------ start and end


def _begin(day: PlannedDay, register: Register) -> str:
    """By when the day begins, and what a later start costs."""
    timed, floods = day.work.timed, flood_starts(register, day.work.system)
    if early := day.earlier:
        return f"Begin by {early.clock(0)} to end at {early.clock(early.plan.finish)}: from {day.clock(0)} the timer's last flood is missed."
    if late := day.later:
        return f"Begin by {day.clock(0)}: from {late.clock(0)} the last flood is missed: end {late.clock(late.plan.finish)}."
    if timed is None:
        return f"Begin at {day.clock(0)}."
    flood = day.plan.placed[timed.id].start
    if not floods:
        step = timed.steps[0]
        return f"Begin at {day.clock(0)}; set the timer's first flood early enough for {timed.page.document} step {step.number}."
    if day.start + flood >= DAY:
        return (
            f"Begin at {day.clock(0)}: the timer's floods of the day are over before the tank is ready, from an hour earlier "
            f"as well. The flood watched is at {day.clock(flood)}."
        )
    return f"Begin by {day.clock(day.plan.spare)}: later misses the timer's flood at {day.clock(flood)}."


def spare_minutes(day: PlannedDay) -> int:
    """The buffer: a share of the hands-on minutes of each, in steps of five [min]."""
    hands = sum(activity.minutes * min(activity.hands, day.people) for activity in day.work.activities)
    return 5 * math.ceil(jobs.day_facts().day.buffer * hands / day.people / 5)


def slow_end(day: PlannedDay, register: Register) -> int:
    """When slow work ends [min]: what the flood of the timer swallows is not lost, and one that is missed is the next."""
    spare, timed = spare_minutes(day), day.work.timed
    floods = flood_starts(register, day.work.system)
    if timed is None or not floods:
        return day.plan.finish + spare
    flood = day.plan.placed[timed.id].start
    ready = day.start + flood - day.plan.spare + spare
    moved = max(0, next_flood(floods, ready) - day.start - flood)
    after = [one for one in day.plan.plan.placed if one.start >= flood]
    others = [
        one.finish for one in day.plan.plan.placed if one.people and one.start < flood and one.id != timed.id
    ]
    return max([one.finish + moved for one in after] + [finish + spare for finish in others])


def _end(day: PlannedDay, register: Register) -> str:
    slow = slow_end(day, register)
    share = f"{100 * jobs.day_facts().day.buffer:.0f} % slower ({length(spare_minutes(day))})"
    over = " and misses the flood" if (day.start + slow) // DAY > (day.start + day.plan.finish) // DAY else ""
    return f"Ends at {day.clock(day.plan.finish)}; {share} it ends by {day.clock(slow)}{over}."


def _who(day: PlannedDay) -> list[str]:
    """Who is signed off for what."""
    pages = {one.activity.page.document: one.activity.page for one in done(day)}
    skilled = [name for name, page in sorted(pages.items()) if page.level >= jobs.day_facts().day.signed_from]
    own = [name for name in skilled if pages[name].key in day.work.for_a]
    if not skilled:
        return []
    level = jobs.day_facts().day.signed_from
    if day.people == 1 or not own:
        whose = "A" if day.people == 1 else "whoever does them"
        return [f"{_listed(skilled)}: {whose} must be signed off at level {level} or higher."]
    return [f"A is the one signed off for {_listed(own)}; B does none of them."]


def _listed(names: Sequence[str]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
