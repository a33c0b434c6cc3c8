"""The plan of a day: a job's pages for one system, on the clock, for one person and for two."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from macros.amounts import Register
from macros.day_plan.activities_of_steps import work_of
from macros.day_plan.day_lines import PERSONS, day_lines, leaves
from macros.day_plan.earlier import earlier_day
from macros.day_plan.limits import add_limits
from macros.day_plan.persons import person_plans
from macros.day_plan.rows import Done, bars, done, looks, numbers, rows
from macros.day_plan.schedule import PlannedDay, schedule
from macros.day_plan.times import from_midnight, length
from macros.day_plan.work import Work
from macros.ground.problems import Place, Problem, RangeProblem, errors_in
from macros.manual.cautions.page_safety import never_alone
from macros.manual.pages.values_code import digest
from macros.page_model.day_plan import PlanLine, PlanView
from macros.page_model.page import PageView
from macros.published.labour import jobs
from macros.published.labour.jobs import Job

PEOPLE = (1, 2)


def plan_views(
    job: Job, pages: Sequence[PageView], register: Register, system: str, start: str = ""
) -> tuple[tuple[PlanView, ...], list[Problem]]:
    """The plan of a job on one system for one person and for two.

    Parameters
    ----------
    job : of `jobs.job` or `jobs.job_of`
    pages : the finished pages of the manual
    system : its id
    start : `08:00`; empty takes the time in published/jobs.yml, or up to an hour earlier where that ends the day on its day

    Returns
    -------
    The plans, and what is wrong with steps or limits; with an error there is no plan.

    Raises
    ------
    ValueError
        the start is no clock time; a whole sentence.
    """
    days, problems = plan_days(job, pages, register, system, start)
    return views_of(days, register, assumed=not start), problems


def plan_days(
    job: Job,
    pages: Sequence[PageView],
    register: Register,
    system: str,
    start: str = "",
    people: Sequence[int] = PEOPLE,
) -> tuple[list[PlannedDay], list[Problem]]:
    """As `plan_views`, before anything is put into words, for these numbers of people."""
    minute = from_midnight(start or f"{jobs.day_facts().day.starts:%H:%M}")
    work = work_of(job, pages, register, system)
    alarms = tuple(add_limits(work, register, minute))
    problems = list(work.problems)
    if errors_in(problems) or not work.activities:
        return [], problems
    days = []
    for count in people:
        try:
            day = PlannedDay(work, schedule(work, register, count, minute), alarms, count, minute)
            early = earlier_day(day, _from(job, pages, register, system, count), register)
            taken = early is not None and not start  # nobody asked for the later start
            days.append(replace(early, later=day) if taken and early else replace(day, earlier=early))
        except RangeProblem as told:
            problems.append(_no_plan(work, count, str(told)))
    return ([], problems) if errors_in(problems) else (days, problems)


def _from(
    job: Job, pages: Sequence[PageView], register: Register, system: str, people: int
) -> Callable[[int], PlannedDay]:
    """Plans the day of so many people anew from another start."""

    def plan(start: int) -> PlannedDay:
        work = work_of(job, pages, register, system)
        alarms = tuple(add_limits(work, register, start))
        return PlannedDay(work, schedule(work, register, people, start), alarms, people, start)

    return plan


def views_of(days: Sequence[PlannedDay], register: Register, assumed: bool) -> tuple[PlanView, ...]:
    """The days as their sheets show them; `assumed` says that nobody gave the start."""
    return tuple(_view(day, days, register, assumed) for day in days)


def _no_plan(work: Work, people: int, why: str) -> Problem:
    timing = work.activities[0].steps[0].timing
    assert timing is not None
    return Problem(
        Place("macros/published/labour/jobs.yml", 1),
        f"jobs.{work.job.id or 'pages'}",
        f"the day of {work.job.title.lower()}, system {work.system}, cannot be planned for {PERSONS[people]}: {why}",
        "",
        "Mend the times of the steps named, or the order of the job",
    )


def _view(day: PlannedDay, days: Sequence[PlannedDay], register: Register, assumed: bool) -> PlanView:
    house, work = register.house, day.work
    used = {activity.page.key: activity.page for activity in (*work.activities, *work.next_day)}
    call_second = never_alone(house)
    drawn, lanes = bars(day)
    key = f"PLAN-{work.system}-{day.people}"
    base = house.house.site_address
    address = f"sheets/{key.lower()}.html"
    view = PlanView(
        key=key,
        title=work.job.title,
        system=work.system,
        system_name=house.system(work.system).name,
        house_name=house.house.name,
        people=day.people,
        day=register.day.isoformat(),
        start=day.clock(0),
        start_minute=day.start,
        finish=day.clock(day.plan.finish),
        minutes=day.plan.finish,
        finish_text=_finish_text(day),
        people_text=_people_text(day, days),
        rows=rows(day, call_second),
        bars=drawn,
        wait_lanes=lanes,
        alarms=_alarms(day),
        second=_second(day),
        within_call=_open_stock(day) if call_second and day.people == 1 else (),
        safe=_safe(day),
        later=(*_later(day), *_next_day(work)),
        rules=_rules(day, register, assumed),
        notes=tuple(work.notes),
        pages=tuple(f"{page.key} rev {page.control.revision}" for page in used.values()),
        persons=person_plans(day),
        day_lines=day_lines(day, register),
        draft=any(page.control.draft_reasons for page in used.values()),
        public_address=f"{str(base).rstrip('/')}/{address}" if base else address,
    )
    told = {
        name: value for name, value in vars(view).items() if name != "public_address"
    }  # where it lies tells nothing
    return replace(view, values_code=digest(told))


# ------------------------------------------------------------------ totals


def _finish_text(day: PlannedDay) -> str:
    """The finish and how sure it is that none is earlier: proved, or a plan with its gap rounded up."""
    finish = day.clock(day.plan.finish)
    if day.plan.finish <= day.plan.bound:
        return f"Finish {finish}. Proved best: no plan of these steps and breaks ends earlier."
    share = math.ceil(100 * day.plan.gap)
    return f"A plan: finish {finish}. No plan can beat {day.clock(day.plan.bound)} (gap {share} % at most)."


def _people_text(day: PlannedDay, days: Sequence[PlannedDay]) -> str:
    """What another person would change."""
    other = next((one for one in days if one.people != day.people), None)
    if other is None:
        return ""
    hands = _last_hands(day) - _last_hands(other)
    difference = (
        f"{length(abs(hands))} {'earlier' if hands > 0 else 'later'}" if hands else "at the same time"
    )
    what = ""
    if timed := day.work.timed:
        goes_on = any(_last_hands(one) > one.plan.placed[timed.id].start for one in (day, other))
        what = "the last of the other steps " if goes_on else "the last steps before the timer's flood "
    finish = other.clock(other.plan.finish)
    return f"{PERSONS[other.people].capitalize()}: finish {finish}, {what}{difference}. Waits do not shrink with more hands."


def _last_hands(day: PlannedDay) -> int:
    """When the last work ends that is not tied to a flood of the timer."""
    timed = day.work.timed
    ends = [
        one.finish for one in day.plan.plan.placed if one.people and (timed is None or one.id != timed.id)
    ]
    return max(ends, default=0)


# ------------------------------------------------------------------ lines


def _alarms(day: PlannedDay) -> tuple[PlanLine, ...]:
    """When an alarm is set; what must be over at the same minute as one."""
    found: dict[int, list[str]] = {}
    for alarm in day.alarms:
        found.setdefault(day.plan.placed[alarm.first].start + alarm.inside + alarm.most, []).append(
            alarm.words
        )
    return tuple(PlanLine(day.clock(minute), ", ".join(found[minute])) for minute in sorted(found))


def _second(day: PlannedDay) -> tuple[PlanLine, ...]:
    """When one person needs the hands of another: what is never done alone."""
    return tuple(
        PlanLine(
            day.clock(one.start),
            f"needs a second person for {length(one.activity.minutes)}: {one.activity.page.document} "
            f"{numbers(one.activity.steps, {})}, never alone",
        )
        for one in done(day)
        if day.people == 1 and one.activity.hands > 1
    )


def _open_stock(day: PlannedDay) -> tuple[str, ...]:
    """From when stock stands open, each stretch."""
    return tuple(text for one in done(day) if one.activity.hands == 1 for text in _stretches(day, one))


def _stretches(day: PlannedDay, one: Done) -> list[str]:
    """From when stock stands open in an activity; steps right after one another as one stretch."""
    stretches: list[tuple[int, int]] = []
    before = float(one.activity.extra)
    for step in one.activity.steps:
        if step.timing is not None and step.timing.open_stock:
            begin, end = one.start + math.floor(before), one.start + math.ceil(before + step.minutes)
            if stretches and stretches[-1][1] >= begin:
                begin, _ = stretches.pop()
            stretches.append((begin, end))
        before += step.minutes
    return [day.clock(begin) for begin, _ in stretches]


def _safe(day: PlannedDay) -> tuple[PlanLine, ...]:
    """Points at which the whole day may be left."""
    return tuple(
        PlanLine(day.clock(one.minute), f"{one.name}: up to {one.up_to}, {one.step.safe_to_leave.state}")
        for one in leaves(day)
        if one.step.safe_to_leave is not None
    )


def _later(day: PlannedDay) -> tuple[PlanLine, ...]:
    return tuple(
        PlanLine(
            day.clock(minute),
            f"{activity.page.document} step {activity.steps[0].number}: {activity.steps[0].do.rstrip('.')}"
            + (f", {day.clock(latest)} at most" if latest is not None else ""),
        )
        for activity, minute, latest in looks(day)
    )


def _next_day(work: Work) -> tuple[PlanLine, ...]:
    pages: dict[str, int] = {}
    for activity in work.next_day:
        name = f"{activity.page.document} {activity.page.title}"
        pages[name] = pages.get(name, 0) + activity.minutes
    return tuple(PlanLine("next day", f"{name}, about {length(minutes)}") for name, minutes in pages.items())


def _rules(day: PlannedDay, register: Register, assumed: bool) -> tuple[str, ...]:
    """What somebody in the room must know of the plan, a sentence each."""
    found = (
        [f"The start at {day.clock(0)} is assumed; no other was given."] if assumed and not day.later else []
    )
    if day.people > 1 and never_alone(register.house):
        found.append("While one of the two has stock open, the other stays within call.")
    return (*found, *_unrested(day))


def _unrested(day: PlannedDay) -> list[str]:
    """A stretch of work that is too long without a break."""
    if not day.plan.unrested:
        return []
    return [
        f"No plan was found without a stretch of {length(day.plan.unrested)}: whoever works it takes a break at a wait."
    ]
