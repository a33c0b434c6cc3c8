"""A job's pieces on the clock: rests where the day is long, and steps that begin with a flood of the timer."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from macros.amounts import Register
from macros.calculations.work_plan import Activity, Link, Placed, Plan, critical_chain, floats, plan_day
from macros.manual.day_limits import flood_starts, next_flood
from macros.manual.day_pieces import Piece, Work
from macros.problems import RangeProblem
from macros.published import jobs

START = "start of the day"
REST = "rest "
FLOODS_TRIED = 3
MOST_RESTS = 4


@dataclass(frozen=True)
class Schedule:
    """Pieces with their minutes from the start of the day. `bound` holds for any flood of the timer.

    `rests` and the moments of floods are placed like pieces; `critical` names the pieces no minute of which is spare.
    """

    plan: Plan
    activities: tuple[Activity, ...]
    placed: dict[str, Placed]
    rests: tuple[Placed, ...]
    critical: frozenset[str]
    bound: int

    @property
    def finish(self) -> int:
        """Minutes from the start to the end of the day."""
        return self.plan.finish

    @property
    def gap(self) -> float:
        """How far the finish may lie above the best there is, as a share."""
        return (self.finish - self.bound) / self.bound if self.bound else 0.0


def schedule(work: Work, register: Register, people: int, start: int) -> Schedule:
    """Plan the work for one or two people from a start [min from midnight].

    Raises
    ------
    RangeProblem
        the links cannot be kept; a whole sentence.
    """
    rests = _fewest_rests(work, people)
    free, rests = _rested(work, people, rests, {})
    chosen, bound = free, free.plan.bound
    timed = [piece for step in jobs.timer_steps() for piece in work.with_step(step)]
    floods = flood_starts(register, work.system) if timed else []
    if timed and floods:
        chosen = _with_floods(work, people, rests, free, timed[0], floods, start)
        earliest = next_flood(floods, start + earliest_start(free.activities, timed[0].id, people)) - start
        bound = max(bound, earliest + timed[0].minutes)
    plan, activities = chosen.plan, chosen.activities
    return Schedule(
        plan,
        activities,
        {one.id: one for one in plan.placed},
        tuple(one for one in plan.placed if one.id.startswith(REST)),
        frozenset(critical_chain(activities, plan)),
        min(bound, plan.finish),
    )


@dataclass(frozen=True)
class _Planned:
    plan: Plan
    activities: tuple[Activity, ...]


@dataclass(frozen=True)
class _Rests:
    """How many rests, and the earliest minute of the last."""

    count: int
    last_from: int = 0


def _fewest_rests(work: Work, people: int) -> _Rests:
    """Rests the day needs at least, were it as short as its hands-on minutes allow."""
    rule = jobs.rest()
    least = math.ceil(sum(piece.minutes * min(piece.hands, people) for piece in work.pieces) / people)
    return _Rests(0 if least <= rule.day_over else math.ceil(least / rule.latest) - 1)


def _rested(work: Work, people: int, rests: _Rests, floods: dict[str, int]) -> tuple[_Planned, _Rests]:
    """A plan in which nobody works too long in one stretch: rests are put off, then added, until it is so."""
    rule = jobs.rest()
    while True:
        planned = _plan(work, people, rests, floods)
        end = _end_of_long_stretch(planned.plan, people)
        if end is None or rests.count > MOST_RESTS:
            return planned, rests
        put_off = end - rule.latest - rule.minutes
        reach = rests.count * rule.latest + (rests.count - 1) * rule.minutes
        if rests.count and rests.last_from < put_off <= reach:
            rests = _Rests(rests.count, put_off)
        else:
            rests = _Rests(rests.count + 1)


def _end_of_long_stretch(plan: Plan, people: int) -> int | None:
    """When somebody's longest stretch without a rest ends; None where the day or every stretch is short enough."""
    rule = jobs.rest()
    if plan.finish <= rule.day_over:
        return None
    worst: tuple[int, int] | None = None
    for person in range(people):
        for begin, end in stretches(plan, person):
            if end - begin > rule.latest and (worst is None or end - begin > worst[1] - worst[0]):
                worst = (begin, end)
    return worst[1] if worst else None


def stretches(plan: Plan, person: int) -> list[tuple[int, int]]:
    """When a person works: (begin, end) of stretches between free times that are as long as a rest."""
    busy = sorted(
        (one.start, one.finish)
        for one in plan.placed
        if person in one.people and not one.id.startswith(REST)
    )
    found: list[tuple[int, int]] = []
    for begin, end in busy:
        if found and begin - found[-1][1] < jobs.rest().minutes:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((begin, end))
    return found


def _plan(work: Work, people: int, rests: _Rests, floods: dict[str, int]) -> _Planned:
    """The plan with so many rests, and with pieces that begin at a given minute."""
    rule = jobs.rest()
    activities = [Activity(START, 0, 0)] if rests.count or floods else []
    before = START
    for number in range(1, rests.count + 1):
        after = [Link(before, rule.earliest, rule.latest)]
        if number == rests.count and rests.last_from:
            after.append(Link(START, rests.last_from))
        activities.append(Activity(f"{REST}{number}", rule.minutes, people, tuple(after)))
        before = f"{REST}{number}"
    for activity in work.activities(people):
        minute = floods.get(activity.id)
        links = activity.after if minute is None else (*activity.after, Link(START, minute, minute))
        activities.append(Activity(activity.id, activity.minutes, activity.hands, links, activity.needs))
    return _Planned(plan_day(activities, people, jobs.capacity()), tuple(activities))


def _with_floods(
    work: Work, people: int, rests: _Rests, free: _Planned, piece: Piece, floods: Sequence[int], start: int
) -> _Planned:
    """The plan in which a piece begins with a flood: the first that can be reached."""
    begin = next(one.start for one in free.plan.placed if one.id == piece.id)
    minute = next_flood(floods, start + begin) - start
    told = RangeProblem(f"{piece.id} begins with a flood of the timer, and no flood fits the day")
    for _ in range(FLOODS_TRIED):
        try:
            planned, _unused = _rested(work, people, rests, {piece.id: minute})
        except RangeProblem as problem:
            told = problem
        else:
            if next(one.start for one in planned.plan.placed if one.id == START) == 0:
                return planned
        minute = next_flood(floods, start + minute + 1) - start
    raise told


def earliest_start(activities: Sequence[Activity], id_: str, people: int) -> int:
    """Minutes no plan can beat to the start of an activity: its longest chain, and the hands of all it waits for."""
    own = {activity.id: activity for activity in activities}
    before: set[str] = set()
    waiting = [id_]
    while waiting:
        found = [link.activity for link in own[waiting.pop()].after if link.activity not in before]
        before |= set(found)
        waiting += found
    hands = math.ceil(sum(own[name].minutes * own[name].hands for name in before) / people)
    chain = next(times.earliest_start for times in floats(activities) if times.id == id_)
    return max(hands, chain)
