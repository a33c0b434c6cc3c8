"""Stock for the day, rinses of trays, parts and loop."""

from __future__ import annotations

import math

from macros.amounts.engine.number_format import brief, house_unit, step_for
from macros.amounts.engine.pours import fits_in_pours, give_measured, water_bench
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.sanitizer.batches import Task, as_read, kind_of_stock
from macros.amounts.sanitizer.sanitizing import sprayed_area, tasks_of
from macros.amounts.water import left_behind
from macros.amounts.water.flooding import draw_now
from macros.amounts.water.reservoir import give_at_mark
from macros.calculations.feed import feeding
from macros.calculations.pours import MOST_POURS
from macros.calculations.rounding import round_to, whole_steps
from macros.calculations.sanitizer import rinsing
from macros.calculations.water import mixing
from macros.ground.units import convert
from macros.house.records.chemicals import TestStrip
from macros.house.records.house import House
from macros.house.records.sanitizing import Rinse
from macros.house.records.systems import System
from macros.published.safety.sanitizers import SanitizerKind, kind_of

TOPIC = "Rinses and waste"


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
        if sanitizing.rinse is not None:
            _rinses(register, system, sanitizing.rinse, own)


def _rinses(register: Register, system: System, rinse: Rinse, tasks: list[Task]) -> None:
    keys = {"system": system.id}
    with register.attempt("rinse_trays", rinse, "rate_trays", **keys):
        _rinse_trays(register, system, rinse)
    with register.attempt("rinse_parts", rinse, "rate_parts", **keys):
        _rinse_parts(register, system, rinse)
    with register.attempt("rinse_volume", rinse, "reservoir_rinse_volume", **keys):
        _rinse_volume(register, system, rinse)
    for id_, volume_id, field_name, count in (
        ("rinse_count_trays", "batch_spray", "rate_trays", _count_trays),
        ("rinse_count_parts", "batch_soak", "rate_parts", _count_parts),
        ("rinse_count", "loop_volume", "reservoir_rinse_volume", _count_loop),
    ):
        rinsed = [task for task in tasks if task.volume_id == volume_id and task.data.rinse]
        if rinsed:
            with register.attempt(id_, rinse, field_name, **keys):
                count(register, system, rinse, rinsed)
    with register.attempt("rinse_total", rinse, "rate_trays", **keys):
        _rinse_total(register, system)


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


def _rinse_trays(register: Register, system: System, rinse: Rinse) -> None:
    w = Working(register, "rinse_trays", "One rinse of the trays", TOPIC, system=system.id)
    area = sprayed_area(w, system)
    rate = w.fact(rinse, "rate_trays", "L/m^2")
    litres = rinsing.rinse_for_area(area, rate)
    w.add_line(f"{brief(area)} m2 x {brief(rate)} L/m2 = {brief(litres)} L")
    give_water(w, litres, "rinse water is rounded up", None if register.house.us else 1.0)


def _rinse_parts(register: Register, system: System, rinse: Rinse) -> None:
    w = Working(register, "rinse_parts", "One rinse of the parts", TOPIC, system=system.id)
    if not register.house.parts_to_soak:
        raise Withheld("the house counts no parts to soak", "parts_to_soak")
    count = int(sum(w.fact(part, "count_per_system") for part in register.house.parts_to_soak))
    each = w.fact(rinse, "rate_parts", "L")
    litres = rinsing.rinse_for_parts(count, each)
    w.add_line(f"{count} x {brief(each)} L = {brief(litres)} L")
    give_water(w, litres, "rinse water is rounded up", None if register.house.us else 1.0)


def _rinse_volume(register: Register, system: System, rinse: Rinse) -> None:
    """A rinse floods every tray with the pump covered, whatever smaller volume the house wrote."""
    w = Working(register, "rinse_volume", "Water of one rinse of the loop", TOPIC, system=system.id)
    dead, drawn = w.amount("res_dead", system=system.id), draw_now(w, system)
    needed = dead + drawn
    w.add_line(f"pump minimum and the flood it draws: {brief(dead)} L + {brief(drawn)} L = {brief(needed)} L")
    if rinse.reservoir_rinse_volume is not None:
        given = w.fact(rinse, "reservoir_rinse_volume", "L")
        w.add_line(f"the house rinses with {brief(given)} L{': too little' if given < needed else ''}")
        needed = max(needed, given)
    # A bound, not an input: what stands over the fill mark is told as E10 or E11.
    for full in register.of_id("res_fill", system=system.id):
        if needed > full.exact * (1 + 1e-9):
            raise Withheld(
                f"a rinse would need {brief(needed)} L, over the fill mark of {brief(full.exact)} L"
            )
    give_at_mark(w, system, needed, "up")


def _count_loop(register: Register, system: System, rinse: Rinse, tasks: list[Task]) -> None:
    w = Working(register, "rinse_count", "Rinses of the loop", TOPIC, system=system.id)
    line = w.whole("rinse_volume", system=system.id)
    held, heel = _held_by_loop(w, system)
    added = convert(line.rounded, line.unit, "L") - heel
    w.add_line(
        f"filled up to the rinse line from the heel: {brief(added + heel)} L - {brief(heel)} L = {brief(added)} L"
    )
    counts = []
    for task in tasks:
        made, allowed = _made_and_allowed(w, rinse, task)
        batch = w.whole(task.volume_id, **task.keys)
        litres = convert(batch.rounded, batch.unit, "L")
        start = mixing.mixed(litres, made, held - heel, 0.0)
        w.add_line(
            f"the batch meets the water in tubes and trays: {brief(litres)} L x {brief(made)} mg/L / ({brief(litres)} L + "
            f"{brief(held - heel)} L) = {brief(start)} mg/L"
        )
        counts.append(_thin(w, start, allowed, added, held))
    _give_count(w, max(counts))


def _count_parts(register: Register, system: System, rinse: Rinse, tasks: list[Task]) -> None:
    w = Working(register, "rinse_count_parts", "Rinses of the parts", TOPIC, system=system.id)
    volume = w.amount("rinse_parts", system=system.id)
    held = left_behind.on_parts(w, register.house.parts_to_soak)
    w.add_line(f"on all parts, shaken out, {brief(held)} L of the batch stay")
    _give_count(w, max(_thin(w, *_made_and_allowed(w, rinse, task), volume, held) for task in tasks))


def _count_trays(register: Register, system: System, rinse: Rinse, tasks: list[Task]) -> None:
    """All that was sprayed is taken as still on the faces when the first rinse comes."""
    w = Working(register, "rinse_count_trays", "Rinses of the trays", TOPIC, system=system.id)
    volume = w.amount("rinse_trays", system=system.id)
    trays, each = int(w.fact(system.trays, "count")), left_behind.in_one_tray(w, system)
    area, film = sprayed_area(w, system), left_behind.film(w, system)
    held = trays * each + area * film
    w.add_line(
        f"held between rinses: {trays} x {brief(each)} L + {brief(area)} m2 x {brief(film)} L/m2 = {brief(held)} L"
    )
    _give_count(w, max(_thin_spray(w, rinse, task, volume, held) for task in tasks))


def _thin(w: Working, made: float, allowed: float, volume: float, held: float) -> int:
    """Rinses until what is held of a batch is thin enough."""
    count = rinsing.rinse_count(made, allowed, volume, held)
    w.add_line(
        f"ln({brief(made)} / {brief(allowed)}) / {_fold(volume, held)} = "
        f"{brief(math.log(made / allowed) / math.log((volume + held) / held))}, up to {count}"
    )
    _say_left(w, made, volume, held, count, count)
    return count


def _thin_spray(w: Working, rinse: Rinse, task: Task, volume: float, held: float) -> int:
    """Rinses until the last drops after a spray are thin enough; the first one meets all that was sprayed."""
    made, allowed = _made_and_allowed(w, rinse, task)
    batch = w.whole(task.volume_id, **task.keys)
    sprayed = convert(batch.rounded, batch.unit, "L")
    first = mixing.mixed(sprayed, made, volume, 0.0)
    count = rinsing.rinse_count_sprayed(sprayed, made, allowed, volume, held)
    w.add_line(
        f"the first rinse takes up all that was sprayed: {brief(sprayed)} L x {brief(made)} mg/L / ({brief(sprayed)} L + "
        f"{brief(volume)} L) = {brief(first)} mg/L"
    )
    if count > 1:
        w.add_line(
            f"more rinses: ln({brief(first)} / {brief(allowed)}) / {_fold(volume, held)} = "
            f"{brief(math.log(first / allowed) / math.log((volume + held) / held))}, up to {count - 1}; {count} in all"
        )
    _say_left(w, first, volume, held, count, count - 1)
    return count


def _fold(volume: float, held: float) -> str:
    return f"ln(({brief(volume)} L + {brief(held)} L) / {brief(held)} L)"


def _say_left(w: Working, start: float, volume: float, held: float, count: int, times: int) -> None:
    w.add_line(
        f"after {count}: {brief(start)} mg/L x ({brief(held)} L / ({brief(volume)} L + {brief(held)} L))^{times} = "
        f"{brief(mixing.thinned(start, held, volume, times))} mg/L if well mixed; the strip decides"
    )


def _give_count(w: Working, count: int) -> None:
    w.count(count, "rinses" if count > 1 else "rinse", "rinses are counted up")


def _made_and_allowed(w: Working, rinse: Rinse, task: Task) -> tuple[float, float]:
    """Strength made and what may stay of it [mg/L], chlorine as active chlorine."""
    made = as_read(w, task, w.amount("strength_made", **task.keys) * 10_000)
    return made, _allowed(w, rinse, kind_of_stock(w.register.house, task.data.chemical))


def _held_by_loop(w: Working, system: System) -> tuple[float, float]:
    """What stays wet in heel, tubes and trays when the loop is drained, and the heel alone [L]."""
    heel, tubes = left_behind.heel(w, system), w.fact(system.plumbing, "supply_tube_volume", "L")
    trays, each = int(w.fact(system.trays, "count")), left_behind.in_one_tray(w, system)
    area, film = w.amount("area_trays", system=system.id), left_behind.film(w, system)
    held: float = heel + tubes + trays * each + area * film
    w.add_line(
        f"held between rinses, in heel, tubes, {trays} trays and the film on them: {brief(heel)} L + {brief(tubes)} L + "
        f"{trays} x {brief(each)} L + {brief(area)} m2 x {brief(film)} L/m2 = {brief(held)} L"
    )
    return held, heel


def _allowed(w: Working, rinse: Rinse, kind: SanitizerKind) -> float:
    """What may stay of a kind of sanitizer [mg/L]."""
    residue = kind.residue
    assumed = f"{residue.assumed:g} mg/L of {kind.strip_name} may stay; set sanitizing.rinse.residue_allowed"
    return w.fact_or(rinse, "residue_allowed", "mg/L", residue.assumed, assumed)


def residue_allowed(w: Working, tasks: list[Task]) -> float | None:
    """What the last rinse may show after any of these tasks [mg/L]; None where nothing is sanitized or rinsed."""
    sanitizing = w.register.house.sanitizing
    if sanitizing is None or sanitizing.rinse is None or not tasks:
        return None
    stocks = dict.fromkeys(task.data.chemical for task in tasks)
    return min(_allowed(w, sanitizing.rinse, kind_of_stock(w.register.house, stock)) for stock in stocks)


def rinse_strip(house: House, task: str) -> str:
    """The strip that reads what a task leaves behind: the one the house names, else its finest for that sanitizer."""
    rinse = house.sanitizing.rinse if house.sanitizing is not None else None
    named = rinse.verify_with if rinse is not None else None
    fit = _strips_for(house, task)
    own = [strip for strip in house.test_strips if named in (strip.name, strip.id)]
    if not fit or (named and not own):  # another thing the house verifies with
        return named or "strip"
    return next((strip for strip in own if strip in fit), min(fit, key=lambda strip: strip.lowest_read)).name


def _strips_for(house: House, task: str) -> list[TestStrip]:
    """The strips of the house that see what a task uses."""
    of_task = house.sanitizing.tasks.get(task) if house.sanitizing is not None else None
    kind = kind_of(house.chemical(of_task.chemical).active) if of_task is not None else None
    return [strip for strip in house.test_strips if kind is not None and strip.measures == kind.strip]


SHORTEST = 0.5
"""[min] Water for less than this is poured, not timed at the tap: our own choice."""


def give_water(w: Working, litres: float, rule: str, step: float | None) -> None:
    """Water from the tap: minutes it is open where its flow was measured, else pours of the house's tools."""
    house = w.register.house
    unit = house_unit("L", house.us)
    step = step or step_for(unit)
    printed = convert(round_to(convert(litres, "L", unit), step, "up"), unit, "L")
    if printed <= 0:
        w.number(litres, "L", "up", rule, step=step, tool="nothing to pour")
        return
    flow = house.water_source.flow_at_tap
    if flow is None or printed < SHORTEST * flow.to("L/min"):
        tools = water_bench(w.register, w, "water", unit, step, litres)
        if flow is None or fits_in_pours(tools, litres, MOST_POURS):
            give_measured(w, litres, tools, "up", rule)
            return
    rate = w.fact(house.water_source, "flow_at_tap", "L/min")
    minutes = feeding.tap_fill_time(printed, rate)
    w.add_line(f"{brief(printed)} L / {brief(rate)} L/min = {brief(minutes)} min of the open tap")
    w.number(litres, "L", "up", rule, step=step, tool=f"tap open {_minutes_text(minutes)}")


def _minutes_text(minutes: float) -> str:
    """`3 min 20 s`, up to 5 s."""
    whole, rest = divmod(int(round_to(minutes * 60, 5, "up")), 60)
    return " ".join(text for text, there in ((f"{whole} min", whole), (f"{rest} s", rest)) if there)


RINSES = (
    ("rinse_trays", "rinse_count_trays"),
    ("rinse_parts", "rinse_count_parts"),
    ("rinse_volume", "rinse_count"),
)
"""Water of one rinse, and how many there are."""


def _rinse_total(register: Register, system: System) -> None:
    """Every rinse as it is printed: what is really let go."""
    w = Working(register, "rinse_total", "Rinse water in all", TOPIC, system=system.id)
    told, total = [], 0.0
    for one, count in RINSES:
        if not register.has_tried(count, system=system.id):
            continue  # no task of this house asks for it
        water, times = w.whole(one, system=system.id), w.amount(count, system=system.id)
        litres = convert(water.rounded, water.unit, "L")
        told.append(f"{times} x {brief(litres)} L")
        total += times * litres
    if not told:
        raise Withheld("nothing is rinsed")
    flow = w.fact(register.house.water_source, "flow_at_tap", "L/min")
    w.add_line(f"trays, parts, loop: {' + '.join(told)} = {brief(total)} L")
    w.add_line(f"{brief(feeding.tap_fill_time(total, flow))} min of tap")
    w.number(total, "L", "up", "rinse water is rounded up")
