"""How long a cleanout takes one person and two, and what training takes."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.calculations.labour import schedule

TOPIC = "Time"
SHARE = 0.60
"""Hands-on time of two people over that of one: our own default, no source."""


def fill(register: Register) -> None:
    """Enter the times of a cleanout and of training."""
    house = register.house
    if house.cleanout_tasks:
        first = house.cleanout_tasks[0]
        with register.attempt("cleanout_time_1", first, "hands_on"):
            _one(register)
        with register.attempt("cleanout_time_2", first, "hands_on"):
            _two(register)
    if house.training is not None:
        with register.attempt("training_hours", house.training, "modules"):
            _training(register)


def stages_of(w: Working) -> list[schedule.Task]:
    """The stages of the day itself; what is done the day after is left out."""
    tasks = [task for task in w.register.house.cleanout_tasks if not task.next_day]
    names = {task.id for task in tasks}
    return [
        schedule.Task(
            task.id,
            w.fact(task, "hands_on", "min"),
            w.fact(task, "wait", "min"),
            tuple(
                name
                for name in task.after
                if name in names or all(t.id != name for t in w.register.house.cleanout_tasks)
            ),
        )
        for task in tasks
    ]


def _one(register: Register) -> None:
    w = Working(register, "cleanout_time_1", "Cleanout, one person", TOPIC)
    tasks = stages_of(w)
    minutes = schedule.one_person(tasks)
    hands = sum(task.hands_on for task in tasks)
    w.add_line(
        f"{brief(hands)} min of work + {brief(minutes - hands)} min of waits that no other stage fills = {brief(minutes)} min"
    )
    w.add_line(
        "stock is open while a batch is made: a second person stays within call in the one-person plan too"
    )
    labour = register.house.labour
    if labour is not None and labour.longest_shift is not None:
        longest = w.fact(labour, "longest_shift", "min")
        if minutes > longest:
            what = f"a cleanout takes one person {brief(minutes)} min"
            allowed = f"A shift lasts {brief(longest)} min at most"
            remedy = "Work with two people, or end at a safe-to-leave point: clean, dry, covered trays"
            register.report_problem(labour, "longest_shift", what, allowed, remedy, "", "warning")
    w.number(minutes, "min", "up", "a time is rounded up", step=5.0)


def _two(register: Register) -> None:
    w = Working(register, "cleanout_time_2", "Cleanout, two people", TOPIC)
    labour = register.house.labour
    assumed = f"two people take {SHARE:g} of the hands-on time (our own default)"
    share = w.fact_or(labour, "two_people_share", "", SHARE, assumed)
    one = w.amount("cleanout_time_1")
    minutes = schedule.critical_path(stages_of(w), share)
    w.add_line(f"the longest chain of stages, hands-on times x {brief(share)}: {brief(minutes)} min")
    w.add_line(f"a second person saves {brief(one - minutes)} min of clock: waits do not shrink")
    w.number(minutes, "min", "up", "a time is rounded up", step=1.0)


def _training(register: Register) -> None:
    w = Working(register, "training_hours", "Training of a helper", TOPIC)
    training = register.house.training
    assert training is not None
    modules = [w.fact(training, f"modules.{name}", "h") for name in training.modules]
    runs = w.fact(training, "trainee_shadow_runs")
    cleanout = w.amount("cleanout_time_1") / 60
    hours = sum(modules) + runs * cleanout
    w.add_line(
        f"{brief(sum(modules))} h of modules + {brief(runs)} shadow runs x {brief(cleanout)} h = {brief(hours)} h"
    )
    w.number(hours, "h", "up", "a time is rounded up", step=0.1)
