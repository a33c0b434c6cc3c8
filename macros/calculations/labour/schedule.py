"""How long a day of tasks takes: one pair of hands, and many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from macros.ground.problems import RangeProblem


@dataclass(frozen=True)
class Task:
    """A stage of the day: hands-on minutes, then a wait that runs by itself."""

    name: str
    hands_on: float
    wait: float
    after: tuple[str, ...] = ()


def one_person(tasks: Sequence[Task]) -> float:
    """Time for one person [min]: always the earliest task that may start, ties in the order given; waits overlap
    work.

    tasks: hands-on and wait [min], one at least. Raises RangeProblem for no task, an unknown name after `after` and a
    ring. Source: arithmetic; the order is our own, no source.
    """
    _in_order(tasks)
    left = list(tasks)
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
    """Time of the longest chain of tasks [min].

    tasks: hands-on and wait [min], one at least; share [1] that hands-on times are multiplied by, above 0, up to 1.
    Raises RangeProblem outside these, for an unknown name after `after` and a ring. Source: arithmetic.
    """
    if not 0 < share <= 1:
        raise RangeProblem("the share of two people is above 0, up to 1")
    finish: dict[str, float] = {}
    for task in _in_order(tasks):
        start = max([0.0, *(finish[name] for name in task.after)])
        finish[task.name] = start + task.hands_on * share + task.wait
    return max(finish.values())


def _in_order(tasks: Sequence[Task]) -> list[Task]:
    """The tasks, each after those it waits for; every `after` must name one, and no ring stand in the order."""
    by_name = {task.name: task for task in tasks}
    if not tasks:
        raise RangeProblem("there is no task")
    for task in tasks:
        for name in task.after:
            if name not in by_name:
                raise RangeProblem(f"{task.name} comes after {name}, which is no task")
    try:
        order = TopologicalSorter({task.name: task.after for task in tasks}).static_order()
        return [by_name[name] for name in order]
    except CycleError as ring:
        raise RangeProblem(f"{', '.join(sorted(set(ring.args[1])))} wait for one another") from ring
