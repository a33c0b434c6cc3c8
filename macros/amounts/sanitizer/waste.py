"""Q19, Q87, Q88: what makes a used batch safe to drain, and the waste water of a cleanout."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.sanitizer.batches import Task, grams_per_litre, kind_of_stock
from macros.amounts.sanitizer.rinsing import RINSES, TOPIC, give_water
from macros.amounts.sanitizer.sanitizing import tasks_of
from macros.amounts.water import left_behind
from macros.calculations.feed import feeding
from macros.calculations.sanitizer import batches
from macros.ground.units import convert
from macros.house.records.systems import System


def fill(register: Register) -> None:
    """Enter what each used batch needs before the drain, and the waste water of every system."""
    sanitizing = register.house.sanitizing
    if sanitizing is None or not sanitizing.tasks:
        return
    tasks = list(tasks_of(register))
    for task in tasks:
        with register.attempt("quench_water", task.data, "target", **task.keys):
            _quench(register, task)
    if sanitizing.rinse is None:
        return
    for system in register.house.systems:
        own = [task for task in tasks if task.system is system]
        with register.attempt("disposal_volume", sanitizing.rinse, "rate_trays", system=system.id):
            _disposal(register, system, own)


def _quench(register: Register, task: Task) -> None:
    disposal = register.house.policies.disposal if register.house.policies else None
    field = kind_of_stock(register.house, task.data.chemical).drain_limit
    if disposal is None or getattr(disposal, field) is None:
        fact = f"policies.disposal.{field}"
        raise Withheld(f"the house gives no limit for the drain ({fact})", fact)
    w = Working(register, "quench_water", f"Water before the drain, {task.label}", TOPIC, **task.keys)
    batch = w.whole(task.volume_id, **task.keys)
    made = w.amount("strength_made", **task.keys)
    limit = grams_per_litre(w, disposal, field) / 10
    litres = convert(batch.rounded, batch.unit, "L")
    water = batches.quench_water(litres, made, limit)
    w.add_line(
        f"{brief(litres)} L x ({brief(made)} / {brief(limit)} - 1) = {brief(water)} L, from the strength really made"
    )
    give_water(w, water, "water that makes safe is rounded up", None if register.house.us else 0.5)
    with register.attempt("quench_time", register.house.water_source, "flow_at_tap", **task.keys):
        _quench_time(register, task)


def _quench_time(register: Register, task: Task) -> None:
    """Minutes of the open tap for the water beside a batch."""
    w = Working(register, "quench_time", f"Tap open beside the drain, {task.label}", TOPIC, **task.keys)
    water = w.whole("quench_water", **task.keys)
    if water.rounded <= 0:
        raise Withheld("no water is run with it")
    litres = convert(water.rounded, water.unit, "L")
    rate = w.fact(register.house.water_source, "flow_at_tap", "L/min")
    minutes = feeding.tap_fill_time(litres, rate)
    w.add_line(f"{brief(litres)} L / {brief(rate)} L/min = {brief(minutes)} min")
    w.number(minutes, "min", "up", "water that makes safe is rounded up", tool="timer")


def _disposal(register: Register, system: System, tasks: list[Task]) -> None:
    """What goes down the drain, as it is printed and poured: the solution, the batches, their water, what rinses."""
    w = Working(register, "disposal_volume", "Waste water of a cleanout day", TOPIC, system=system.id)
    keys = {"system": system.id}
    tank = _poured(w, "res_fill", **keys)
    used = sum(_poured(w, task.volume_id, **task.keys) for task in tasks)
    # All that was sprayed runs off with the rinse of the trays, which thins it.
    quench = sum(_poured(w, "quench_water", **task.keys) for task in tasks if task.volume_id != "batch_spray")
    heel = left_behind.heel(w, system)
    told, rinses = [], 0.0
    for one, count in RINSES:
        if register.has_tried(count, **keys):
            times, each = (
                int(w.amount(count, **keys)),
                _poured(w, one, **keys) - (heel if one == "rinse_volume" else 0.0),
            )
            told.append(f"{times} x {brief(each)}")
            rinses += times * each
    if not told:
        raise Withheld("nothing is rinsed")
    w.add_line(
        f"rinses let in, each of the loop from the heel of {brief(heel)} L: {' + '.join(told)} = {brief(rinses)} L"
    )
    w.add_line(
        f"tank {brief(tank)} + batches {brief(used)} + rinses {brief(rinses)} + quench {brief(quench)} = "
        f"{brief(tank + used + rinses + quench)} L"
    )
    w.number(tank + used + rinses + quench, "L", "up", "waste is rounded up")


def _poured(w: Working, id_: str, **keys: str) -> float:
    """An amount of water as it is printed [L]."""
    amount = w.whole(id_, **keys)
    return convert(amount.rounded, amount.unit, "L")
