"""Amounts worked out for one day and used on an earlier one: stock is stronger then, so batches are as well."""

from __future__ import annotations

from datetime import date

from macros.amounts import NotFound, Register, compute_amounts
from macros.amounts.engine.working import Working
from macros.amounts.sanitizer.batches import grams_per_litre, tolerance
from macros.amounts.sanitizer.sanitizing import tasks_of
from macros.ground.problems import Problem
from macros.ground.units import convert
from macros.house.rules.report import problem_at


def stronger_on(register: Register, day: date) -> float:
    """How much stronger the strongest-grown batch is on an earlier day than printed [fraction, 0 and up]."""
    return max((now / then - 1 for then, now in _strengths(register, day).values()), default=0.0)


def too_strong_on(register: Register, day: date) -> list[Problem]:
    """A problem for each batch that would pass its ceiling on an earlier day, half a mark of every tool included."""
    strengths = _strengths(register, day)
    problems = []
    for task in tasks_of(register):
        if task.data.chemical not in strengths:
            continue
        try:
            stock = register.get("stock_for_batch", **task.keys)
            batch = register.get(task.volume_id, **task.keys)
        except NotFound:
            continue
        ceiling = grams_per_litre(
            Working(register, "earlier_day", "Ceiling", "", **task.keys), task.data, "ceiling"
        )
        most = tolerance(register, stock, batch).strongest(strengths[task.data.chemical][1])
        if most > ceiling * (1 + 1e-9):
            what = (
                f"system {task.system.id}: the amounts are worked out for {register.day}; on {day} the stock is "
                f"stronger and {task.name} may come out at {most / 10:.3g} % w/v"
            )
            allowed = f"The ceiling is {task.data.ceiling.written}"
            remedy = f"Write crop_plan.cleanout_day: {day}, so that the amounts are worked out for that day"
            problems.append(problem_at(task.data, "ceiling", what, allowed, remedy, "E08"))
    return problems


def _strengths(register: Register, day: date) -> dict[str, tuple[float, float]]:
    """Chemical -> strength [g/L] on the day of the amounts and on the earlier day; empty where it is no earlier one."""
    if day >= register.day:
        return {}
    earlier = compute_amounts(register.house, day, register.day_place, on_the_day=True)
    found = {}
    for amount in register.of_id("stock_strength_now"):
        for other in earlier.of_id("stock_strength_now", **dict(amount.of)):
            then, now = (convert(one.exact, one.exact_unit, "g/L") for one in (amount, other))
            found[dict(amount.of)["chemical"]] = (then, now)
    return found
