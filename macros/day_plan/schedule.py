"""A job's activities on the clock: rests where the day is long, and steps that begin with a flood of the timer."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from macros.amounts import Register
from macros.calculations.scheduler import (
    Link,
    NetworkActivity,
    Placed,
    Plan,
    critical_chain,
    floats,
    plan_day,
)
from macros.day_plan.limits import Alarm, flood_starts, next_flood
from macros.day_plan.times import clock
from macros.day_plan.work import DayActivity, Work
from macros.ground.problems import RangeProblem
from macros.published.labour import jobs

START = "start of the day"
REST = "rest "
FLOODS_TRIED = 3
"""Floods before and after the one a plan reaches by itself; each costs a search."""
MOST_RESTS = 4


@dataclass(frozen=True)
class Schedule:
    """Activities with their minutes from the start of the day. `bound` holds for any flood of the timer.

    `critical` names the longest chains to the end of the day, and to the timer's flood: a minute lost there comes off
    `spare`, the minutes before the flood, and then the day ends later. `unrested` is the longest stretch of work where
    no plan with short ones was found.
    """

    plan: Plan
    network: tuple[NetworkActivity, ...]
    placed: dict[str, Placed]
    rests: tuple[Placed, ...]
    critical: frozenset[str]
    bound: int
    spare: int
    unrested: int = 0

    @property
    def finish(self) -> int:
        """Minutes from the start to the end of the day."""
        return self.plan.finish

    @property
    def gap(self) -> float:
        """How far the finish may lie above the best there is, as a share."""
        return (self.finish - self.bound) / self.bound if self.bound else 0.0


@dataclass(frozen=True)
class PlannedDay:
    """One plan on its way to the sheet.

    `earlier` is the same day begun earlier, where that ends it on its own day; `later` the day as first planned, where
    this one is the earlier.
    """

    work: Work
    plan: Schedule
    alarms: tuple[Alarm, ...]
    people: int
    start: int
    earlier: PlannedDay | None = None
    later: PlannedDay | None = None

    def clock(self, minutes: int) -> str:
        """The clock so many minutes after the start."""
        return clock(self.start, minutes)


def schedule(work: Work, register: Register, people: int, start: int) -> Schedule:
    """Plan the work for one or two people from a start [min from midnight].

    Raises
    ------
    RangeProblem
        the links cannot be kept; a whole sentence.
    """
    floods = flood_starts(register, work.system)
    timed = work.timed if floods else None
    rests = _fewest_rests(work, people)
    while True:
        free = _plan(work, people, rests, {})
        bound, before, chosen = free.plan.bound, free, free
        if timed is not None:
            earliest = next_flood(floods, start + earliest_start(free.network, timed.id, people)) - start
            bound = max(bound, earliest + timed.minutes)
            before, chosen = _with_flood(work, people, rests, free, timed, _Floods(floods, start, earliest))
        stretch = _too_long(chosen.plan, people)
        if stretch is None or rests.count >= MOST_RESTS:
            break
        rests = _more_rest(rests, stretch[1])
    plan = chosen.plan
    return Schedule(
        plan,
        chosen.network,
        {one.id: one for one in plan.placed},
        tuple(one for one in plan.placed if one.id.startswith(REST)),
        frozenset(critical_chain(chosen.network, plan)) | (_chain_to(timed.id, before) if timed else set()),
        min(bound, plan.finish),
        max(0, _start_of(plan, timed.id) - _start_of(before.plan, timed.id)) if timed else 0,
        stretch[1] - stretch[0] if stretch else 0,
    )


def ready_for(work: Work, timed: DayActivity, people: int) -> int:
    """Minutes from the start of a day that does first what leads to the timer's flood, to the moment it may begin."""
    own = work.up_to(timed.id)
    rests = _fewest_rests(own, people)
    return _start_of(_plan(own, people, rests, {}).plan, timed.id)


def _chain_to(last: str, free: _Planned) -> set[str]:
    """The longest chain to the activity that waits for the timer's flood."""
    finish = next(one.finish for one in free.plan.placed if one.id == last)
    placed = tuple(one for one in free.plan.placed if one.finish <= finish)
    names = {one.id for one in placed}
    network = [node for node in free.network if node.id in names]
    return set(critical_chain(network, Plan(placed, finish, min(free.plan.bound, finish))))


def _start_of(plan: Plan, id_: str) -> int:
    return next(one.start for one in plan.placed if one.id == id_)


@dataclass(frozen=True)
class _Planned:
    plan: Plan
    network: tuple[NetworkActivity, ...]


@dataclass(frozen=True)
class _Floods:
    """The timer's floods [min from midnight], the start of the day, and the first flood no plan can beat [min after it]."""

    starts: Sequence[int]
    start: int
    earliest: int

    def first(self, minute: int) -> int:
        """The first flood at or after a minute of the day."""
        return next_flood(self.starts, self.start + minute) - self.start

    def before(self, reached: int) -> list[int]:
        """The last floods before one, none of them earlier than a plan can reach."""
        found = [self.earliest]
        while found[-1] < reached:
            found.append(self.first(found[-1] + 1))
        return found[:-1][-FLOODS_TRIED:]


@dataclass(frozen=True)
class _Rests:
    """How many rests, and the earliest minute of the last."""

    count: int
    last_from: int = 0


def _fewest_rests(work: Work, people: int) -> _Rests:
    """Rests the day needs at least, were it as short as its hands-on minutes allow."""
    rule = jobs.day_facts().day.rest
    least = math.ceil(
        sum(activity.minutes * min(activity.hands, people) for activity in work.activities) / people
    )
    return _Rests(0 if least <= rule.day_over else math.ceil(least / rule.latest) - 1)


def _more_rest(rests: _Rests, end: int) -> _Rests:
    """The last rest later, if a stretch that ends at this minute is then short enough; else one rest more."""
    rule = jobs.day_facts().day.rest
    put_off = end - rule.latest - rule.minutes
    reach = rests.count * rule.latest + (rests.count - 1) * rule.minutes
    if rests.count and rests.last_from < put_off <= reach:
        return _Rests(rests.count, put_off)
    return _Rests(rests.count + 1)


def _too_long(plan: Plan, people: int) -> tuple[int, int] | None:
    """Somebody's longest stretch without a rest (begin, end); None where the day or every stretch is short enough."""
    rule = jobs.day_facts().day.rest
    if plan.finish <= rule.day_over:
        return None
    found = [one for person in range(people) for one in stretches(plan, person)]
    worst = max(found, key=lambda one: one[1] - one[0], default=(0, 0))
    return worst if worst[1] - worst[0] > rule.latest else None


def stretches(plan: Plan, person: int) -> list[tuple[int, int]]:
    """When a person works: (begin, end) of stretches between free times that are as long as a rest."""
    busy = sorted(
        (one.start, one.finish) for one in plan.placed if person in one.people and not one.id.startswith(REST)
    )
    found: list[tuple[int, int]] = []
    for begin, end in busy:
        if found and begin - found[-1][1] < jobs.day_facts().day.rest.minutes:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((begin, end))
    return found


def _plan(work: Work, people: int, rests: _Rests, begins: dict[str, tuple[int, int]]) -> _Planned:
    """The plan with so many rests, and with activities that begin between two minutes."""
    rule = jobs.day_facts().day.rest
    begun = bool(rests.count or begins)
    network = [NetworkActivity(START, 0, 0)] if begun else []
    before = START
    for number in range(1, rests.count + 1):
        after = [Link(before, rule.earliest, rule.latest)]
        if number == rests.count and rests.last_from:
            after.append(Link(START, rests.last_from))
        network.append(NetworkActivity(f"{REST}{number}", rule.minutes, people, tuple(after)))
        before = f"{REST}{number}"
    for node in work.network(people):
        links = node.after or ((Link(START),) if begun else ())
        if node.id in begins:
            links = (*links, Link(START, *begins[node.id]))
        network.append(replace(node, after=links))
    return _Planned(_from_start(plan_day(network, people, jobs.day_facts().capacity)), tuple(network))


def _from_start(plan: Plan) -> Plan:
    """The plan with the start of the day at minute 0: all hangs on it, so all moves together."""
    late = next((one.start for one in plan.placed if one.id == START), 0)
    if not late:
        return plan
    placed = tuple(replace(one, start=one.start - late, finish=one.finish - late) for one in plan.placed)
    return Plan(placed, plan.finish - late, min(plan.bound, plan.finish - late))


def _with_flood(
    work: Work, people: int, rests: _Rests, free: _Planned, activity: DayActivity, floods: _Floods
) -> tuple[_Planned, _Planned]:
    """The plan without the flood, and the plan in which an activity begins with one: the first that can be reached.

    A plan that knows of no flood may put first what could wait, and so miss one; the floods before its own are
    tried as well.
    """
    reached = floods.first(_start_of(free.plan, activity.id))
    for minute in floods.before(reached):
        try:
            in_time = _plan(work, people, rests, {activity.id: (0, minute)})
            begun = _begun_at(work, people, rests, in_time, activity, minute)
        except RangeProblem:
            continue
        if (
            begun.plan.finish <= reached + activity.minutes
        ):  # the end of any plan with the later flood, at least
            return in_time, begun
    told = RangeProblem(f"{activity.id} begins with a flood of the timer, and no flood fits the day")
    for _ in range(FLOODS_TRIED):
        try:
            return free, _begun_at(work, people, rests, free, activity, reached)
        except RangeProblem as problem:
            told = problem
        reached = floods.first(reached + 1)
    raise told


def _begun_at(
    work: Work, people: int, rests: _Rests, free: _Planned, activity: DayActivity, minute: int
) -> _Planned:
    """The plan in which an activity begins at a minute: it alone put off, if that keeps everything, else all planned anew."""
    one = next(one for one in free.plan.placed if one.id == activity.id)
    moved = replace(one, start=minute, finish=minute + activity.minutes)
    if _is_waited_for(free, activity) or _is_taken(free, moved) or _is_too_late(free, moved):
        return _plan(work, people, rests, {activity.id: (minute, minute)})
    return _put_off(free, moved)


def _put_off(free: _Planned, moved: Placed) -> _Planned:
    placed = [moved if one.id == moved.id else one for one in free.plan.placed]
    at = Link(START, moved.start, moved.start)
    network = [replace(one, after=(*one.after, at)) if one.id == moved.id else one for one in free.network]
    if all(one.id != START for one in network):
        network.insert(0, NetworkActivity(START, 0, 0))
        placed.insert(0, Placed(START, 0, 0))
    finish = max(one.finish for one in placed)
    ordered = tuple(sorted(placed, key=lambda one: one.start))
    return _Planned(Plan(ordered, finish, min(free.plan.bound, finish)), tuple(network))


def _is_waited_for(free: _Planned, activity: DayActivity) -> bool:
    return any(link.activity == activity.id for one in free.network for link in one.after)


def _is_taken(free: _Planned, moved: Placed) -> bool:
    """Whether its people or things are held by something else then."""
    needs = {one.id: set(one.needs) for one in free.network}
    return any(
        set(one.people) & set(moved.people) or needs[one.id] & needs[moved.id]
        for one in free.plan.placed
        if one.id != moved.id and one.start < moved.finish and one.finish > moved.start
    )


def _is_too_late(free: _Planned, moved: Placed) -> bool:
    """Whether a greatest gap before it is over."""
    finish = {one.id: one.finish for one in free.plan.placed}
    links = next(one.after for one in free.network if one.id == moved.id)
    return any(
        link.greatest is not None and moved.start > finish[link.activity] + link.greatest for link in links
    )


def earliest_start(network: Sequence[NetworkActivity], id_: str, people: int) -> int:
    """Minutes no plan can beat to the start of an activity: its longest chain; the hands of all it waits for, with rests."""
    own = {node.id: node for node in network}
    before: set[str] = set()
    waiting = [id_]
    while waiting:
        found = [link.activity for link in own[waiting.pop()].after if link.activity not in before]
        before |= set(found)
        waiting += found
    work = sum(own[name].minutes * own[name].hands for name in before if not name.startswith(REST))
    hands = math.ceil(work / people)
    chain = next(times.earliest_start for times in floats(network) if times.id == id_)
    rule = jobs.day_facts().day.rest
    rests = max(0, math.ceil(hands / rule.latest) - 1) if hands > rule.day_over else 0
    return max(hands + rests * rule.minutes, chain)
