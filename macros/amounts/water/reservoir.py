"""What the tank holds at each mark, the level table, the heel, the time to fill."""

from __future__ import annotations

from typing import Literal, TypedDict

from macros.amounts.engine import number_format as printing
from macros.amounts.engine.amount import Amount
from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.calculations.feed import feeding
from macros.calculations.rounding import round_to
from macros.calculations.water import volumes
from macros.ground.units import convert
from macros.house.records.systems import SIZES, Reservoir, System

TOPIC = "Reservoir"
_EXACT = "used exactly for dosing, printed to the nearest readable step"
_SOURCE = "volumes of solids: elementary geometry; tapered box by the prismoidal rule"

_FORMULA = {
    "box": "length x width x height",
    "cylinder": "pi/4 x diameter x diameter x height",
    "horizontal_cylinder": "segment of the circle x length",
    "cone_frustum": "pi/12 x height x (d1 x d1 + d1 x d2 + d2 x d2), d2 the diameter at that height",
    "tapered_box": "height/6 x (bottom area + 4 x middle area + top area), each area at its own height",
}


def shape_of(reservoir: Reservoir, working: Working) -> volumes.Shape:
    """The tank's inside as a solid, its measures in metres; each measure counts as an input of `working`."""
    sizes = [working.fact(reservoir, name, "m") for name in SIZES[reservoir.shape]]
    return volumes.solid(reservoir.shape, sizes)


def _sum(shape: volumes.Shape, height: float) -> str:
    """The formula of the shape with its numbers in it, up to a height [m], as one would type it; it comes to litres."""
    h = brief(height)
    if isinstance(shape, volumes.Box):
        return f"{brief(shape.length)} m x {brief(shape.width)} m x {h} m x 1000 L/m3"
    if isinstance(shape, volumes.Cylinder):
        return f"3.1416 / 4 x ({brief(shape.diameter)} m)^2 x {h} m x 1000 L/m3"
    if isinstance(shape, volumes.HorizontalCylinder):
        segment = volumes.volume_to_height(shape, height) / 1000 / shape.length
        return f"a segment of {brief(segment)} m2 x {brief(shape.length)} m x 1000 L/m3"
    share = height / shape.height
    if isinstance(shape, volumes.ConeFrustum):
        low = brief(shape.diameter_bottom)
        top = brief(shape.diameter_bottom + (shape.diameter_top - shape.diameter_bottom) * share)
        return f"3.1416 / 12 x {h} m x (({low} m)^2 + {low} m x {top} m + ({top} m)^2) x 1000 L/m3"
    areas = [volumes.area_at(shape, part) for part in (0.0, share / 2, share)]
    bottom, middle, top = (brief(area) for area in areas)
    return f"{h} m / 6 x ({bottom} m2 + 4 x {middle} m2 + {top} m2) x 1000 L/m3"


def fill(register: Register) -> None:
    """Enter the amounts of every system's tank."""
    for system in register.house.systems:
        tank = system.reservoir
        with register.attempt("res_gross", tank, "shape", "E10", system=system.id):
            _gross(register, system)
        for id_, label, mark in (
            ("res_fill", "Tank at the fill mark", "fill_mark_height"),
            ("res_dead", "Water the pump cannot use", "pump_minimum_height"),
            ("res_refill", "Tank at the refill mark", "refill_mark_height"),
        ):
            with register.attempt(id_, tank, mark, "E10", system=system.id):
                _at_mark(register, system, id_, label, mark)
        with register.attempt("res_usable", tank, "pump_minimum_height", "E10", system=system.id):
            _usable(register, system)
        with register.attempt("fill_first", tank, "fill_mark_height", "E10", system=system.id):
            _fill_first(register, system)
        with register.attempt("fill_level", tank, "fill_mark_height", system=system.id):
            _fill_level(register, system)
        with register.attempt("level_table", tank, "shape", "E10", system=system.id):
            _level_table(register, system)
        with register.attempt("heel_carryover", tank, "left_after_draining", "E10", system=system.id):
            _heel_carryover(register, system)
        with register.attempt("heel_limit", tank, "fill_mark_height", system=system.id):
            _heel_limit(register, system)
        with register.attempt("tap_fill_time", register.house.water_source, "flow_at_tap", system=system.id):
            _tap_fill_time(register, system)


def _gross(register: Register, system: System) -> None:
    w = Working(register, "res_gross", "Tank brim-full", TOPIC, system=system.id)
    tank = system.reservoir
    w.raw(tank, "shape")
    shape = shape_of(tank, w)
    height = volumes.full_height(shape)
    litres = volumes.volume_to_height(shape, height)
    w.source(_SOURCE)
    w.add_line(f"{tank.shape.replace('_', ' ')}: {_FORMULA[tank.shape]}, to {brief(height)} m")
    w.add_line(f"{_sum(shape, height)} = {brief(litres)} L")
    w.number(litres, "L", "down", "a capacity is rounded down")


def _at_mark(register: Register, system: System, id_: str, label: str, mark: str) -> None:
    w = Working(register, id_, label, TOPIC, system=system.id)
    tank = system.reservoir
    w.raw(tank, "shape")
    shape = shape_of(tank, w)
    height = w.fact(tank, mark, "m")
    litres = volumes.volume_to_height(shape, height)
    w.source(_SOURCE)
    w.add_line(f"{_FORMULA[tank.shape]}, water {brief(height)} m deep")
    w.add_line(f"{_sum(shape, height)} = {brief(litres)} L")
    rule = "water that cannot be used is rounded up" if id_ == "res_dead" else _EXACT
    w.number(litres, "L", "up" if id_ == "res_dead" else "nearest", rule, **reading_at(register, height))


def _usable(register: Register, system: System) -> None:
    w = Working(register, "res_usable", "Usable water in the tank", TOPIC, system=system.id)
    full, dead = w.amount("res_fill", system=system.id), w.amount("res_dead", system=system.id)
    w.add_line(
        f"{brief(full)} L at the fill mark - {brief(dead)} L under the pump's reach = {brief(full - dead)} L"
    )
    w.number(full - dead, "L", "down", "usable water is rounded down")


def _fill_first(register: Register, system: System) -> None:
    """Most of the water before the parts: the fill mark less the reserve, at a readable mark of the scale."""
    w = Working(register, "fill_first", "First fill, before the parts", TOPIC, system=system.id)
    full = w.amount("res_fill", system=system.id)
    margins = register.house.margins
    assumed = "the first fill leaves 8 % of the tank free; set margins.reserve_volume"
    reserve = w.fact_or(margins, "reserve_volume", "L", 0.08 * full, assumed)
    tank = system.reservoir
    shape = shape_of(tank, w)
    if reserve >= full / 2:
        raise Withheld("the reserve is over half the tank")
    height = volumes.height_for_volume(shape, full - reserve)
    mark, unit, step = _scale_mark(register, height)
    level = convert(mark, unit, "m")
    litres = volumes.volume_to_height(shape, level)
    w.add_line(
        f"{brief(full)} L - {brief(reserve)} L = {brief(full - reserve)} L stand at {brief(height * 100)} cm; "
        f"the next lower mark is {printing.number_text(mark, step)} {printing.shown_unit(unit)} = {brief(litres)} L"
    )
    w.number(litres, "L", "nearest", "a mark of the scale, rounded down", **reading_at(register, level))


def _fill_level(register: Register, system: System) -> None:
    w = Working(register, "fill_level", "Level at the fill mark", TOPIC, system=system.id)
    height = w.fact(system.reservoir, "fill_mark_height", "m")
    step, unit = _finest(register, height), level_unit(register)
    w.add_line(f"the fill mark stands {brief(height * 100)} cm above the tank floor")
    w.number(
        height * 100,
        "cm",
        "down",
        "read at a mark of the scale",
        step=step,
        tool=scale(register)[0],
        as_read=True,
        print_unit=unit,
    )


def _level_table(register: Register, system: System) -> None:
    """What the tank holds and lacks at each level that is read: from the lowest the pump can use to the fill mark."""
    w = Working(register, "level_table", "Level table", TOPIC, system=system.id)
    tank = system.reservoir
    w.raw(tank, "shape")
    shape = shape_of(tank, w)
    low, top = w.fact(tank, "pump_minimum_height", "m"), w.fact(tank, "fill_mark_height", "m")
    full = w.amount("res_fill", system=system.id)
    unit, volume_unit = level_unit(register), printing.house_unit("L", register.house.us)
    step, volume_step = 0.5 if unit == "in" else 1.0, printing.step_for(volume_unit)
    rows: list[list[float]] = []
    level = round_to(convert(low, "m", unit), step, "up")
    while (height := convert(level, unit, "m")) <= top + 1e-9:
        litres = volumes.volume_to_height(shape, height)
        short = max(0.0, full - litres)
        rows.append(
            [
                level,
                round_to(convert(litres, "L", volume_unit), volume_step, "nearest"),
                round_to(convert(short, "L", volume_unit), volume_step, "down"),
            ]
        )
        level = round(level + step, 6)
    w.source(_SOURCE)
    w.add_line(f"{_FORMULA[tank.shape]} for each {printing.brief(step)} {unit} of depth")
    w.add_line(
        f"water to add: {brief(full)} L at the fill mark less what stands there, rounded down; read with all trays drained"
    )
    w.assume("check the table once by filling from a measured bucket; over 5 % apart, trust the bucket")
    w.table(
        [("level", unit), ("volume", volume_unit), ("water to add", volume_unit)],
        list(rows),
        "nearest readable step",
        volume_step,
    )


def _heel_carryover(register: Register, system: System) -> None:
    w = Working(register, "heel_carryover", "Old solution left in the new", TOPIC, system=system.id)
    heel = w.fact(system.reservoir, "left_after_draining", "L")
    full = w.amount("res_fill", system=system.id)
    share = feeding.heel_carryover(heel, full) * 100
    w.add_line(f"{brief(heel)} L left / {brief(full)} L full x 100 = {brief(share)} %")
    w.number(share, "%", "up", "what carries over is rounded up", step=0.1, bounds=(0.0, 10.0))


def _heel_limit(register: Register, system: System) -> None:
    w = Working(register, "heel_limit", "Most that may stay after draining", TOPIC, system=system.id)
    full = w.amount("res_fill", system=system.id)
    w.add_line(f"10 % of the fill: {brief(full)} L x 10 / 100 = {brief(full / 10)} L")
    w.source("10 % of the fill: common practice, no source")
    give_at_mark(w, system, full / 10, "down")


def _tap_fill_time(register: Register, system: System) -> None:
    w = Working(register, "tap_fill_time", "Time to fill from the tap", TOPIC, system=system.id)
    full = w.amount("res_fill", system=system.id)
    flow = w.fact(register.house.water_source, "flow_at_tap", "L/min")
    minutes = feeding.tap_fill_time(full, flow)
    w.add_line(f"{brief(full)} L / {brief(flow)} L/min = {brief(minutes)} min")
    w.number(minutes, "min", "up", "a time to stay is rounded up", tool="timer")


# ------------------------------------------------------------------ the tank scale


def scale(register: Register) -> tuple[str, float, str]:
    """The house's level scale: its name, its mark and the unit of that mark; without one, a plain reading."""
    unit = level_unit(register)
    for tool in register.house.measuring_tools:
        if "level" in tool.for_:
            return tool.name, float(f"{tool.mark.to(unit):.10g}"), unit
    return "tank mark", printing.step_for(unit), unit


def level_unit(register: Register) -> str:
    """The unit in which a level is read: that of the marks of the house's scale, else the house's own."""
    for tool in register.house.measuring_tools:
        if "level" in tool.for_:
            return "in" if tool.mark.unit == "in" else "cm"
    return printing.house_unit("m", register.house.us)


class Reading(TypedDict):
    """How an amount is read: the scale's name and the mark of it."""

    tool: str
    at: str


def reading_at(register: Register, height: float) -> Reading:
    """The scale and the level of a height [m] on it: the house's own line may stand between two of its marks."""
    unit, step = level_unit(register), _finest(register, height)
    level = round_to(convert(height, "m", unit), step, "down")
    return Reading(tool=scale(register)[0], at=printing.with_unit(printing.number_text(level, step), unit))


def _finest(register: Register, height: float) -> float:
    """What a height [m] is told to, in the scale's unit: its marks, or finer where it stands between two of them.

    A line told at the mark under it would stand under a level that holds less.
    """
    _, step, unit = scale(register)
    marks = convert(height, "m", unit) / step
    between = 0.01 if unit == "in" else 0.1
    return step if abs(marks - round(marks)) < 1e-6 else min(step, between)


def give_at_mark(w: Working, system: System, litres: float, direction: Literal["up", "down"]) -> Amount:
    """Enter water that is read on the tank's scale: what stands at the mark over or under it. Never over the fill mark."""
    tank, register = system.reservoir, w.register
    shape = shape_of(tank, w)
    height = volumes.height_for_volume(shape, litres)
    mark, unit, _ = _scale_mark(register, height, direction)
    # A bound, not an input: the fill mark limits the level and does not move it.
    level = min(convert(mark, unit, "m"), max(height, tank.fill_mark_height.to("m")))
    there = volumes.volume_to_height(shape, level)
    at = reading_at(register, level)["at"]
    w.add_line(
        f"{brief(litres)} L stand at {brief(height * 100)} cm; to the mark {at}: {_sum(shape, level)} = {brief(there)} L"
    )
    rule = f"a mark of the scale, rounded {direction}"
    return w.number(there, "L", direction, rule, tool=scale(register)[0], at=at)


def _scale_mark(
    register: Register, height: float, direction: Literal["up", "down"] = "down"
) -> tuple[float, str, float]:
    """The mark at or just under, or over, a height in metres: (mark, unit, step)."""
    _, step, unit = scale(register)
    return round_to(convert(height, "m", unit), step, direction), unit, step


def _metres(level: float, unit: str) -> float:
    return level / 100 if unit == "cm" else level * 0.0254
