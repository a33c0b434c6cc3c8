"""A day's plan run on the room: what the clock puts beside each other must leave nothing in which the next, or a rest, hurts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from macros.amounts import Register
from macros.day_plan.rows import done
from macros.day_plan.schedule import PlannedDay
from macros.ground.problems import Problem
from macros.manual.pages.build_page import BuiltPage
from macros.page_model.day_plan import RoomMoment
from macros.rehearsal.model.equipment import Equipment, equipment
from macros.rehearsal.model.finding import Finding
from macros.rehearsal.model.steps import RunStep, steps_of
from macros.rehearsal.pages import Rehearsal, problems_of
from macros.rehearsal.run import Run, run, starts

Timed = tuple[float, RunStep]


def plan_rehearsal(day: PlannedDay, built: Sequence[BuiltPage], register: Register) -> Rehearsal | None:
    """The steps of the plan by their clock, run from each start; None where the system is not known well enough."""
    of = equipment(register, day.work.system)
    timed = steps_by_clock(day, built, register)
    if of is None or not timed:
        return None
    last = day.plan.finish
    ends = [start for start, _ in timed[1:]] + [float(last)]
    steps = [_until(step, end - start) for (start, step), end in zip(timed, ends, strict=True)]
    runs = tuple(run(steps, start, of) for start in starts(None, of))
    found = [*(one for ran in runs for one in ran.findings), *_rests(day, runs, timed, of)]
    findings = tuple({one.same: one for one in found}.values())
    return Rehearsal(day.work.job.id or "plan", day.work.system, of, tuple(steps), runs, findings)


def _until(step: RunStep, minutes: float) -> RunStep:
    """The step with the time to the next step of anybody: its own work first, then a wait."""
    own = max(0.0, min(step.minutes, minutes))
    return replace(step, minutes=own, waits=max(0.0, minutes - own))


def plan_problems(
    days: Sequence[PlannedDay], built: Sequence[BuiltPage], register: Register
) -> list[Problem]:
    """What is refused of a plan for one person or two."""
    problems: list[Problem] = []
    for day in days:
        found = plan_rehearsal(day, built, register)
        if found is not None:
            who = "one person" if day.people == 1 else f"{day.people} persons"
            problems += problems_of(found, register, None, None, f"plan for {who}, ")
    return problems


def steps_by_clock(day: PlannedDay, built: Sequence[BuiltPage], register: Register) -> list[Timed]:
    """Each step of the plan with the minute it begins, in the order of the clock."""
    own = _steps(built, register, day.work.system)
    found: list[Timed] = []
    for one in done(day):
        minute = float(one.start + one.activity.extra)
        for view in one.activity.steps:
            step = own.get((one.activity.page.document, view.id))
            if step is not None:
                found.append((minute, step))
            minute += view.minutes
    return sorted(found, key=lambda timed: timed[0])


def room_moments(day: PlannedDay, built: Sequence[BuiltPage], register: Register) -> tuple[RoomMoment, ...]:
    """How the system stands along the day of the plan, a moment for each step that changes it."""
    found = plan_rehearsal(day, built, register)
    if found is None:
        return ()
    ran, of = found.runs[0], found.of
    states = [
        (0.0, ran.start),
        *zip(
            (start for start, _ in steps_by_clock(day, built, register)),
            (m.after for m in ran.moments),
            strict=True,
        ),
    ]
    moments: list[RoomMoment] = []
    for minute, state in states:
        words = state.words
        level = round(of.level(state.tank.litres) / of.level(of.brim), 3)
        one = RoomMoment(minute, level, state.trays.litres > 0, words["pump"] == "in", words["air"] == "in")
        if not moments or replace(one, minute=0.0) != replace(moments[-1], minute=0.0):
            moments.append(one)
    return tuple(moments)


def _steps(built: Sequence[BuiltPage], register: Register, system: str) -> Mapping[tuple[str, str], RunStep]:
    pages = [page for page in built if page.content.system in ("", system)]
    return {(step.page, step.id): step for page in pages for step in steps_of(page, register, system)}


def _rests(day: PlannedDay, runs: Sequence[Run], timed: Sequence[Timed], of: Equipment) -> Iterator[Finding]:
    """R-12: nobody rests while trays stand full by hand: nobody would end that flood."""
    for rest in day.plan.rests:
        before = [number for number, (start, _) in enumerate(timed) if start <= rest.start]
        for ran in runs if before else ():
            moment = ran.moments[before[-1]]
            if moment.after.trays.litres:
                what = f"a rest begins at {day.clock(rest.start)} while {moment.after.trays.litres:.1f} L stand on the trays"
                yield Finding("R-12", moment.step, what, "Everybody rests only while the trays are drained")
