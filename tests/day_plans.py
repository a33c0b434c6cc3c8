"""Plans of the houses of the tests, worked out once a run; and a look at a plan that knows nothing of how it was made."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

from macros.calculations.scheduler import NetworkActivity, Placed
from macros.day_plan.day_plan import plan_days, views_of
from macros.day_plan.schedule import PlannedDay
from macros.page_model.day_plan import PlanView
from macros.published.labour.jobs import Job, job, job_of
from tests.making import manual_of

SYSTEMS = (("second", "N"), ("fourth", "K"), ("fifth", "K"))


@cache
def cleanout(house: str, system: str) -> tuple[PlannedDay, PlannedDay]:
    """The cleanout of a system for one person and for two, from 08:00."""
    one, two = days_of(house, system, job("cleanout"), "08:00")
    return one, two


@cache
def pages_day(
    house: str, system: str, documents: tuple[str, ...], start: str = "08:00"
) -> tuple[PlannedDay, PlannedDay]:
    """A day of any pages for one person and for two."""
    one, two = days_of(house, system, job_of(documents, "Pages"), start)
    return one, two


def days_of(house: str, system: str, work: Job, start: str) -> list[PlannedDay]:
    """The days of a job in a house that has no problem with it."""
    site = manual_of(house)
    days, problems = plan_days(work, site.views, site.register, system, start)
    assert problems == []
    return days


def view_of(house: str, day: PlannedDay) -> PlanView:
    """A day as its sheet shows it, beside the day of the other number of people."""
    both = cleanout(house, day.work.system) if day.work.job.id == "cleanout" else (day,)
    return views_of(both, manual_of(house).register, assumed=False)[both.index(day)]


def broken(
    activities: Sequence[NetworkActivity], placed: Sequence[Placed], people: int, capacity: Mapping[str, int]
) -> list[str]:
    """What a plan breaks, a sentence each: looked at minute by minute."""
    own = {one.id: one for one in placed}
    told = (
        []
        if sorted(own) == sorted(a.id for a in activities)
        else ["not every activity stands in the plan once"]
    )
    for activity in activities:
        one = own[activity.id]
        if one.finish - one.start != activity.minutes or one.start < 0:
            told.append(f"{one.id} lasts {one.finish - one.start} min, not {activity.minutes}")
        if activity.minutes and len(set(one.people)) != activity.hands:
            told.append(f"{one.id} is done by {one.people}, not by {activity.hands}")
        if any(person not in range(people) for person in one.people):
            told.append(f"{one.id} is done by {one.people} of {people}")
        for link in activity.after:
            gap = one.start - own[link.activity].finish
            if gap < link.least or (link.greatest is not None and gap > link.greatest):
                told.append(
                    f"{one.id} starts {gap} min after {link.activity}: {link.least} to {link.greatest}"
                )
    for minute in range(max((one.finish for one in placed), default=0)):
        running = [a for a in activities if own[a.id].start <= minute < own[a.id].finish]
        persons = [person for a in running for person in own[a.id].people]
        if len(persons) != len(set(persons)):
            told.append(f"somebody does two things at minute {minute}")
        for need in {need for a in running for need in a.needs}:
            users = [a.id for a in running if need in a.needs]
            if len(users) > capacity.get(need, 1):
                told.append(f"{need} is held by {users} at minute {minute}")
    return told
