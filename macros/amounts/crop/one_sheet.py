"""What varieties share under the dome of one sheet: its warmth and the day it comes off."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.water.watering import planted
from macros.house import House
from macros.house.records.crops import CropPlan, Planting, Variety
from macros.house.rules.report import written

TOPIC = "Sowing"
EITHER_WAY = 2.0
"""[K] Under the dome it may be so much warmer or colder than a variety is given: our own, as SOP-11 says."""


def fill(register: Register) -> None:
    """Enter the day each dome comes off, and the warmth of each sheet."""
    plan = register.house.crop_plan
    if plan is None:
        return
    for variety in planted(register):
        for planting in plan.plantings_of(variety):
            with register.attempt("dome_off", variety, "dome_days", **planting.keys):
                _dome_off(register, plan, planting)
    for sheet in register.house.sow_layout:
        with register.attempt("sheet_warmth", register.house, "sow_layout", sheet=sheet):
            _warmth(register, sheet)


def _on(register: Register, sheet: str) -> list[Variety]:
    """The planned varieties of a sheet, in its order."""
    there = {variety.id: variety for variety in planted(register)}
    return [there[name] for name in register.house.sow_layout.get(sheet, ()) if name in there]


def sheet_of(house: House, planting: Planting) -> str:
    """The sheet of the layout that a set is sown on; empty for one of its own, as that of a later set."""
    assert house.crop_plan is not None
    if planting.day != house.crop_plan.plantings_of(planting.variety)[0].day:
        return ""
    return next((name for name, on_it in house.sow_layout.items() if planting.variety.id in on_it), "")


def sets_of_house(house: House) -> list[Planting]:
    """What is planted of each variety on each day, in the order of the varieties."""
    plan = house.crop_plan
    return [one for variety in house.varieties for one in (plan.plantings_of(variety) if plan else ())]


def plantings_with(house: House, keys: Mapping[str, str]) -> list[Planting]:
    """The sets that the keys of an amount name: the one of its day, else all of its variety."""
    own = (variety for variety in house.varieties if variety.id == keys.get("variety"))
    sets = (one for variety in own if house.crop_plan for one in house.crop_plan.plantings_of(variety))
    return [one for one in sets if keys.get("planting") in (None, one.day.isoformat())]


def _dome_off(register: Register, plan: CropPlan, planting: Planting) -> None:
    """A dome covers the whole sheet: it comes off on the first day of a variety under it."""
    variety = planting.variety
    w = Working(register, "dome_off", f"Dome off, {planting.spoken}", TOPIC, **planting.keys)
    sown = date.fromisoformat(w.amount("sow_date", **planting.keys))
    days = int(w.fact(variety, "dome_days"))
    off = sown + timedelta(days=days)
    w.add_line(f"{sown} + {days} days = {off}")
    sheet = sheet_of(register.house, planting)
    for other in _on(register, sheet):
        keys = plan.plantings_of(other)[0].keys
        if other is variety or other.dome_days is None or not register.of_id("sow_date", **keys):
            continue
        theirs = date.fromisoformat(w.amount("sow_date", **keys)) + timedelta(
            days=int(w.fact(other, "dome_days"))
        )
        if theirs < off:
            off = theirs
            w.add_line(f"{other.spoken} under the same dome is due on {off}")
    _up_by_then(register, variety, sheet, (off - sown).days)
    w.date(off, "the first day of a variety under the dome", "earlier")


def _up_by_then(register: Register, variety: Variety, sheet: str, days: int) -> None:
    """A variety that another one of its sheet uncovers before it is up."""
    up, own = variety.germination_days, variety.dome_days
    if up is None or own is None or days >= up or own < up:  # its own days are told with the variety
        return
    what = f"the dome of {sheet} comes off after {days} days, and {variety.spoken} is up after {up}"
    allowed = "One dome covers a sheet, and comes off for the first variety under it"
    remedy = f"Give {variety.spoken} a sheet of its own"
    register.report_problem(register.house, f"sow_layout.{sheet}", what, allowed, remedy, "", "warning")


def _warmth(register: Register, sheet: str) -> None:
    w = Working(register, "sheet_warmth", f"Warmth of {sheet.replace('_', ' ')}", TOPIC, sheet=sheet)
    wanted = [
        (variety, w.fact(variety, "germination_temperature", "degC"))
        for variety in _on(register, sheet)
        if variety.germination_temperature is not None
    ]
    if not wanted:
        raise Withheld(
            "no variety of the sheet gives germination_temperature", "varieties.germination_temperature"
        )
    low, high = max(t for _, t in wanted) - EITHER_WAY, min(t for _, t in wanted) + EITHER_WAY
    if low > high + 1e-6:
        _no_common(register, sheet, wanted)
        raise Withheld("the varieties of the sheet come up at no common warmth")
    _mat(register, sheet, low, high)
    w.add_line(f"each its own, {EITHER_WAY:g} K either way: {low:g} to {high:g} degC suits all of them")
    w.source("how far one warmth serves either way: our own default")
    w.band(low, None, high, "degC", 1.0, "what all of them bear")


def _no_common(register: Register, sheet: str, wanted: list[tuple[Variety, float]]) -> None:
    groups: list[list[tuple[Variety, float]]] = []
    for one in sorted(wanted, key=lambda pair: pair[1]):
        if groups and one[1] - groups[-1][0][1] <= 2 * EITHER_WAY + 1e-6:
            groups[-1].append(one)
        else:
            groups.append([one])
    told = ", ".join(f"{v.spoken} {written(v, 'germination_temperature')}" for v, _ in wanted)
    split = " / ".join(", ".join(v.spoken for v, _ in group) for group in groups)
    what = f"{sheet} has no warmth that suits all: {told}"
    allowed = f"Under one dome there is one warmth, {EITHER_WAY:g} K either way"
    register.report_problem(
        register.house, f"sow_layout.{sheet}", what, allowed, f"Split it: {split}", "", "warning"
    )


def _mat(register: Register, sheet: str, low: float, high: float) -> None:
    germination = register.house.germination
    if germination is None or germination.heat_mat_setpoint is None:
        return
    if not low - 1e-6 <= germination.heat_mat_setpoint.to("degC") <= high + 1e-6:
        what = f"the heat mat is set to {germination.heat_mat_setpoint.written}, and {sheet} wants {low:g} to {high:g} degC"
        allowed = "A mat too warm or too cold costs seedlings"
        remedy = "Leave heat_mat_setpoint out: then the page sends people to the warmth of the sheet"
        register.report_problem(germination, "heat_mat_setpoint", what, allowed, remedy, "", "warning")
