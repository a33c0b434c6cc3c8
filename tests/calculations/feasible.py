"""Whether a plan can be done, from the meaning of its records alone. Shares no code with what makes plans."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from macros.calculations.scheduler import NetworkActivity, Placed, Plan


def breaches(
    activities: Sequence[NetworkActivity], plan: Plan, people: int, capacity: Mapping[str, int]
) -> list[str]:
    """Everything wrong with the plan, in words; an empty list is a plan that can be done."""
    told = _list_breaches(activities, plan)
    if told:
        return told
    at = {one.id: one for one in plan.placed}
    for activity in activities:
        told += _own_breaches(activity, at, people)
    return told + _sweep(activities, at, people, capacity) + _end_breaches(plan)


def _list_breaches(activities: Sequence[NetworkActivity], plan: Plan) -> list[str]:
    wanted, found = [a.id for a in activities], [one.id for one in plan.placed]
    told = [f"{name} is not in the plan" for name in wanted if name not in found]
    told += [f"{name} is in the plan and is no activity" for name in found if name not in wanted]
    return told + [
        f"{name} is in the plan {found.count(name)} times" for name in wanted if found.count(name) > 1
    ]


def _own_breaches(activity: NetworkActivity, at: Mapping[str, Placed], people: int) -> list[str]:
    here, told = at[activity.id], []
    if not isinstance(here.start, int) or here.start < 0:
        told.append(f"{here.id} starts at {here.start}, no whole minute of the day")
    if here.finish - here.start != activity.minutes:
        told.append(f"{here.id} lasts {here.finish - here.start} minutes, not {activity.minutes}")
    hands = activity.hands if activity.minutes else 0
    if len(set(here.people)) != hands or len(here.people) != hands:
        told.append(f"{here.id} is done by people {here.people}, and takes {hands}")
    if any(not 0 <= who < people for who in here.people):
        told.append(f"{here.id} is done by people {here.people}, and there are {people}")
    if activity.only is not None and hands == 1 and here.people != (activity.only,):
        told.append(f"{here.id} is done by people {here.people}, and is for {activity.only} alone")
    for link in activity.after:
        gap = here.start - at[link.activity].finish
        if gap < link.least:
            told.append(f"{here.id} starts {gap} minutes after {link.activity}, least {link.least}")
        if link.greatest is not None and gap > link.greatest:
            told.append(f"{here.id} starts {gap} minutes after {link.activity}, greatest {link.greatest}")
    return told


def _sweep(
    activities: Sequence[NetworkActivity], at: Mapping[str, Placed], people: int, capacity: Mapping[str, int]
) -> list[str]:
    """Goes through the minutes at which something starts or ends, ends first, and counts who and what is held."""
    events: list[tuple[int, int, NetworkActivity]] = []
    for activity in activities:
        if activity.minutes:
            events += [(at[activity.id].finish, 0, activity), (at[activity.id].start, 1, activity)]
    hands, things, busy = 0, defaultdict[str, int](int), defaultdict[int, int](int)
    told = []
    for minute, begins, activity in sorted(events, key=lambda event: event[:2]):
        step = 1 if begins else -1
        hands += step * activity.hands
        if hands > people:
            told.append(f"at minute {minute} {hands} pairs of hands are in use, and there are {people}")
        for thing in activity.needs:
            things[thing] += step
            if things[thing] > capacity.get(thing, 1):
                told.append(f"at minute {minute} {things[thing]} of {thing} are in use")
        for who in at[activity.id].people:
            busy[who] += step
            if busy[who] > 1:
                told.append(f"at minute {minute} person {who} does {busy[who]} things")
    return told


def _end_breaches(plan: Plan) -> list[str]:
    told = []
    starts = [one.start for one in plan.placed]
    if starts != sorted(starts):
        told.append("the plan is not in the order of its starts")
    last = max((one.finish for one in plan.placed), default=0)
    if plan.finish != last:
        told.append(f"the plan says it ends at {plan.finish}, and its last activity at {last}")
    if plan.bound > plan.finish:
        told.append(f"the plan ends at {plan.finish}, before its bound of {plan.bound}")
    return told
