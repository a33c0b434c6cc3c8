"""Oxygen the tank can hold, and air blown into it."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief, shown_unit
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.calculations.water.oxygen import oxygen_saturation
from macros.ground.units import convert
from macros.house.records.systems import System
from macros.house.rules.report import written

TOPIC = "Oxygen"
WARM = 24.0
"""[degC] Above it the solution holds too little oxygen for comfort: common practice, no source."""
AIR_PER_100_LITRES = 4.0
"""[L/min] Air for 100 L of solution: our own default, no source."""


def fill(register: Register) -> None:
    """Enter the oxygen amounts of every system."""
    for system in register.house.systems:
        with register.attempt("do_saturation", system.reservoir, "water_temperature", system=system.id):
            _saturation(register, system)
        if system.reservoir.air_stones is not None:
            with register.attempt("airflow_per_100L", system.reservoir.air_stones, "count", system=system.id):
                _airflow(register, system)


def _saturation(register: Register, system: System) -> None:
    w = Working(register, "do_saturation", "Oxygen the solution can hold", TOPIC, system=system.id)
    temperature = w.fact(system.reservoir, "water_temperature", "degC")
    room = register.house.room
    altitude = w.fact_or(room, "altitude", "m", 0.0, "at sea level; set room.altitude")
    most = oxygen_saturation(temperature, altitude)
    w.source("Standard Methods 4500-O (Benson and Krause series)")
    w.add_line(
        f"water of {brief(temperature)} degC at {brief(altitude)} m: {brief(most)} mg/L when full of air"
    )
    if temperature > WARM:
        what = (
            f"the solution of system {system.id} stands at {written(system.reservoir, 'water_temperature')}"
        )
        allowed = f"Above {WARM:g} degC it holds under {oxygen_saturation(WARM, altitude):.1f} mg/L oxygen and root rot comes"
        remedy = "Cool the tank or shade it"
        register.report_problem(system.reservoir, "water_temperature", what, allowed, remedy, "", "warning")
    w.number(most, "mg/L", "down", "what water can hold is rounded down", step=0.01)


def _airflow(register: Register, system: System) -> None:
    us = register.house.us
    volume, unit = ("us_gal", "ft^3/min") if us else ("L", "L/min")
    water, air, of = shown_unit(volume), shown_unit(unit), convert(100.0, "L", volume)
    label = f"Air for {brief(of, 3)} {water} of solution"
    w = Working(register, "airflow_per_100L", label, TOPIC, system=system.id)
    stones = system.reservoir.air_stones
    count, each = w.fact(stones, "count"), w.fact(stones, "airflow_each", unit)
    full = convert(w.amount("res_fill", system=system.id), "L", volume)
    flow, least = count * each / full * of, convert(AIR_PER_100_LITRES, "L/min", unit)
    w.add_line(f"{count:g} x {brief(each)} {air} / {brief(full)} {water} x {brief(of)} = {brief(flow)} {air}")
    if flow < least:
        w.add_line(f"under {brief(least, 2)} {air}: add a stone (our own figure)")
    exact, step = convert(flow, unit, "L/min"), 0.01 if us else 0.1
    w.number(exact, "L/min", "down", "air that comes is rounded down", step=step, print_unit=unit)
