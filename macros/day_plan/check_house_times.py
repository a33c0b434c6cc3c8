"""W11: the house's own times of a cleanout against the minutes and waits of the steps."""

from __future__ import annotations

from collections.abc import Sequence

from macros.amounts import Register
from macros.day_plan.activities_of_steps import work_of
from macros.day_plan.work import Work
from macros.ground.problems import Problem
from macros.house.records.people import CleanoutTask
from macros.page_model.page import PageView
from macros.published.labour import jobs

SHARE = 0.25
"""How far a stage may be off, as a share of the house's own time."""
MINUTES = 5
"""A smaller difference is none [min]: the house writes its times in steps of five."""


def stage_times(work: Work) -> dict[str, dict[str, int]]:
    """The minutes of each stage of the job, next day included, with hands and waiting, in the order of its pages."""
    found = {stage: {"hands_on": 0, "wait": 0} for stage in work.job.stages}
    for activity in (*work.activities, *work.next_day):
        if activity.part.stage in found:
            found[activity.part.stage]["hands_on" if activity.hands else "wait"] += activity.minutes
    return found


def check_stages(pages: Sequence[PageView], register: Register) -> list[Problem]:
    """Problems of the steps a day's plan meets, and a warning for each stage that is off on a system.

    A stage the job does not know cannot be compared; the sheet of the plan says so.
    """
    problems: list[Problem] = []
    for system in register.house.systems:
        work = work_of(jobs.job("cleanout"), pages, register, system.id)
        problems += work.problems
        times = stage_times(work)
        for task in register.house.cleanout_tasks:
            if any(times.get(task.id, {}).values()):
                problems += _compared(task, times[task.id], system.id)
    return problems


def _compared(task: CleanoutTask, by_steps: dict[str, int], system: str) -> list[Problem]:
    problems = []
    for field, minutes in by_steps.items():
        own = getattr(task, field).to("min")
        off = abs(minutes - own)
        if off > SHARE * own and off > MINUTES:
            kind = "hands-on" if field == "hands_on" else "waiting"
            problems.append(
                Problem(
                    task.place(field),
                    task.key(field),
                    f"the steps of stage {task.id} on system {system} take {minutes} min {kind}, here it is {own:g} min",
                    f"At most {100 * SHARE:.0f} % apart",
                    "Time the next cleanout and write what it took here, or mend the minutes of the steps",
                    "W11",
                    "warning",
                )
            )
    return problems
