"""Q15-Q19, Q87, Q88: stock for the day, rinses of trays, parts and loop, water that makes a used batch safe to drain."""

from __future__ import annotations

import math

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.sanitizer.batches import Task, grams_per_litre
from macros.amounts.sanitizer.sanitizing import tasks_of
from macros.calculations.feed import feeding
from macros.calculations.rounding import whole_steps
from macros.calculations.sanitizer import batches, rinsing
from macros.calculations.sanitizer.strength import ACTIVE_CHLORINE_PER_HYPOCHLORITE
from macros.ground.units import convert
from macros.house.records.sanitizing import Rinse
from macros.house.records.systems import System

TOPIC = "Rinses and waste"
RESIDUE = {"peroxide": 5.0, "chlorine": 0.5}
"""[mg/L] Most that may stay: ours for peroxide; for chlorine the level at which lettuce in solution lost a third of
its weight (McGehee and Raudales, HortTechnology 33(1), 2023)."""


def fill(register: Register) -> None:
    """Enter stock totals, rinses and waste of every system."""
    sanitizing = register.house.sanitizing
    if sanitizing is None or not sanitizing.tasks:
        return
    tasks = list(tasks_of(register))
    for system in register.house.systems:
        own = [task for task in tasks if task.system is system]
        for chemical in dict.fromkeys(task.data.chemical for task in own):
            of_it = [task for task in own if task.data.chemical == chemical]
            with register.attempt("stock_total", sanitizing, "tasks", system=system.id, chemical=chemical):
                _stock_total(register, system, of_it, chemical)
        for task in own:
            with register.attempt("quench_water", task.data, "target", **task.keys):
                _quench(register, task)
        if sanitizing.rinse is not None:
            _rinses(register, system, sanitizing.rinse, own)


def _rinses(register: Register, system: System, rinse: Rinse, tasks: list[Task]) -> None:
    keys = {"system": system.id}
    with register.attempt("rinse_trays", rinse, "rate_trays", **keys):
        _rinse_trays(register, system, rinse)
    with register.attempt("rinse_parts", rinse, "rate_parts", **keys):
        _rinse_parts(register, system, rinse)
    for loop in [task for task in tasks if task.volume_id == "loop_volume"][:1]:
        with register.attempt("rinse_count", rinse, "reservoir_rinse_volume", **keys):
            _rinse_count(register, system, rinse, loop)
    with register.attempt("rinse_total", rinse, "rate_trays", **keys):
        _rinse_total(register, system, rinse)
    with register.attempt("disposal_volume", rinse, "rate_trays", **keys):
        _disposal(register, system, tasks)


def _stock_total(register: Register, system: System, tasks: list[Task], chemical_id: str) -> None:
    chemical = register.house.chemical(chemical_id)
    w = Working(
        register,
        "stock_total",
        f"Stock for one cleanout, {chemical.name}",
        TOPIC,
        system=system.id,
        chemical=chemical_id,
    )
    poured = [w.whole("stock_for_batch", **task.keys) for task in tasks]
    total = sum(convert(amount.rounded, amount.unit, "mL") for amount in poured)
    shelf = int(w.fact(chemical, "containers_in_stock"))
    size = w.fact(chemical, "container", "mL")
    needed = whole_steps(total / size, 1, "up")
    w.add_line(
        f"{' + '.join(amount.printed for amount in poured)} = {brief(total)} mL; containers of {brief(size)} mL: {needed}"
    )
    if needed > shelf:
        what = (
            f"a cleanout of system {system.id} needs {total / 1000:.2f} L of {chemical_id}; on the shelf: {shelf} "
            f"container{'' if shelf == 1 else 's'} of {chemical.container.written}"
        )
        allowed = "Stock is never short on the day"
        remedy = f"Buy {needed - shelf} more before the day"
        register.report_problem(chemical, "containers_in_stock", what, allowed, remedy, "E09")
    w.number(total, "mL", "up", "stock to have is rounded up", step=10.0, tool=f"{needed} containers")


def _quench(register: Register, task: Task) -> None:
    disposal = register.house.policies.disposal if register.house.policies else None
    chlorine = "hypochlorite" in register.house.chemical(task.data.chemical).active.lower()
    field = "dilute_chlorine_below" if chlorine else "dilute_peroxide_below"
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
    w.number(water, "L", "up", "water that makes safe is rounded up", tool="hose or bucket")


def _rinse_trays(register: Register, system: System, rinse: Rinse) -> None:
    w = Working(register, "rinse_trays", "Rinse of the trays", TOPIC, system=system.id)
    area = w.amount("area_trays", system=system.id)
    rate = w.fact(rinse, "rate_trays", "L/m^2")
    w.add_line(f"{brief(area)} m2 x {brief(rate)} L/m2 = {brief(area * rate)} L")
    w.number(
        rinsing.rinse_for_area(area, rate),
        "L",
        "up",
        "rinse water is rounded up",
        step=None if register.house.us else 1.0,
        tool="hose",
    )


def _rinse_parts(register: Register, system: System, rinse: Rinse) -> None:
    w = Working(register, "rinse_parts", "Rinse of the parts", TOPIC, system=system.id)
    if not register.house.parts_to_soak:
        raise Withheld("the house counts no parts to soak", "parts_to_soak")
    count = int(sum(w.fact(part, "count_per_system") for part in register.house.parts_to_soak))
    each = w.fact(rinse, "rate_parts", "L")
    litres = rinsing.rinse_for_parts(count, each)
    w.add_line(f"{count} x {brief(each)} L = {brief(litres)} L")
    w.number(
        litres, "L", "up", "rinse water is rounded up", step=None if register.house.us else 1.0, tool="hose"
    )


def _rinse_count(register: Register, system: System, rinse: Rinse, loop: Task) -> None:
    w = Working(register, "rinse_count", "Rinses of the loop", TOPIC, system=system.id)
    chlorine = "hypochlorite" in register.house.chemical(loop.data.chemical).active.lower()
    made = w.amount("strength_made", **loop.keys) * 10_000
    if chlorine:
        made *= ACTIVE_CHLORINE_PER_HYPOCHLORITE
    allowed = _allowed(w, rinse, "chlorine" if chlorine else "peroxide")
    volume = w.fact(rinse, "reservoir_rinse_volume", "L")
    held = w.fact(system.reservoir, "left_after_draining", "L") + w.fact(
        system.plumbing, "supply_tube_volume", "L"
    )
    trays = int(w.fact(system.trays, "count"))
    left = (
        w.fact(system.trays, "left_in_tray_after_drain", "L")
        if system.trays.left_in_tray_after_drain
        else 0.0
    )
    if not left:
        w.assume("nothing stays in the trays; set trays.left_in_tray_after_drain")
    held += trays * left
    count = rinsing.rinse_count(made, allowed, volume, held)
    w.add_line(
        f"held between rinses, in heel, tubes and {trays} trays: {brief(held - trays * left)} L + {trays} x {brief(left)} L "
        f"= {brief(held)} L; ln({brief(made)} / {brief(allowed)}) / ln(({brief(volume)} + {brief(held)}) / {brief(held)}) = "
        f"{brief(math.log(made / allowed) / math.log((volume + held) / held))}, up to {count}"
    )
    w.add_line(
        f"after {count}: {brief(made)} mg/L x ({brief(held)} / ({brief(volume)} + {brief(held)}))^{count} = "
        f"{brief(rinsing.residue_after(count, made, volume, held))} mg/L if well mixed; the strip decides"
    )
    w.count(count, "rinses" if count > 1 else "rinse", "rinses are counted up")


def _allowed(w: Working, rinse: Rinse, kind: str) -> float:
    """What may stay of a kind of sanitizer [mg/L]."""
    assumed = f"{RESIDUE[kind]:g} mg/L of {kind} may stay; set sanitizing.rinse.residue_allowed"
    return w.fact_or(rinse, "residue_allowed", "mg/L", RESIDUE[kind], assumed)


def residue_allowed(w: Working, tasks: list[Task]) -> float | None:
    """What the last rinse may show after any of these tasks [mg/L]; None where nothing is sanitized or rinsed."""
    sanitizing = w.register.house.sanitizing
    if sanitizing is None or sanitizing.rinse is None or not tasks:
        return None
    actives = {w.register.house.chemical(task.data.chemical).active.lower() for task in tasks}
    kinds = {"chlorine" if "hypochlorite" in active else "peroxide" for active in actives}
    return min(_allowed(w, sanitizing.rinse, kind) for kind in kinds)


def _rinse_total(register: Register, system: System, rinse: Rinse) -> None:
    w = Working(register, "rinse_total", "Rinse water in all", TOPIC, system=system.id)
    trays, parts = (w.amount(id_, system=system.id) for id_ in ("rinse_trays", "rinse_parts"))
    loop = w.amount("rinse_count", system=system.id) * w.fact(rinse, "reservoir_rinse_volume", "L")
    total = trays + parts + loop
    flow = w.fact(register.house.water_source, "flow_at_tap", "L/min")
    w.add_line(
        f"{brief(trays)} + {brief(parts)} + {brief(loop)} = {brief(total)} L; {brief(feeding.tap_fill_time(total, flow))} min of tap"
    )
    w.number(total, "L", "up", "rinse water is rounded up")


def _disposal(register: Register, system: System, tasks: list[Task]) -> None:
    w = Working(register, "disposal_volume", "Waste water of a cleanout day", TOPIC, system=system.id)
    tank = w.amount("res_fill", system=system.id)
    rinses = w.amount("rinse_total", system=system.id)
    used = sum(w.amount(task.volume_id, **task.keys) for task in tasks if task.volume_id != "batch_spray")
    quench = sum(w.amount("quench_water", **task.keys) for task in tasks if task.volume_id != "batch_spray")
    w.add_line(
        f"tank {brief(tank)} + batches {brief(used)} + rinses {brief(rinses)} + quench {brief(quench)} = "
        f"{brief(tank + used + rinses + quench)} L"
    )
    w.number(tank + rinses + used + quench, "L", "up", "waste is rounded up")
