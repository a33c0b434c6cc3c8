"""What makes a used batch safe to drain, and the waste water of a cleanout."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.pours import give_poured, scales
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.sanitizer.batches import Task, as_read, grams_per_litre, kind_of_stock
from macros.amounts.sanitizer.rinsing import RINSES, TOPIC, give_water
from macros.amounts.sanitizer.sanitizing import tasks_of
from macros.amounts.water import left_behind
from macros.calculations.feed import feeding
from macros.calculations.sanitizer import batches
from macros.ground.units import convert
from macros.house.records.house import House
from macros.house.records.sanitizing import HouseNeutralizer
from macros.house.records.systems import System
from macros.published.safety.sanitizers import kind_of

_NEUTRALIZED = {"batch_soak": "neutralizer_dose", "loop_volume": "neutralizer_loop"}
"""The large batches; a jar, and what is left of a spray, go with a few litres of water."""
LONGEST_TAP = 60.0
"""[min] A tap that runs longer beside a batch is told: our own figure."""
MOST_TIMES = 20.0
"""Water beside a batch, in batches, that is told where the flow of the tap is not known: our own figure."""


def fill(register: Register) -> None:
    """Enter what each used batch needs before the drain, and the waste water of every system."""
    sanitizing = register.house.sanitizing
    if sanitizing is None or not sanitizing.tasks:
        return
    tasks = list(tasks_of(register))
    for task in tasks:
        if sanitizing.neutralizer is not None and task.volume_id in _NEUTRALIZED:
            id_ = _NEUTRALIZED[task.volume_id]
            with register.attempt(id_, sanitizing.neutralizer, "substance", **task.keys):
                _neutralize(register, task, sanitizing.neutralizer, id_)
        with register.attempt("quench_water", task.data, "target", **task.keys):
            _quench(register, task)
    if sanitizing.rinse is None:
        return
    for system in register.house.systems:
        own = [task for task in tasks if task.system is system]
        with register.attempt("disposal_volume", sanitizing.rinse, "rate_trays", system=system.id):
            _disposal(register, system, own)


def strong_waste(house: House) -> str:
    """Where strong waste of each kind of sanitizer of the house goes, as ` Chlorine bleach: A neutralizer ...`; else empty."""
    tasks = house.sanitizing.tasks.values() if house.sanitizing else ()
    kinds = (kind_of(house.chemical(task.chemical).active) for task in tasks)
    told = {kind.name: kind.strong_waste for kind in kinds if kind is not None and kind.strong_waste}
    return "".join(f" {name[0].upper()}{name[1:]}: {text}" for name, text in told.items())


def _neutralize(register: Register, task: Task, neutralizer: HouseNeutralizer, id_: str) -> None:
    """Powder for a used batch at the most it can hold, weighed on a scale of the house."""
    kind = kind_of_stock(register.house, task.data.chemical)
    published = kind.neutralizers.get(neutralizer.substance)
    if published is None:
        raise Withheld(f"{neutralizer.substance.replace('_', ' ')} takes out no {kind.name}")
    w = Working(register, id_, f"Neutralizer, {task.label}", TOPIC, **task.keys)
    name = str(w.raw(neutralizer, "substance")).replace("_", " ")
    batch = w.whole(task.volume_id, **task.keys)
    read = as_read(w, task, w.amount("strength_made", **task.keys) * 10_000)
    litres = convert(batch.rounded, batch.unit, "L")
    grams = batches.neutralizer_mass(litres, read, published.grams)
    w.add_line(
        f"{brief(litres)} L{w.litres_again()} x {brief(read)} mg/L / 1000 x {brief(published.grams)} g of {name} for each g = {brief(grams)} g"
    )
    w.source(published.said)
    rule = "what takes a sanitizer out is rounded up"
    give_poured(w, grams, scales(w, "neutralizer"), "up", rule, register.house.place("scales"))


def _is_neutralized(register: Register, task: Task) -> bool:
    return any(register.of_id(id_, **task.keys) for id_ in _NEUTRALIZED.values())


def _quench(register: Register, task: Task) -> None:
    disposal = register.house.policies.disposal if register.house.policies else None
    if _is_neutralized(register, task):
        raise Withheld("the batch is neutralized")
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
    _warn_of_much(register, task, water, litres, field)
    with register.attempt("quench_time", register.house.water_source, "flow_at_tap", **task.keys):
        _quench_time(register, task)


def _warn_of_much(register: Register, task: Task, water: float, batch: float, field: str) -> None:
    """A tap that would run for hours beside a batch is not run for hours."""
    flow = register.house.water_source.flow_at_tap
    minutes = water / flow.to("L/min") if flow is not None else None
    disposal = register.house.policies.disposal if register.house.policies else None
    if disposal is None or (minutes <= LONGEST_TAP if minutes is not None else water <= MOST_TIMES * batch):
        return
    us = register.house.us
    shown = [f"{convert(one, 'L', 'us_gal'):.0f} gal" if us else f"{one:.0f} L" for one in (batch, water)]
    beside = f", {minutes / 60:.1f} h of the open tap" if minutes is not None else ""
    kind = kind_of_stock(register.house, task.data.chemical)
    what = f"system {task.system.id}: the used {task.label} batch of {shown[0]} takes {shown[1]} of water beside it{beside}"
    named = " or ".join(one.replace("_", " ") for one in kind.neutralizers)
    remedy = f"Write sanitizing.neutralizer ({named}), or ask" if named else "Ask"
    register.report_problem(
        disposal,
        field,
        what,
        f"Over {LONGEST_TAP:g} min nobody stands by (our own figure)",
        f"{remedy} the sewer works what the drain may take",
        severity="warning",
    )


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
    thinned = [
        task for task in tasks if task.volume_id != "batch_spray" and not _is_neutralized(register, task)
    ]
    quench = sum(_poured(w, "quench_water", **task.keys) for task in thinned)
    heel = left_behind.heel(w, system)
    told, rinses = [], 0.0
    for one, count in RINSES:
        if register.has_tried(count, **keys):
            times, each = (
                int(w.amount(count, **keys)),
                _poured(w, one, **keys) - (heel if one == "rinse_volume" else 0.0),
            )
            told.append(f"{times} x {brief(each)} L")
            rinses += times * each
    if not told:
        raise Withheld("nothing is rinsed")
    w.add_line(
        f"rinses let in, each of the loop from the heel of {brief(heel)} L: {' + '.join(told)} = {brief(rinses)} L"
    )
    w.add_line(
        f"tank {brief(tank)} L + batches {brief(used)} L + rinses {brief(rinses)} L + quench {brief(quench)} L = "
        f"{brief(tank + used + rinses + quench)} L"
    )
    w.number(tank + used + rinses + quench, "L", "up", "waste is rounded up")


def _poured(w: Working, id_: str, **keys: str) -> float:
    """An amount of water as it is printed [L]."""
    amount = w.whole(id_, **keys)
    return convert(amount.rounded, amount.unit, "L")
