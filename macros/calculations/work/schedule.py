"""How long a day of tasks takes: one pair of hands, and many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from macros.ground.problems import RangeProblem


@dataclass(frozen=True)
class Task:
    """A stage of the day: hands-on minutes, then a wait that runs by itself."""

    name: str
    hands_on: float
    wait: float
    after: tuple[str, ...] = ()


def one_person(tasks: Sequence[Task]) -> float:
    """Minutes for one person: always the earliest task that may start, ties in the order given; waits overlap work."""
    left = list(_known(tasks))
    done: dict[str, float] = {}
    free = 0.0
    while left:
        ready = [task for task in left if all(name in done for name in task.after)]
        start, task = min(
            ((max([free, *(done[name] for name in task.after)]), task) for task in ready),
            key=lambda found: found[0],
        )
        free = start + task.hands_on
        done[task.name] = free + task.wait
        left.remove(task)
    return max([free, *done.values()])


def critical_path(tasks: Sequence[Task], share: float = 1.0) -> float:
    """Minutes of the longest chain of tasks; hands-on times are multiplied by `share` (0 to 1)."""
    if not 0 < share <= 1:
        raise RangeProblem("the share of two people is above 0, up to 1")
    finish: dict[str, float] = {}
    left = list(_known(tasks))
    while left:
        for task in list(left):
            if all(name in finish for name in task.after):
                start = max([0.0, *(finish[name] for name in task.after)])
                finish[task.name] = start + task.hands_on * share + task.wait
                left.remove(task)
    return max(finish.values())


def _known(tasks: Sequence[Task]) -> Sequence[Task]:
    """The tasks, after a look that every `after` names one and no ring stands in the order."""
    names = {task.name for task in tasks}
    if not tasks:
        raise RangeProblem("there is no task")
    for task in tasks:
        for name in task.after:
            if name not in names:
                raise RangeProblem(f"{task.name} comes after {name}, which is no task")
    done: set[str] = set()
    while len(done) < len(names):
        more = {task.name for task in tasks if task.name not in done and set(task.after) <= done}
        if not more:
            raise RangeProblem(f"{', '.join(sorted(names - done))} wait for one another")
        done |= more
    return tasks
