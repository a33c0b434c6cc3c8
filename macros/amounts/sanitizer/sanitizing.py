"""For each sanitizing task of each system the batch, its stock and water, its strength and its proof."""

from __future__ import annotations

from collections.abc import Iterator

from macros.amounts.engine.amount import Rounding
from macros.amounts.engine.number_format import brief, number_text, trimmed, with_unit
from macros.amounts.engine.pours import fits_in_pours, give_measured, tools_for, water_bench
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.sanitizer import strip_sample
from macros.amounts.sanitizer.batches import (
    STRENGTH_TOPIC,
    Task,
    grams_per_litre,
    kind_of_stock,
    poured_stock,
    prove,
    tolerance,
)
from macros.amounts.water import flooding
from macros.amounts.water.reservoir import give_at_mark
from macros.calculations.rounding import round_to
from macros.calculations.sanitizer import batches
from macros.ground.units import convert
from macros.house.records.sanitizing import SanitizingTask
from macros.house.records.systems import System
from macros.house.records.tools import MeasuringTool

TOPIC = "Sanitizing batches"
MOST_BATCH_POURS = 3
"""More fillings than this of the sanitizer's tools are no way to measure a batch: our own choice."""
PASSES = 2
"""A face is wetted, and wetted again at half of its time: SOP-04."""


def tasks_of(register: Register) -> Iterator[Task]:
    """Every sanitizing task for every system, its batch id told by what the task says of itself."""
    sanitizing = register.house.sanitizing
    if sanitizing is None:
        return
    for system in register.house.systems:
        for name, task in sanitizing.tasks.items():
            yield Task(name, task, system, volume_id(task))


def volume_id(task: SanitizingTask) -> str:
    """Which batch a task needs: sprayed by area, circulated in the loop, a fixed jar, or a soak."""
    if task.coverage is not None:
        return "batch_spray"
    if task.level is not None:
        return "loop_volume"
    return "batch_tool_dip" if task.batch is not None else "batch_soak"


def fill(register: Register) -> None:
    """Enter areas, batches, stocks, waters, strengths and proofs."""
    for system in register.house.systems:
        with register.attempt("area_trays", system.trays, "inside_length", "E10", system=system.id):
            _area(register, system)
        if system.cup_plate is not None:
            with register.attempt("area_plates", system.cup_plate, "hole_pitch", "E10", system=system.id):
                _plates(register, system)
    for task in tasks_of(register):
        for id_, make in (
            (task.volume_id, _VOLUMES[task.volume_id]),
            ("stock_for_batch", poured_stock),
            ("water_for_batch", _water),
            ("strength_made", _strength_made),
        ):
            with register.attempt(id_, task.data, "target", **task.keys):
                make(register, task)
        prove(register, task)
        strip_sample.fill(register, task)
        with register.attempt("batch_life_end", task.data, "batch_life", **task.keys):
            _batch_life(register, task)


def _area(register: Register, system: System) -> None:
    w = Working(register, "area_trays", "Inside of the trays", TOPIC, system=system.id)
    trays = system.trays
    count = int(w.fact(trays, "count"))
    length, width, wall = (
        w.fact(trays, name, "m") for name in ("inside_length", "inside_width", "wall_height")
    )
    area = batches.tray_area(count, length, width, wall)
    w.add_line(
        f"{count} x ({brief(length)} m x {brief(width)} m + 2 x ({brief(length)} m + {brief(width)} m) x {brief(wall)} m) = "
        f"{brief(area)} m2"
    )
    w.number(area, "m^2", "up", "an area to wet is rounded up")


def _plates(register: Register, system: System) -> None:
    w = Working(register, "area_plates", "Cup plates, both faces", TOPIC, system=system.id)
    each, trays = (int(w.fact(system.trays, name)) for name in ("cup_plates_per_flood_tray", "count"))
    rows, columns = (int(w.fact(system.cup_plate, name)) for name in ("rows", "columns"))
    pitch = w.fact(system.cup_plate, "hole_pitch", "m")
    if each == 0:
        raise Withheld("no cup plates stand in the trays")
    area = batches.plate_area(each * trays, rows, columns, pitch)
    w.add_line(
        f"2 faces: 2 x {trays} trays x {each} plates x {rows} x {brief(pitch)} m x {columns} x {brief(pitch)} m = {brief(area)} m2"
    )
    w.number(area, "m^2", "up", "an area to wet is rounded up")


def sprayed_area(w: Working, system: System) -> float:
    """Faces that are sprayed and rinsed together [m2]: the insides of the trays and, where there are any, the cup plates."""
    trays: float = w.amount("area_trays", system=system.id)
    if not w.register.of_id("area_plates", system=system.id):
        if system.cup_plate is not None and system.trays.cup_plates_per_flood_tray is None:
            w.assume("no cup plate is counted; set trays.cup_plates_per_flood_tray")
        return trays
    plates: float = w.amount("area_plates", system=system.id)
    w.add_line(f"trays and plates: {brief(trays)} m2 + {brief(plates)} m2 = {brief(trays + plates)} m2")
    return trays + plates


def _spray(register: Register, task: Task) -> None:
    w = Working(register, "batch_spray", f"Batch, {task.label}", TOPIC, **task.keys)
    area = sprayed_area(w, task.system)
    coverage = w.fact(task.data, "coverage", "L/m^2")
    waste = 1.15 if task.data.waste_factor is None else w.fact(task.data, "waste_factor")
    litres = batches.spray_volume(PASSES * area, coverage, waste)
    w.add_line(
        f"wetted, and wetted again at half time: {PASSES} x {brief(area)} m2 x {brief(coverage)} L/m2 x {brief(waste)} = "
        f"{brief(litres)} L"
    )
    _give_volume(w, litres, small=True)


def _soak(register: Register, task: Task) -> None:
    house = register.house
    tub = house.soak_tub
    if tub is None or not house.parts_to_soak:
        raise Withheld("the house gives no soak tub or no parts to soak")
    loads_of = Working(register, "soak_loads", "Loads of the tub", TOPIC, **task.keys)
    bulk, solid = _parts(loads_of, house.parts_to_soak)
    length, width, depth = (
        loads_of.fact(tub, name, "m") for name in ("inside_length", "inside_width", "working_depth")
    )
    packing = loads_of.fact(tub, "packing_fraction")
    room = length * width * depth * 1000
    loads = batches.soak_loads(bulk, packing, room)
    loads_of.add_line(
        f"{brief(bulk)} L loose / ({brief(packing)} x {brief(room)} L) = {brief(bulk / packing / room)}, up to {loads}"
    )
    most = task.data.loads_per_batch
    if most is not None and loads > most:
        what = f"the parts of system {task.system.id} take {loads} loads of the tub"
        allowed = f"One batch takes {most}; after that it is spent"
        remedy = "Make a new batch for the loads after that"
        register.report_problem(task.data, "loads_per_batch", what, allowed, remedy, severity="warning")
    loads_of.count(loads, "loads" if loads > 1 else "load", "loads are counted up")
    w = Working(register, "batch_soak", f"Batch, {task.label}", TOPIC, **task.keys)
    w.whole("soak_loads", **task.keys)
    litres = batches.soak_volume(bulk / loads, packing, solid / loads)
    deep = bulk / loads / packing / 1000 / (length * width)
    w.add_line(
        f"{brief(bulk / loads)} L loose / {brief(packing)} - {brief(solid / loads)} L of plastic = {brief(litres)} L, standing "
        f"{brief(deep * 100, 3)} cm deep with the parts in"
    )
    _give_volume(w, litres)


def _parts(w: Working, parts: object) -> tuple[float, float]:
    """(loose bulk, solid volume) of all counted parts [L]."""
    bulk = solid = 0.0
    for part in parts:  # type: ignore[attr-defined]
        count = w.fact(part, "count_per_system")
        bulk += count * w.fact(part, "bulk_volume_each", "L")
        solid += count * w.fact(part, "solid_volume_each", "L")
    return bulk, solid


def _dip(register: Register, task: Task) -> None:
    w = Working(register, "batch_tool_dip", f"Batch, {task.label}", TOPIC, **task.keys)
    litres = w.fact(task.data, "batch", "L")
    w.add_line(f"the jar takes {brief(litres)} L")
    _give_volume(w, litres, small=True)


def _loop(register: Register, task: Task) -> None:
    w = Working(register, "loop_volume", f"Batch, {task.label}", TOPIC, **task.keys)
    system = task.system
    dead = w.amount("res_dead", system=system.id)
    drawn = flooding.draw_now(w, system)
    margins = register.house.margins
    assumed = "the loop gets 10 % more than pump minimum and flood; set margins.loop_volume_margin"
    margin = w.fact_or(margins, "loop_volume_margin", "", 0.10, assumed)
    litres = batches.loop_volume(dead, drawn, margin)
    # A bound, not an input: the fill mark limits the loop and does not move it.
    full = register.get("res_fill", system=system.id).exact
    w.add_line(f"({brief(dead)} L + {brief(drawn)} L) x {brief(1 + margin)} = {brief(litres)} L")
    if litres > full:
        raise Withheld(f"the loop would need {brief(litres)} L, over the fill mark of {brief(full)} L")
    give_at_mark(w, system, litres, "up")


_VOLUMES = {"batch_spray": _spray, "batch_soak": _soak, "batch_tool_dip": _dip, "loop_volume": _loop}


def _give_volume(w: Working, litres: float, *, small: bool = False) -> None:
    """A batch is rounded up; a US house measures small ones in fluid ounces, large ones in quarter gallons.

    It is measured in the sanitizer's own tools; what would take more than three of them as water, before the stock is in.
    """
    unit, step = batch_step(w.register.house.us, small)
    own, water = (water_bench(w.register, w, group, unit, step, litres) for group in ("sanitizer", "water"))
    chosen = own if fits_in_pours(own, litres, MOST_BATCH_POURS) else water
    give_measured(w, litres, chosen, "up", "a batch is rounded up")


def water_tools(register: Register) -> list[MeasuringTool]:
    """The house's measures for water, the smallest first."""
    return sorted(tools_for(register, "water"), key=lambda tool: tool.capacity.to("L"))


def batch_step(us: bool, small: bool) -> tuple[str, float]:
    """The unit and the step a batch is printed in."""
    if us:
        return ("fl_oz", 1.0) if small else ("us_gal", 0.25)
    return "L", 0.05 if small else 0.5


def water_step(us: bool, small: bool) -> tuple[str, float]:
    """The unit and the step of the water that goes in first: finer than the batch's where a metric jar is small."""
    return ("L", 0.02) if small and not us else batch_step(us, small)


def _water(register: Register, task: Task) -> None:
    """Water that goes in first; the batch is then made up to its line."""
    w = Working(register, "water_for_batch", f"Water first, {task.label}", TOPIC, **task.keys)
    batch = w.whole(task.volume_id, **task.keys)
    stock = w.whole("stock_for_batch", **task.keys)
    looped = task.volume_id == "loop_volume"
    # The loop stands at a mark of the scale; its printed litres are a little more.
    whole = batch.exact if looped else convert(batch.rounded, batch.unit, "L")
    stock_ml = convert(stock.rounded, stock.unit, "mL")
    litres = whole - stock_ml / 1000
    w.add_line(
        f"{brief(whole)} L - {brief(stock_ml)} mL of stock / 1000 mL/L = {brief(litres)} L, then make up to the line of "
        f"{batch.printed}"
    )
    small = batch.unit == "fl_oz" or litres < 2
    unit, step = water_step(register.house.us, small)
    if looped:
        give_at_mark(w, task.system, litres, "down")
        return
    rule = "water first is rounded down; the line makes up the rest"
    give_measured(w, litres, water_bench(register, w, "water", unit, step, litres), "down", rule)


def _strength_made(register: Register, task: Task) -> None:
    w = Working(register, "strength_made", f"Strength made, {task.label}", STRENGTH_TOPIC, **task.keys)
    batch = w.whole(task.volume_id, **task.keys)
    stock = w.whole("stock_for_batch", **task.keys)
    bought = w.whole("stock_strength", chemical=task.data.chemical)
    now = w.amount("stock_strength_now", chemical=task.data.chemical)
    target, ceiling = grams_per_litre(w, task.data, "target"), grams_per_litre(w, task.data, "ceiling")
    millilitres = convert(stock.rounded, stock.unit, "mL")
    litres = convert(batch.rounded, batch.unit, "L")
    least, made = (batches.strength_made(millilitres, grams, litres) for grams in (now, bought.exact))
    w.add_line(f"of {register.house.chemical(task.data.chemical).active}; stock as bought: {bought.working}")
    for when, grams, strength in (("at the end of its use", now, least), ("as bought", bought.exact, made)):
        w.add_line(
            f"stock {when}: {brief(millilitres)} mL / 1000 mL/L x {brief(grams)} g/L / {brief(litres)} L = {brief(strength)} g/L; "
            f"{brief(strength)} g/L / 10 = {brief(strength / 10)} % w/v"
        )
    read = tolerance(register, stock, batch)
    w.add_line(
        f"half a mark of each tool either way: {brief(read.weakest(now) / 10, 3)} to "
        f"{brief(read.strongest(bought.exact) / 10, 3)} % w/v"
    )
    w.add_line(f"allowed: {task.data.target.written} to {task.data.ceiling.written}")
    step = (
        0.01 if made >= 1 else 0.001
    )  # made is in g/L; the strongest is never shown weaker, nor the weakest stronger
    ends = [round_to(made / 10, step, "up")]
    if least < made:
        ends.insert(0, round_to(least / 10, step, "down"))
    figures = tuple(dict.fromkeys(trimmed(number_text(end, step)) for end in ends))
    chemical = register.house.chemical(task.data.chemical)
    on_label = kind_of_stock(register.house, chemical.id).label_range(
        (least / 10, made / 10), chemical.active
    )
    w.enter(
        "number",
        made / 10,
        "% w/v",
        printed=f"{with_unit(' to '.join(figures), '% w/v')} ({on_label})" if on_label else "",
        figures=figures,
        rounded=ends[-1],
        rounding=Rounding("up", step, "from stock at the end of its use to stock as bought"),
        bounds=(target / 10, ceiling / 10),
    )


def _batch_life(register: Register, task: Task) -> None:
    w = Working(register, "batch_life_end", f"Dead after, {task.label}", TOPIC, **task.keys)
    if task.data.batch_life is not None:
        minutes = w.fact(task.data, "batch_life", "min")
    else:
        life = kind_of_stock(register.house, task.data.chemical).batch_hours
        minutes = life.value * 60
        w.assume(f"a batch lasts {life.value:g} h ({life.said}); set batch_life")
    whole = round_to(minutes, 5, "down")
    w.add_line(f"{brief(minutes)} min after it is made, down to 5 min")
    w.enter(
        "clock",
        minutes,
        "min",
        value=whole,
        shown_unit="min",
        printed=f"{whole / 60:g} h",
        rounded=whole,
        rounding=printing_rounding(),
    )


def printing_rounding() -> Rounding:
    """A batch life is cut down to five minutes."""
    return Rounding("earlier", 5.0, "a batch life is cut down")
