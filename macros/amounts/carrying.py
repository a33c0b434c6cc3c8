"""Q84, Q85: what a full bucket weighs, how far it may be filled, how many trips a tank would take."""

from __future__ import annotations

import math

from macros.amounts.printing import brief
from macros.amounts.register import Register
from macros.amounts.working import Working
from macros.house.tools import MeasuringTool

TOPIC = "Carrying"
WATER = 1.0
"""[kg/L] Water is 0.998 at 20 degC (from memory); 1.0 is the safe side for a load."""


def fill(register: Register) -> None:
    """Enter the loads of every container with a known empty mass, and the trips a tank takes with the largest."""
    lifting = register.house.lifting
    buckets = [tool for tool in register.house.measuring_tools if tool.tare is not None]
    if lifting is None:
        return
    for bucket in buckets:
        keys = {"container": _slug(bucket)}
        with register.attempt("lift_bucket", bucket, "tare", **keys):
            w = Working(register, "lift_bucket", f"A full {bucket.name}", TOPIC, **keys)
            volume, tare = w.fact(bucket, "capacity", "L"), w.fact(bucket, "tare", "kg")
            limit = w.fact(lifting, "one_person_limit", "kg")
            mass = volume * WATER + tare
            w.say(
                f"{brief(volume)} L x {WATER:g} kg/L + {brief(tare)} kg = {brief(mass)} kg, one person lifts {brief(limit)} kg"
            )
            if mass > limit:
                w.assume(f"{bucket.name} is over the one-person limit when full: two people, or part-fill")
            w.number(mass, "kg", "up", "a load is rounded up", bounds=(None, limit))
        with register.attempt("lift_fill_max", bucket, "tare", **keys):
            w = Working(register, "lift_fill_max", f"Fill line of the {bucket.name}", TOPIC, **keys)
            limit, tare = w.fact(lifting, "one_person_limit", "kg"), w.fact(bucket, "tare", "kg")
            capacity = w.fact(bucket, "capacity", "L")
            most = min(capacity, (limit - tare) / WATER)
            w.say(
                f"({brief(limit)} kg - {brief(tare)} kg) / {WATER:g} kg/L = {brief((limit - tare) / WATER)} L; it holds {brief(capacity)} L"
            )
            w.number(most, "L", "down", "what one person lifts is rounded down")
        for system in register.house.systems:
            with register.attempt("trips", bucket, "tare", system=system.id, **keys):
                w = Working(
                    register, "trips", f"Trips with the {bucket.name}", TOPIC, system=system.id, **keys
                )
                full = w.amount("res_fill", system=system.id)
                most = w.amount("lift_fill_max", **keys)
                w.say(f"{brief(full)} L / {brief(most)} L = {brief(full / most)}: use the hose")
                w.count(math.ceil(full / most - 1e-9), "trips", "trips are counted up")


def _slug(tool: MeasuringTool) -> str:
    return tool.id or tool.name.replace(" ", "_")
