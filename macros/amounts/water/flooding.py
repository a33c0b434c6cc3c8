"""What the trays take from the tank, and whether the lowest day carries it (E11)."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief, told
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.amounts.water.reservoir import scale, shape_of
from macros.calculations.water import flooding, volumes
from macros.ground.problems import Problem
from macros.house.records.systems import Reservoir, System
from macros.house.rules.report import as_limit, problem_at

TOPIC = "Floods"
_LEVELS_UP = (
    ("level_at_flood", "Level while the trays are up", "res_fill"),
    ("level_at_first", "Level while the trays are up, tank filled to the first mark", "fill_first"),
)
"""What the tank reads with its trays up, and the amount it was filled to before."""


def fill(register: Register) -> None:
    """Enter the draws of every system."""
    for system in register.house.systems:
        keys = {"system": system.id}
        with register.attempt("flood_tray", system.trays, "flood_depth", "E10", **keys):
            _flood_tray(register, system)
        with register.attempt("draw_simultaneous", system.trays, "count", **keys):
            _draw(register, system, "draw_simultaneous", "All trays up at once", system.trays.count)
        with register.attempt("draw_staggered", system.trays, "count", **keys):
            _draw(register, system, "draw_staggered", "One tray up at a time", 1)
        with register.attempt("draw_margin_at_refill", system.reservoir, "refill_mark_height", **keys):
            _margin(register, system)
        for id_, label, before in _LEVELS_UP:
            with register.attempt(id_, system.reservoir, "fill_mark_height", **keys):
                _level_up(register, system, id_, label, before)


def draw_now(w: Working, system: System) -> float:
    """What a flood takes in the order the house floods in [L]."""
    order = w.raw(system.plumbing, "flood_order")
    found: float = w.amount(f"draw_{order}", system=system.id)
    return found


def _flood_tray(register: Register, system: System) -> None:
    w = Working(register, "flood_tray", "Water on one flooded tray", TOPIC, system=system.id)
    length, width, depth = (
        w.fact(system.trays, name, "m") for name in ("inside_length", "inside_width", "flood_depth")
    )
    litres = flooding.tray_flood_volume(length, width, depth)
    w.add_line(
        f"{brief(length)} m x {brief(width)} m x {brief(depth)} m x 1000 L/m3 = {brief(litres)} L; cups are not subtracted"
    )
    w.number(litres, "L", "up", "what leaves the tank is rounded up", step=0.1)


def _draw(register: Register, system: System, id_: str, label: str, together: int) -> None:
    w = Working(register, id_, label, TOPIC, system=system.id)
    each = w.amount("flood_tray", system=system.id)
    tubes = w.fact(system.plumbing, "supply_tube_volume", "L")
    if id_ == "draw_simultaneous":
        w.fact(system.trays, "count")
    litres = flooding.draw(together, each, tubes)
    w.add_line(f"{together} x {brief(each)} L + {brief(tubes)} L in the tubes = {brief(litres)} L")
    w.number(litres, "L", "up", "what leaves the tank is rounded up", step=0.1)


def _margin(register: Register, system: System) -> None:
    """The tank is judged at its worst hour: lowest mark, trays up."""
    w = Working(
        register, "draw_margin_at_refill", "Left above the pump on the lowest day", TOPIC, system=system.id
    )
    at_refill, dead = (w.amount(id_, system=system.id) for id_ in ("res_refill", "res_dead"))
    drawn = draw_now(w, system)
    left = flooding.margin_at_refill(at_refill, drawn, dead)
    w.add_line(f"{brief(at_refill)} L - {brief(drawn)} L - {brief(dead)} L = {brief(left)} L")
    if left < 0:
        register.problems.append(_flood_too_big(w, system, drawn, at_refill - dead, dead + drawn))
    w.number(left, "L", "down", "a reserve is rounded down", step=0.1)


def _flood_too_big(w: Working, system: System, drawn: float, usable: float, needed: float) -> Problem:
    """E11, with both ways out; each was tried."""
    tank, us = system.reservoir, w.register.house.us
    one = w.amount("draw_staggered", system=system.id)
    together = system.trays.count if system.plumbing and system.plumbing.flood_order == "simultaneous" else 1
    choices = []
    mark = _mark_that_carries(w, tank, needed)
    if mark:
        choices.append(f"raise the refill mark to {mark}")
    if together > 1 and one <= usable:
        choices.append(f"set flood_order: staggered with one shelf at a time ({told(one, 'L', us)})")
    what = (
        f"system {system.id}: {together} tray{'s' if together > 1 else ''} flood together and take {told(drawn, 'L', us)}; at "
        f"the refill mark the tank holds {told(usable, 'L', us)} above the pump minimum"
    )
    remedy = _first_capital(", or ".join(choices) or "use a larger tank, or flood less deep")
    short = f"Short by {told(drawn - usable, 'L', us)}"
    return problem_at(tank, "refill_mark_height", what, short, remedy, "E11")


def _mark_that_carries(w: Working, tank: Reservoir, needed: float) -> str:
    """The least refill mark, as it would be typed, over which the tank holds what is needed [L]; empty where none is lower than
    the fill mark."""
    shape, fill = shape_of(tank, w), tank.fill_mark_height
    if needed > volumes.volume_to_height(shape, fill.to("m")):
        return ""
    mark = as_limit(volumes.height_for_volume(shape, needed), "m", tank.refill_mark_height, up=True)
    height = mark.to("m")
    carries = height < fill.to("m") and volumes.volume_to_height(shape, height) >= needed
    return mark.written if carries else ""


def _first_capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _level_up(register: Register, system: System, id_: str, label: str, before: str) -> None:
    w = Working(register, id_, label, TOPIC, system=system.id)
    full = w.amount(before, system=system.id)
    drawn = draw_now(w, system)
    shape = shape_of(system.reservoir, w)
    height = volumes.height_for_volume(shape, max(0.0, full - drawn))
    w.add_line(
        f"{brief(full)} L - {brief(drawn)} L = {brief(full - drawn)} L, which stand {brief(height * 100)} cm high"
    )
    w.number(
        height * 100,
        "cm",
        "down",
        "read at a mark of the scale",
        tool=scale(register)[0],
        as_read=True,
    )
