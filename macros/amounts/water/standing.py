"""How long a rack may stand without a flood, by size of its plants, lamps on and lamps off."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.water.watering import (
    DARK,
    DRY_LIMIT,
    STAGES,
    UNMEASURED,
    held,
    light_times,
    planted,
    share,
    thirst,
)
from macros.calculations.rounding import round_to
from macros.calculations.water import watering
from macros.house.records.systems import System

TOPIC = "Water and thirst"
MOST_DARK = 24.0
"""[h] No longer is told for a rack in the dark: our own limit, for nobody tried it."""
_SIZES = {"young": "young plug", "half": "half-grown", "full": "full-grown"}


def fill(register: Register) -> None:
    """Enter the table of every system with plants."""
    for system in register.house.systems:
        if system.lights is not None:
            with register.attempt("stand_hours", system, "lights", system=system.id):
                _stand(register, system)


def _stand(register: Register, system: System) -> None:
    w = Working(register, "stand_hours", "How long a rack may stand without a flood", TOPIC, system=system.id)
    own = [variety for variety in planted(register) if variety.system == system.id]
    if not own:
        raise Withheld(f"nothing is planted on system {system.id}")
    limit, dark = share(w, "dry_limit", DRY_LIMIT), share(w, "dark_use_fraction", DARK)
    _, _, hours = light_times(w, system.lights)
    rows: list[list[str | float]] = []
    for stage in STAGES:
        found, water = [], held(w, stage)
        for variety in own:
            hourly = watering.hourly_use(thirst(w, variety, STAGES[2]), hours, dark)
            found.append((watering.dry_hours(water, limit, hourly), variety.spoken))
        lit, who = min(found)
        in_dark = min(lit / dark, MOST_DARK) if dark > 0 else MOST_DARK
        w.add_line(
            f"{_SIZES[stage.name]}: {who} {brief(lit)} h lit; in the dark / {brief(dark)}, at most {brief(MOST_DARK)} h"
        )
        rows.append([_SIZES[stage.name], who, round_to(lit, 0.5, "down"), round_to(in_dark, 0.5, "down")])
    w.assume(UNMEASURED)
    w.assume("the thirst of a full-grown plant counts for every size: the safe side")
    plan = register.house.crop_plan
    if plan is not None and plan.sets_of(system.id, own):
        w.assume("its sets are planted on several days: the row of the smallest plants on the rack counts")
    heads = [("size", ""), ("dries first", ""), ("lamps on", "h"), ("lamps off", "h")]
    w.table(heads, rows, "a time that may be left is rounded down", 0.5)
