"""The best finish of a day, by the constraint solver CP-SAT of OR-tools (extra `benchmark`)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ortools.sat.python import cp_model

from macros.calculations.scheduler import NetworkActivity


@dataclass(frozen=True)
class Optimum:
    """`finish` of the best plan found (None: no plan), the `bound` proved, and whether the two meet."""

    finish: int | None
    bound: int
    proved: bool


def optimum(
    activities: Sequence[NetworkActivity], people: int, capacity: Mapping[str, int], seconds: float
) -> Optimum:
    """The model is written from the meaning of the records alone; two workers, a fixed seed, a limit of time [s]."""
    horizon = sum(a.minutes + max([0, *(link.least for link in a.after)]) for a in activities)
    model = cp_model.CpModel()
    starts: dict[str, Any] = {a.id: model.new_int_var(0, horizon, a.id) for a in activities}
    ends = {a.id: starts[a.id] + a.minutes for a in activities}
    spans = {
        a.id: model.new_interval_var(starts[a.id], a.minutes, ends[a.id], a.id)
        for a in activities
        if a.minutes
    }
    for a in activities:
        for link in a.after:
            model.add(starts[a.id] >= ends[link.activity] + link.least)
            if link.greatest is not None:
                model.add(starts[a.id] <= ends[link.activity] + link.greatest)
    held = [(spans[a.id], a.hands) for a in activities if a.hands and a.minutes]
    model.add_cumulative([span for span, _ in held], [hands for _, hands in held], people)
    for thing in sorted({need for a in activities for need in a.needs}):
        users = [spans[a.id] for a in activities if thing in a.needs and a.minutes]
        model.add_cumulative(users, [1] * len(users), capacity.get(thing, 1))
    finish = model.new_int_var(0, horizon, "finish")
    model.add_max_equality(finish, list(ends.values()))
    model.minimize(finish)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    solver.parameters.random_seed = 1
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return Optimum(None, 0, True)
    found = round(solver.objective_value) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    return Optimum(found, round(solver.best_objective_bound), status == cp_model.OPTIMAL)
