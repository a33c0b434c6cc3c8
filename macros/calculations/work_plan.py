"""A day's work for one or two people: what is done when, by whom, so that nobody and nothing is in two places."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from macros.problems import RangeProblem


@dataclass(frozen=True)
class Link:
    """This activity starts at least `least` minutes after `activity` ended, and at most `greatest` (None: no limit)."""

    activity: str
    least: int = 0
    greatest: int | None = None


@dataclass(frozen=True)
class Activity:
    """Something that takes whole minutes. `hands` people are held for all of it; 0 is a wait that runs by itself.

    `needs` are things (a tool, a place) it holds while it runs; how many of each there are stands in the plan's
    `capacity`, one where it says nothing.
    """

    id: str
    minutes: int
    hands: int = 1
    after: tuple[Link, ...] = ()
    needs: tuple[str, ...] = ()


@dataclass(frozen=True)
class Placed:
    """An activity with its clock: minutes from the start of the day, and which people (0, 1) do it."""

    id: str
    start: int
    finish: int
    people: tuple[int, ...] = ()


@dataclass(frozen=True)
class Plan:
    """Every activity once, in the order of their starts; `finish` of the whole, and a bound no plan can beat."""

    placed: tuple[Placed, ...]
    finish: int
    bound: int

    @property
    def gap(self) -> float:
        """How far the finish may lie above the best there is, as a share of the bound; 0 means proved best."""
        return (self.finish - self.bound) / self.bound if self.bound else 0.0


@dataclass(frozen=True)
class Times:
    """The earliest start of an activity by its links alone [min]."""

    id: str
    earliest_start: int


def plan_day(activities: Sequence[Activity], people: int, capacity: Mapping[str, int]) -> Plan:
    """A plain plan: each activity as soon as its people and things are free, the first in the list first.

    Where a greatest gap is missed, what stands before it is put off and the list is placed again.

    Raises
    ------
    RangeProblem
        more hands than people, or gaps that this way of planning cannot keep.
    """
    for activity in activities:
        if activity.hands > people:
            raise RangeProblem(
                f"{activity.id} is done by {activity.hands} people, and the plan is for {people}"
            )
    release: dict[str, int] = {}
    for _ in range(2000):
        placed, missed = _place(activities, people, capacity, release)
        if missed is None:
            finish = max((one.finish for one in placed), default=0)
            hands = -(-sum(activity.minutes * activity.hands for activity in activities) // max(1, people))
            chain = max(
                (t.earliest_start + a.minutes for t, a in zip(floats(activities), activities, strict=True)),
                default=0,
            )
            return Plan(
                tuple(sorted(placed, key=lambda one: one.start)), finish, min(finish, max(hands, chain))
            )
        name, minute = missed
        if minute > 7 * 24 * 60:
            break
        release[name] = minute
    raise RangeProblem("the greatest gaps between the activities cannot all be kept")


def floats(activities: Sequence[Activity]) -> tuple[Times, ...]:
    """Earliest starts with people and things without limit."""
    own = {activity.id: activity for activity in activities}
    start = dict.fromkeys(own, 0)
    for _ in activities:
        for activity in activities:
            for link in activity.after:
                start[activity.id] = max(
                    start[activity.id], start[link.activity] + own[link.activity].minutes + link.least
                )
    return tuple(Times(name, minute) for name, minute in start.items())


def critical_chain(activities: Sequence[Activity], plan: Plan) -> tuple[str, ...]:
    """From the end of the day backwards: what each waited for, its link, its people or its things."""
    own = {activity.id: activity for activity in activities}
    at = {one.id: one for one in plan.placed}
    now: Placed | None = next((one for one in plan.placed if one.finish == plan.finish), None)
    chain: list[str] = []
    while now is not None and now.id not in chain:
        chain.append(now.id)
        now = _waited_for(now, own, at)
    return tuple(reversed(chain))


def _waited_for(one: Placed, own: Mapping[str, Activity], at: Mapping[str, Placed]) -> Placed | None:
    for link in own[one.id].after:
        if at[link.activity].finish + link.least == one.start and at[link.activity] is not one:
            return at[link.activity]
    for other in at.values():
        shared = set(other.people) & set(one.people) or set(own[other.id].needs) & set(own[one.id].needs)
        if other.finish == one.start and other.start < other.finish and other is not one and shared:
            return other
    return None


def _place(
    activities: Sequence[Activity], people: int, capacity: Mapping[str, int], release: Mapping[str, int]
) -> tuple[list[Placed], tuple[str, int] | None]:
    """Each activity at its earliest minute; or what must be put off to which minute, for a gap that was missed."""
    at: dict[str, Placed] = {}
    own = {activity.id: activity for activity in activities}
    left = list(activities)
    while left:
        ready = [a for a in left if all(link.activity in at for link in a.after)]
        if not ready:
            raise RangeProblem(f"{', '.join(a.id for a in left)} wait for one another")
        found = [(_free_from(a, own, at, people, capacity, release), a) for a in ready]
        (start, who), activity = min(found, key=lambda entry: entry[0][0])
        for link in activity.after:
            before = at[link.activity]
            if link.greatest is not None and start > before.finish + link.greatest:
                return [], (before.id, before.start + start - before.finish - link.greatest)
        at[activity.id] = Placed(activity.id, start, start + activity.minutes, who)
        left.remove(activity)
    return list(at.values()), None


def _free_from(
    activity: Activity,
    own: Mapping[str, Activity],
    at: Mapping[str, Placed],
    people: int,
    capacity: Mapping[str, int],
    release: Mapping[str, int],
) -> tuple[int, tuple[int, ...]]:
    """The first minute its people and things are free for all of it, and which people."""
    start = max(
        [release.get(activity.id, 0), *(at[link.activity].finish + link.least for link in activity.after)]
    )
    while True:
        end = start + activity.minutes
        at_once = [one for one in at.values() if one.start < end and one.finish > start]
        free = [person for person in range(people) if all(person not in one.people for one in at_once)]
        full = [
            one
            for need in activity.needs
            for one in at_once
            if need in own[one.id].needs
            and sum(need in own[other.id].needs for other in at_once) >= capacity.get(need, 1)
        ]
        if not activity.minutes or (len(free) >= activity.hands and not full):
            return start, tuple(free[: activity.hands]) if activity.minutes else ()
        start = min(one.finish for one in at_once)
