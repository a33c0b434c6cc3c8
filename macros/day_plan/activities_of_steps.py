"""The steps of a job's pages as activities of work and waits, with what must come before what."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from functools import cache
from typing import Any

from macros.amounts import NotFound, Register
from macros.day_plan.times import wait_of
from macros.day_plan.who import kept_from_b
from macros.day_plan.work import ActivityKind, DayActivity, Work, step_name
from macros.ground.problems import Problem
from macros.manual.checklists.day_list import is_named
from macros.manual.procedures.expand_steps import planned_varieties
from macros.page_model.page import PageView, StepView
from macros.published.labour import jobs
from macros.published.labour.jobs import Job, JobPage, Part


def work_of(job: Job, pages: Sequence[PageView], register: Register, system: str) -> Work:
    """The work of a job on one system, from its finished pages. Problems stand in the result."""
    own = {page.document: page for page in pages if page.system in ("", system)}
    work = Work(job, system, for_a=kept_from_b(list(own.values()), register))
    ends: dict[str, list[str]] = {}
    for entry in job.pages:
        page = own.get(entry.document)
        if page is None or (entry.when and not pens_due(register)):
            ends |= {part.id: [] for part in entry.parts}
            continue
        _PageWork(work, entry, page, register).add(ends)
    _order_parts(work, ends)
    return work


def pens_due(register: Register) -> list[str]:
    """The pens that no reading of the day may rest on: out of calibration, or nobody knows since when."""
    return [
        meter.name
        for meter in register.house.meters
        if meter.last is None or meter.last + timedelta(days=meter.calibrate_every.to("day")) < register.day
    ]


class _PageWork:
    """One page in the making."""

    def __init__(self, work: Work, entry: JobPage, page: PageView, register: Register) -> None:
        self.work, self.entry, self.page, self.register = work, entry, page, register
        self.waiting: list[tuple[str, int | None]] = []

    def add(self, ends: dict[str, list[str]]) -> None:
        """Enter the page's activities; `ends` gets the last activities of each of its parts."""
        by_part = self._steps_of_parts()
        for part in self.entry.parts:
            ends[part.id] = self._part(part, by_part[part.id]) if by_part[part.id] else []

    def _steps_of_parts(self) -> dict[str, list[StepView]]:
        parts = self.entry.parts
        found: dict[str, list[StepView]] = {part.id: [] for part in parts}
        dropped = self._left_out() | self._either()
        current = parts[0]
        for step in self.page.steps:
            assert step.timing is not None
            task = dict(step.timing.keys).get("task", "")
            current = next(
                (
                    part
                    for part in parts
                    if (not part.steps or step.timing.step in part.steps) and part.task in ("", task)
                ),
                current,
            )
            if step.id not in dropped:
                found[current.id].append(step)
        return found

    def _left_out(self) -> set[str]:
        """Steps the job leaves out, each told with its reason; one that is critical or held is a problem."""
        reasons = self.entry.left_out
        dropped: set[str] = set()
        for step in self.page.steps:
            assert step.timing is not None
            reason = reasons.get(step.timing.step)
            if reason is None:
                continue
            if step.critical or step.hold:
                self.work.problems.append(
                    Problem(
                        step.timing.place,
                        f"steps[{step.timing.step}]",
                        f"step {step.number} of {self.page.key} is left out of the {self.work.job.title.lower()}, "
                        "and the page calls it critical",
                        "A critical or held step is never left out of a day",
                        "Take it out of leave_out in macros/published/labour/jobs.yml, or ask whether it is critical",
                    )
                )
                continue
            dropped.add(step.id)
            self.work.notes.append(f"{self.page.document} step {step.number} is left out: {reason}.")
        return dropped

    def _either(self) -> set[str]:
        """Of steps that exclude each other the longest stays."""
        dropped: set[str] = set()
        for group in jobs.rules().either:
            found = [step for step in self.page.steps if any(is_named(self.page, step, one) for one in group)]
            if len(found) > 1:
                longest = max(found, key=lambda step: step.minutes)
                dropped |= {step.id for step in found if step is not longest}
                self.work.instead[longest.id] = tuple(s.number for s in found if s is not longest)
                numbers = " or ".join(str(step.number) for step in found)
                self.work.notes.append(
                    f"{self.page.document}: of steps {numbers} one is counted, the longer: {longest.minutes:g} min."
                )
        return dropped

    # ------------------------------------------------------------- parts

    def _part(self, part: Part, steps: list[StepView]) -> list[str]:
        last: list[str] = []
        for number, label in enumerate(self._rounds(part), start=1):
            runs = _runs(self.page, steps, part.together)
            activities = [
                self._activity(part, run, number, label, first=index == 0) for index, run in enumerate(runs)
            ]
            if part.later:
                self._later(activities)
                continue
            if self.entry.next_day:
                self.work.next_day += activities
                continue
            last = self._enter(activities, last)
        return last

    def _rounds(self, part: Part) -> list[str]:
        """The label of each time the part is done."""
        if part.each == "variety":
            names = planned_varieties(self.register.house, self.work.system)
            return [name.replace("_", " ") for name in names] or [""]
        if part.each == "soak_loads":
            try:
                loads = self.register.get("soak_loads", system=self.work.system, task="parts_soak").rounded
            except NotFound:
                return [""]
            return [""] if loads <= 1 else [f"load {number}" for number in range(1, int(loads) + 1)]
        return [""]

    def _activity(
        self, part: Part, steps: list[StepView], number: int, label: str, first: bool
    ) -> DayActivity:
        extras = [jobs.day_facts().extras[name] for name in part.extra] if first and number == 1 else []
        extra = sum(one.minutes for one in extras)
        exact = _whole_minutes(steps)
        return DayActivity(
            id=f"{self.page.document}/{steps[0].id}" + (f"#{number}" if number > 1 else ""),
            part=part,
            page=self.page,
            steps=tuple(steps),
            minutes=extra + min(jobs.rules().by_itself.get(step_name(self.page, steps[0]), exact), exact),
            hands=2 if any(s.timing and s.timing.two_people for s in steps) else steps[0].hands,
            needs=tuple(dict.fromkeys((*_needs(steps), *_measures(steps)))),
            words=", ".join(one.words for one in extras),
            extra=extra,
            label=label,
        )

    def _enter(self, activities: list[DayActivity], last: list[str]) -> list[str]:
        """Enter the activities of one round in order, each after the one before; gives what ends the round."""
        begins: dict[str, list[str]] = {}
        for activity in activities:
            own_after = self._own_after(activity, begins)
            for id_ in last if own_after is None else own_after:
                self.work.link(activity.id, id_)
            during = self._during(activity)
            if not during:
                for id_, greatest in self.waiting:
                    self.work.link(activity.id, id_, 0, greatest)
                self.waiting = []
            self.work.activities.append(activity)
            ends = [activity.id, *self._after_it(activity)]
            last = [*last, *ends] if during else ends
            begins |= {step.id: ends for step in activity.steps}
        return last

    def _own_after(self, activity: DayActivity, begins: dict[str, list[str]]) -> list[str] | None:
        """What the first step says it waits for itself; None where it says nothing or nothing of this round."""
        named = [begins[name] for name in activity.steps[0].after if name in begins]
        return [id_ for ids in named for id_ in ids] if named else None

    def _during(self, activity: DayActivity) -> bool:
        """Whether the activity is done inside the wait before it; then it is linked into that wait."""
        share = jobs.rules().during.get(step_name(self.page, activity.steps[0]))
        if share is None or not self.waiting:
            return False
        wait = next(one for one in self.work.activities if one.id == self.waiting[0][0])
        source = wait.id.rpartition("+")[0]
        links = self.work.links.setdefault(activity.id, [])
        links[:] = [link for link in links if link.activity != wait.id and link.activity != source]
        self.work.link(activity.id, source, math.ceil(share * wait.minutes), wait.minutes)
        return True

    def _after_it(self, activity: DayActivity) -> list[str]:
        """Enter what follows an activity by itself: its wait, what runs on without hands, and looks inside the wait."""
        step = activity.steps[-1]
        name = step_name(self.page, step)
        runs_on = _whole_minutes(activity.steps) - (activity.minutes - activity.extra)
        entered = []
        if name in jobs.rules().by_itself and runs_on > 0:
            entered.append(self._by_itself(activity, "runs", activity.steps, runs_on, activity.needs))
        if step.wait is None:
            return entered
        assert step.timing is not None
        read = wait_of(name, step.wait, step.timing)
        if isinstance(read, Problem):
            self.work.problems.append(read)
            return entered
        least, greatest = read
        needs = tuple(need for need in activity.needs if need in jobs.day_facts().vessels)
        wait = self._by_itself(activity, "wait", (step,), least, needs)
        self.waiting.append((wait, None if greatest is None else greatest - least))
        return [*entered, wait, *self._again(activity, step, least)]

    def _by_itself(
        self,
        activity: DayActivity,
        kind: ActivityKind,
        steps: tuple[StepView, ...],
        minutes: int,
        needs: tuple[str, ...],
    ) -> str:
        """Enter what needs no hands right behind an activity."""
        own = self._with_activity(
            activity, f"+{kind}", kind, steps=steps, minutes=minutes, needs=needs, hands=0
        )
        self.work.link(own.id, activity.id, 0, 0)
        return own.id

    def _with_activity(
        self, activity: DayActivity, suffix: str, kind: ActivityKind, **values: Any
    ) -> DayActivity:
        own = replace(activity, id=activity.id + suffix, kind=kind, words="", extra=0, **values)
        self.work.activities.append(own)
        return own

    def _again(self, activity: DayActivity, step: StepView, least: int) -> list[str]:
        """The step done again inside its own wait, each time so long after the start of the time before."""
        rule = jobs.rules().again.get(step_name(self.page, step))
        if rule is None:
            return []
        before, minutes = activity.id, rule.minutes or math.ceil(step.minutes)
        needs = tuple(need for need in activity.needs if need not in jobs.day_facts().vessels)
        for number in range(1, math.ceil(least / rule.every)):
            again = self._with_activity(
                activity, f"+again {number}", "again", steps=(step,), minutes=minutes, needs=needs
            )
            gap = max(0, rule.every - minutes)
            self.work.link(again.id, before, gap, gap)
            before = again.id
        return [before] if before != activity.id else []

    def _later(self, activities: list[DayActivity]) -> None:
        """A look hours later: it hangs on the wait before it and is no part of the day's work."""
        for id_, room in self.waiting[:1]:
            wait = next(one for one in self.work.activities if one.id == id_)
            self.work.activities.remove(wait)
            anchor = self.work.links.pop(id_)[0].activity
            greatest = None if room is None else wait.minutes + room
            self.work.later += [(activity, anchor, wait.minutes, greatest) for activity in activities]
        self.waiting = []


def _runs(page: PageView, steps: Sequence[StepView], together: bool) -> list[list[StepView]]:
    """Steps cut into runs: at waits, where hands or things change, and where a run grows too long."""
    runs: list[list[StepView]] = []
    for step in steps:
        if not runs or _begins(page, runs[-1], step, together):
            runs.append([])
        runs[-1].append(step)
    return runs


def _begins(page: PageView, run: list[StepView], step: StepView, together: bool) -> bool:
    """Whether a step begins a new run."""
    last = run[-1]
    assert last.timing is not None
    assert step.timing is not None
    if (
        last.wait is not None
        or step.after
        or not _alone().isdisjoint(step_name(page, s) for s in (last, step))
    ):
        return True
    if (last.hands, last.timing.two_people) != (step.hands, step.timing.two_people):
        return True
    return not together and _may_be_cut(run, step)


def _may_be_cut(run: list[StepView], step: StepView) -> bool:
    """Whether a run of steps that need not stay together ends before this one."""
    minutes = sum(one.minutes for one in run) + step.minutes
    return (
        run[-1].safe_to_leave is not None
        or _needs(run[-1:]) != _needs([step])
        or minutes > jobs.day_facts().longest_piece
    )


def _whole_minutes(steps: Sequence[StepView]) -> int:
    return math.ceil(sum(step.minutes for step in steps) - 1e-9)


@cache
def _alone() -> frozenset[str]:
    """Steps that are a run of their own."""
    rules = jobs.rules()
    return frozenset((*rules.during, *rules.by_itself, *rules.again, *rules.timer))


def _needs(steps: Sequence[StepView]) -> tuple[str, ...]:
    """Places and shared tools the steps hold, each once, in their order."""
    shared = set(jobs.day_facts().shared_tools)
    found = [name for step in steps for name in (step.where, *(t for t in step.tools if t in shared)) if name]
    return tuple(dict.fromkeys(found))


def _measures(steps: Sequence[StepView]) -> Iterator[str]:
    """The measures that the steps fill: a run that rinses them holds them until then."""
    return (tool for step in steps if step.timing is not None for tool in step.timing.measures)


def _order_parts(work: Work, ends: dict[str, list[str]]) -> None:
    """Put the first activity of each part after the parts it names; an empty part hands on what it came after itself."""
    parts = {part.id: part for page in work.job.pages for part in page.parts}

    def ends_of(name: str, seen: tuple[str, ...] = ()) -> list[str]:
        if ends.get(name) or name in seen or name not in parts:
            return ends.get(name, [])
        return [id_ for before in parts[name].after for id_ in ends_of(before, (*seen, name))]

    _first_activities(work, lambda activity: [id_ for name in activity.part.after for id_ in ends_of(name)])


def _first_activities(work: Work, before: Callable[[DayActivity], list[str]]) -> None:
    seen: set[str] = set()
    known = {activity.id for activity in work.activities}
    for activity in work.activities:
        if activity.kind == "work" and activity.part.id not in seen:
            seen.add(activity.part.id)
            for id_ in dict.fromkeys(before(activity)):
                if id_ in known and all(link.activity != id_ for link in work.links.get(activity.id, ())):
                    work.link(activity.id, id_)
