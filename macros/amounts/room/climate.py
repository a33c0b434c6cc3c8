"""How dry the air is, where it drips, what fan and dehumidifier must carry, when to go back in (W05)."""

from __future__ import annotations

import math

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.room import air_limits
from macros.amounts.room.air_limits import FAO, HIGH, LOW, NEAR_THE_WALL, TOPIC
from macros.amounts.water.watering import DARK, light_times
from macros.calculations.room import air
from macros.ground.problems import RangeProblem
from macros.ground.units import convert
from macros.house.records.room import Room

DEHUMIDIFIER = 0.4
"""Share of its label a condensing dehumidifier takes out of a cool room. Consumer NZ tests found about a third at
16 degC; ours until its bucket is weighed."""
TIMES = {"lights_on": "lights on", "lights_off": "lights off"}


def fill(register: Register) -> None:
    """Enter the air amounts of the room."""
    room = register.house.room
    with register.attempt("air_limits", register.house, "room"):
        air_limits.enter(register, room)
    if room is None:
        return
    for time in TIMES:
        with register.attempt("vpd", room, f"air_temperature_{time}", time=time):
            _deficit(register, room, time)
        with register.attempt("dew_point", room, f"relative_humidity_{time}", time=time):
            _dew_point(register, room, time)
    with register.attempt("moisture_load", room, "relative_humidity_lights_on"):
        _moisture(register)
    with register.attempt("air_exchange_needed", room, "supply_air_relative_humidity"):
        _exchange(register, room)
    with register.attempt("air_changes", room, "exhaust_fan_flow_installed"):
        _changes(register, room)
    with register.attempt("reentry_wait", room, "exhaust_fan_flow_installed"):
        _reentry(register, room)


def _state(w: Working, room: Room, time: str) -> tuple[float, float]:
    return w.fact(room, f"air_temperature_{time}", "degC"), w.fact(room, f"relative_humidity_{time}")


def _deficit(register: Register, room: Room, time: str) -> None:
    w = Working(register, "vpd", f"Vapour pressure deficit, {TIMES[time]}", TOPIC, time=time)
    temperature, humidity = _state(w, room, time)
    deficit = air.vapour_pressure_deficit(temperature, humidity)
    w.source(FAO)
    w.add_line(
        f"0.6108 x exp(17.27 x {brief(temperature)} / ({brief(temperature)} + 237.3)) = "
        f"{brief(air.saturation_vapour_pressure(temperature))} kPa; x (1 - {brief(humidity)}) = {brief(deficit)} kPa"
    )
    if not LOW <= deficit <= HIGH:
        what = f"with {TIMES[time]} the vapour pressure deficit is {brief(deficit, 2)} kPa"
        allowed = f"{LOW:g} to {HIGH:g} kPa suits most leaves (common practice, no source)"
        remedy = "Too low: dry the air. Too high: more water in the air, or cooler"
        register.report_problem(room, f"relative_humidity_{time}", what, allowed, remedy, "", "warning")
    w.number(deficit, "kPa", "nearest", "two decimals", step=0.01, bounds=(LOW, HIGH))


def _dew_point(register: Register, room: Room, time: str) -> None:
    w = Working(register, "dew_point", f"Dew point, {TIMES[time]}", TOPIC, time=time)
    temperature, humidity = _state(w, room, time)
    point = air.dew_point(temperature, humidity)
    w.source(FAO)
    vapour = air.vapour_pressure(temperature, humidity)
    x = brief(math.log(vapour / 0.6108))
    w.add_line(
        f"0.6108 x exp(17.27 x {brief(temperature)} / ({brief(temperature)} + 237.3)) x {brief(humidity)} = "
        f"{brief(vapour)} kPa of vapour; ln({brief(vapour)} / 0.6108) = {x}; "
        f"237.3 x {x} / (17.27 - {x}) = {brief(point)} degC",
        si=True,
    )
    w.add_line(
        f"air of {brief(temperature)} degC at {brief(humidity * 100)} % wets whatever is under {brief(point)} degC"
    )
    if room.coldest_surface_temperature is not None:
        wall = w.fact(room, "coldest_surface_temperature", "degC")
        share = air.humidity_at_surface(temperature, humidity, wall) * 100
        w.add_line(
            f"the coldest surface has {brief(wall)} degC: {brief(wall - point, 2)} K clear, {share:.0f} % at the surface"
        )
        us = register.house.us
        if point >= wall:
            what = f"with {TIMES[time]} the dew point is {_degrees(point, us)} and the coldest surface has {_degrees(wall, us)}"
            remedy = "Dry the air, warm or insulate the wall"
            register.report_problem(room, "coldest_surface_temperature", what, "Water runs down it", remedy)
        elif wall - point < NEAR_THE_WALL:
            register.report_problem(
                room,
                "coldest_surface_temperature",
                f"with {TIMES[time]} the dew point is {_degrees(point, us)}, only {_apart(wall - point, us)} under the "
                f"coldest surface: {share:.0f} % humidity there",
                f"{_apart(NEAR_THE_WALL, us)} at least: mould needs no drip",
                "Dry the air, warm or insulate the wall, or move the rack off it",
                "W05",
                "warning",
            )
    w.number(point, "degC", "up", "the dew point is rounded up", step=0.1)


def _moisture(register: Register) -> None:
    """Water plants and open water put into the air in an hour of light."""
    w = Working(register, "moisture_load", "Water into the air, lights on", TOPIC)
    uses = []
    for system in register.house.systems:
        uses.append(w.amount("water_use_day", system=system.id, growth_stage="full"))
    hours = max(light_times(w, system.lights)[2] for system in register.house.systems)
    plug = register.house.plug
    dark = (
        w.fact(plug, "dark_use_fraction") if plug is not None and plug.dark_use_fraction is not None else DARK
    )
    each = w.litres_again()
    grams = sum(uses) * 1000 / (hours + dark * (24 - hours))
    w.add_line(
        f"({' + '.join(f'{brief(use)} L/day' for use in uses)}){each} x 1000 g/L / ({brief(hours)} h light + {brief(dark)} x "
        f"{brief(24 - hours)} h dark) = {brief(grams)} g/h in the light"
    )
    w.number(grams, "g/h", "up", "a load is rounded up", step=1.0)


def _exchange(register: Register, room: Room) -> None:
    w = Working(register, "air_exchange_needed", "Air to blow out", TOPIC)
    load = w.amount("moisture_load")
    inside = _state(w, room, "lights_on")
    supply = (w.fact(room, "supply_air_temperature", "degC"), w.fact(room, "supply_air_relative_humidity"))
    pressure = air.pressure_at(w.fact(room, "altitude", "m")) if room.altitude is not None else air.SEA_LEVEL
    without = air.ventilation_needed(load, inside, supply, pressure)
    taken = 0.0
    if room.dehumidifier_rating is not None:
        taken = w.fact(room, "dehumidifier_rating", "L/day") * 1000 / 24 * DEHUMIDIFIER
        w.assume(
            f"the dehumidifier takes out {DEHUMIDIFIER:g} of its label in a cool room, until its bucket is weighed"
        )
    needed = air.ventilation_needed(load - taken, inside, supply, pressure)
    w.source("mass balance of water in air; humidity ratio as in ASHRAE Fundamentals, psychrometrics")
    wet, dry = (air.humidity_ratio(*state, pressure) * 1000 for state in (inside, supply))
    each = air.specific_volume(*inside, pressure)
    carried = f"({brief(wet)} - {brief(dry)}) g/kg x {brief(each)} m³/kg"
    w.add_line(
        f"room {brief(wet)} g/kg, supply {brief(dry)} g/kg, a kilogram of room air fills {brief(each)} m³"
    )
    w.add_line(f"with no machine: {brief(load)} g/h / {carried} = {brief(without)} m³/h")
    if taken >= load:
        w.add_line(f"the dehumidifier takes {brief(taken)} g/h: all of it")
    elif taken > 0:
        w.add_line(
            f"with the dehumidifier: ({brief(load)} - {brief(taken)}) g/h / {carried} = {brief(needed)} m³/h"
        )
    if room.exhaust_fan_flow_installed is not None:
        fan = w.fact(room, "exhaust_fan_flow_installed", "m^3/h")
        if needed > fan:
            what = f"the air needs {brief(needed, 3)} m^3/h blown out; the fan moves {brief(fan, 3)} m^3/h"
            allowed = "The room gets wetter than written here"
            remedy = "A stronger fan, a second dehumidifier, or fewer plants"
            register.report_problem(room, "exhaust_fan_flow_installed", what, allowed, remedy, "", "warning")
    w.number(needed, "m^3/h", "up", "air to move is rounded up")


def _changes(register: Register, room: Room) -> None:
    w = Working(register, "air_changes", "Air changes an hour", TOPIC)
    flow = w.fact(room, "exhaust_fan_flow_installed", "m^3/h")
    length, width, height = (w.fact(room, name, "m") for name in ("length", "width", "height"))
    volume = length * width * height
    changes = air.air_changes(flow, volume)
    w.add_line(
        f"{brief(length)} m x {brief(width)} m x {brief(height)} m = {brief(volume)} m³; "
        f"{brief(flow)} m³/h / {brief(volume)} m³ = {brief(changes)} an hour"
    )
    w.number(changes, "1/h", "down", "air that is changed is rounded down", step=0.05)


def _reentry(register: Register, room: Room) -> None:
    w = Working(register, "reentry_wait", "Wait before going back in after a mist", TOPIC)
    changes = w.amount("air_changes")
    try:
        minutes = air.dilution_minutes(changes)
    except RangeProblem as nothing:
        raise Withheld("no fan blows outdoors: no misting in this room") from nothing
    w.add_line(
        f"ln(1 / 0.05) x 60 / {brief(changes)} = {brief(minutes)} min to one part in twenty, if the air mixes well"
    )
    w.add_line("only air blown outdoors counts; a sting in eyes or nose overrules the clock: stay out")
    w.assume("well mixed air; where air pools, wait twice as long")
    w.number(minutes, "min", "up", "a wait is rounded up", step=5.0, tool="timer")


def _degrees(value: float, us: bool) -> str:
    """A temperature [degC] in a message."""
    return f"{brief(convert(value, 'degC', 'degF'), 3)} degF" if us else f"{brief(value, 3)} degC"


def _apart(difference: float, us: bool) -> str:
    """A difference of temperatures [K] in a message."""
    return f"{brief(difference * 9 / 5, 2)} degF" if us else f"{brief(difference, 2)} K"
