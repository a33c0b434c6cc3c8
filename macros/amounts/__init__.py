"""Every quantity of a house, worked out once into a register, with its working.

What you may touch here: a printed number: what it rests on, how it is rounded, what its working says. A formula
belongs to `calculations/`.
"""

from __future__ import annotations

import json
from datetime import date

from macros.amounts.crop import harvest, one_sheet, own_bands, plan_use, planting, promises, sowing
from macros.amounts.engine.amount import Amount
from macros.amounts.engine.register import NotFound, Register, Withheld
from macros.amounts.feed import acidity, feeding, nursery, pen_readings, phosphorus
from macros.amounts.labour import costs, forecast, supplies, timing
from macros.amounts.room import climate, electricity, light
from macros.amounts.sanitizer import rinsing, sanitizing, strength, waste
from macros.amounts.water import (
    carrying,
    flooding,
    log_trends,
    logbook,
    oxygen,
    pumping,
    reservoir,
    standing,
    watering,
)
from macros.ground.problems import Place
from macros.house import House

# In this order: a later topic may rest on an earlier one, never the reverse.
_TOPICS = (
    strength, reservoir, flooding, pumping, pen_readings, feeding, logbook, log_trends, acidity, phosphorus, nursery, sanitizing, rinsing, waste, planting,
    own_bands, sowing, one_sheet, light, watering, standing, climate, oxygen, harvest, promises, plan_use, electricity, carrying, timing,
    supplies, forecast, costs,
)  # fmt: skip


def compute_amounts(house: House, day: date, day_place: Place, *, on_the_day: bool = False) -> Register:
    """Work out every amount the facts of the house carry.

    Parameters
    ----------
    house : a house without errors
    day : the day the manual is built for
    day_place : where that day was written
    on_the_day : take ages and strengths at that very day, also where the house plans its cleanout later

    Returns
    -------
    Register
        its `problems` say what was refused, `withheld` what could not be given and why.
    """
    built_for = day
    plan = house.crop_plan
    if not on_the_day and plan is not None and plan.cleanout_day is not None and plan.cleanout_day >= day:
        day, day_place = plan.cleanout_day, plan.place("cleanout_day")
    register = Register(house, day, day_place, built_for)
    for topic in _TOPICS:
        topic.fill(register)
    return register


def amounts_json(register: Register) -> str:
    """The register as sorted JSON text, an amount a line: the same bytes on every run."""
    rows = [json.dumps(amount.as_json(), sort_keys=True, ensure_ascii=False) for amount in register.all()]
    return "[\n" + ",\n".join(rows) + "\n]\n"


__all__ = ["Amount", "NotFound", "Register", "Withheld", "amounts_json", "compute_amounts"]
