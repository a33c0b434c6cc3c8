"""The facts of an order: what a plant gives, how many plugs give it, and what of rack and nursery is free beside the plan."""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import Any

from macros.amounts.crop.harvest import HOLD_BACK, PROMISED, places_of
from macros.amounts.crop.planting import plate_of
from macros.amounts.crop.sowing import plugs_of_orders
from macros.amounts.engine.number_format import in_house_unit, shown_unit
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.amounts.water.watering import planted
from macros.calculations.crop.sowing import WEEKDAYS
from macros.house.records.crops import CropPlan, Variety
from macros.house.records.systems import System

WEEK = 7
MOST_PLANTS = 150
"""No rack has more places for one crop: our own limit."""
_NEEDS = ("sow_date", "sow_plugs", "harvest_first", "harvest_last", "sites_per_flood_tray")


def order_crops(register: Register, system: System) -> list[Variety]:
    """The varieties of a system of which an order can be reckoned.

    One planted on several days is left out: which places are free on which day the reckoner cannot tell.
    """
    own = [variety for variety in planted(register) if variety.system == system.id]
    return [
        v for v in own if _yields(v) and all(len(register.of_id(id_, variety=v.id)) == 1 for id_ in _NEEDS)
    ]


def _yields(variety: Variety) -> bool:
    return variety.yield_per_plant_week is not None or variety.yield_per_plant is not None


def order_facts(register: Register, aside: Working, system: System) -> dict[str, Any]:
    """What an order of each crop rests on; days as they are written."""
    house, plan = register.house, register.house.crop_plan
    assert plan is not None
    assert plan.sow_weekday is not None
    crops = order_crops(register, system)
    last = max(
        date.fromisoformat(amount.exact)
        for variety in planted(register)
        if variety.system == system.id
        for amount in register.of_id("harvest_last", variety=variety.id)
    )
    sheet = house.germination.sheet if house.germination is not None else None
    return {
        **_in_sets(register, plan, system),
        "today": register.built_for.isoformat(),
        "weekday": plan.sow_weekday,
        "weekday_number": WEEKDAYS.index(plan.sow_weekday),
        "promised": PROMISED,
        "per_sheet": sheet.rows * sheet.columns if sheet is not None else None,
        "trays": house.nursery.trays if house.nursery is not None else None,
        "tray_use": _tray_use(register),
        "rack_free_from": (last + timedelta(days=1)).isoformat(),
        "crops": {variety.id: _crop(register, aside, plan, variety) for variety in crops},
    }


def _in_sets(register: Register, plan: CropPlan, system: System) -> dict[str, str]:
    """The names of what is left out because it is planted on several days; nothing where there is none."""
    own = (variety for variety in planted(register) if variety.system == system.id)
    names = ", ".join(variety.spoken for variety in own if len(plan.plantings_of(variety)) > 1)
    return {"in_sets": names} if names else {}


def _tray_use(register: Register) -> list[list[Any]]:
    rows = [row for found in register.of_id("plan_use") for row in found.exact["rows"]]
    return [[first, last, count] for name, first, last, count, _ in rows if name == "nursery trays"]


def _crop(register: Register, aside: Working, plan: CropPlan, variety: Variety) -> dict[str, Any]:
    free, freed, whole = _places(register, aside, plan, variety)
    each, unit, days, picks = _yield(register, aside, variety)
    plants = sum(block.plants for block in plan.blocks if block.variety == variety.id)
    first, last = int(aside.fact(variety, "first_harvest_day")), int(aside.fact(variety, "last_harvest_day"))
    return {
        "name": variety.spoken,
        "unit": unit,
        "each_week": each,
        "days": days,
        "picks": picks,
        "first": first + HOLD_BACK,
        "last": last,
        "dome": variety.dome_days or 0,
        "youngest": int(aside.fact(variety, "transplant_day_min")),
        "oldest": int(aside.fact(variety, "transplant_day_max")),
        "seeds": variety.seeds_per_plug,
        "plugs": plugs_of_orders(aside, variety, min(whole, MOST_PLANTS)),
        "free": free,
        "freed": freed,
        "whole": whole,
        "planned": plants,
        "from": register.get("harvest_first", variety=variety.id).exact,
        "to": register.get("harvest_last", variety=variety.id).exact,
    }


def _yield(register: Register, aside: Working, variety: Variety) -> tuple[float, str, int, int]:
    """What a plant gives in a week and its unit; the days whose harvest counts, and the days of picking before.

    Flowers are picked day by day and served while they keep; leaves are cut on the day, a week's growth at once.
    """
    if variety.yield_per_plant_week is not None:
        policies, keeps = register.house.policies, 1
        if policies is not None and policies.flower_shelf_life is not None:
            keeps = max(1, min(WEEK, math.floor(aside.fact(policies, "flower_shelf_life", "day") + 1e-9)))
        return aside.fact(variety, "yield_per_plant_week"), variety.yield_unit or "flowers", keeps, keeps
    window = aside.fact(variety, "last_harvest_day") - aside.fact(variety, "first_harvest_day")
    grams = aside.fact(variety, "yield_per_plant", "g") * min(1.0, WEEK / max(window, 1.0))
    value, unit = in_house_unit(grams, "g", register.house.us)
    return value, shown_unit(unit), WEEK, 1


def _places(register: Register, aside: Working, plan: CropPlan, variety: Variety) -> tuple[int, int, int]:
    """Places for a crop beside the plan, once its own plants are done, and on the whole rack when nothing stands there."""
    system = register.house.system(variety.system)
    tray: float = register.get("sites_per_flood_tray", variety=variety.id).exact
    plates = system.trays.cup_plates_per_flood_tray or 1
    used = {name for block in plan.blocks for name in block.cup_plates}
    taken = sum((plate := plate_of(name)) is not None and plate.system == system.id for name in used)
    whole = int(tray * system.trays.count)
    unused = max(0, system.trays.count * plates - taken)
    plants = sum(block.plants for block in plan.blocks if block.variety == variety.id)
    own, beside = places_of(aside, variety), int(tray * unused / plates + 1e-9)
    return max(0, own - plants) + beside, own + beside, whole
