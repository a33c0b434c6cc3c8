"""Light over a day, hours for a target, energy and heat of the lamps."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.amounts.water.watering import light_times, planted
from macros.calculations.room import light
from macros.house.records.crops import Variety
from macros.house.records.systems import System

TOPIC = "Light"
LONGEST_DAY = 18.0
"""[h] Light a day above this is told: common practice, no source."""
BTU_PER_WATT_HOUR = 3.412142
SOURCE = "definition of the daily light integral; Torres and Lopez, Purdue Extension HO-238-W"


def fill(register: Register) -> None:
    """Enter light of systems and nursery, hours for each planted variety, energy and heat."""
    house = register.house
    for system in house.systems:
        if system.lights is not None:
            with register.attempt("dli", system.lights, "canopy_ppfd", system=system.id):
                _dli(register, system)
    if house.nursery is not None:
        with register.attempt("dli", house.nursery, "canopy_ppfd", place="nursery"):
            _dli(register, None)
    for variety in planted(register):
        system = house.system(variety.system)
        if system.lights is not None:
            with register.attempt("light_hours", variety, "dli_target", variety=variety.id):
                _hours(register, variety, system)
    with register.attempt("energy_day", house, "systems"):
        _energy(register)
    for system in house.systems:
        if system.lights is not None:
            with register.attempt("heat_load", system.lights, "power_per_fixture", system=system.id):
                _heat(register, system)


def _dli(register: Register, system: System | None) -> None:
    of = {"system": system.id} if system else {"place": "nursery"}
    w = Working(register, "dli", "Light over a day", TOPIC, **of)
    place = system.lights if system else register.house.nursery
    ppfd = w.fact(place, "canopy_ppfd", "umol/m^2/s")
    _, _, hours = light_times(w, place)  # type: ignore[arg-type]
    total = light.daily_light_integral(ppfd, hours)
    w.source(SOURCE)
    w.add_line(f"{brief(ppfd)} x {brief(hours)} h x 0.0036 = {brief(total)} mol/m²/day")
    w.number(total, "mol/m^2/day", "nearest", "to a tenth", step=0.1)


def _hours(register: Register, variety: Variety, system: System) -> None:
    name = variety.id.replace("_", " ")
    w = Working(register, "light_hours", f"Hours of light for {name}", TOPIC, variety=variety.id)
    target = w.fact(variety, "dli_target", "mol/m^2/day")
    ppfd = w.fact(system.lights, "canopy_ppfd", "umol/m^2/s")
    _, _, set_ = light_times(w, system.lights)
    hours = light.hours_for(target, ppfd)
    w.source(SOURCE)
    w.add_line(
        f"{brief(target)} mol/m²/day / ({brief(ppfd)} x 0.0036) = {brief(hours)} h; set {brief(set_)} h"
    )
    assert system.lights is not None
    if hours > 24:
        what = f"{variety.id} would need {brief(hours, 3)} h of this light a day"
        remedy = "Hang the lamps lower, add lamps, or grow it elsewhere"
        register.report_problem(system.lights, "canopy_ppfd", what, "A day has 24 h", remedy)
    elif hours > LONGEST_DAY:
        what = f"{variety.id} needs {brief(hours, 3)} h of this light a day"
        allowed = f"Over {LONGEST_DAY:g} h many plants suffer (common practice, no source)"
        remedy = "Hang the lamps lower or add lamps"
        register.report_problem(system.lights, "canopy_ppfd", what, allowed, remedy, "", "warning")
    elif set_ < hours:
        w.add_line(f"the lamps as set give {brief(100 * set_ / hours, 3)} % of the target: a note, no fault")
    w.number(hours, "h", "up", "hours of light are rounded up", step=0.5, tool="timer")


def system_power(w: Working, system: System) -> float:
    """Lamps of a system [W]: fixtures on each shelf, a shelf for each tray."""
    fixtures, each = (
        w.fact(system.lights, "fixtures_per_shelf"),
        w.fact(system.lights, "power_per_fixture", "W"),
    )
    return fixtures * each * w.fact(system.trays, "count")


def _energy(register: Register) -> None:
    w = Working(register, "energy_day", "Energy of the lamps a day", TOPIC)
    house = register.house
    pieces = []
    for system in house.systems:
        _, _, hours = light_times(w, system.lights)
        pieces.append((system_power(w, system), hours))
    if house.nursery is not None and house.nursery.light_power is not None:
        _, _, hours = light_times(w, house.nursery)  # type: ignore[arg-type]
        pieces.append((w.fact(house.nursery, "light_power", "W"), hours))
    energy = sum(power * hours for power, hours in pieces) / 1000
    w.add_line(
        "("
        + " + ".join(f"{brief(p)} W x {brief(h)} h" for p, h in pieces)
        + f") / 1000 = {brief(energy)} kWh a day; {brief(energy)} kWh x 365 = {brief(energy * 365)} kWh a year"
    )
    if house.electricity is not None and house.electricity.price is not None:
        price = w.raw(house.electricity, "price")
        w.add_line(
            f"{brief(energy)} kWh x {brief(price.value)} {price.currency}/kWh = {brief(energy * price.value)} "
            f"{price.currency} a day"
        )
    w.number(energy, "kWh", "up", "energy is rounded up", step=0.01)


def _heat(register: Register, system: System) -> None:
    w = Working(register, "heat_load", "Heat of the lamps", TOPIC, system=system.id)
    power = system_power(w, system)
    w.add_line(
        f"{brief(power)} W of lamps give {brief(power)} W of heat, {power * BTU_PER_WATT_HOUR:.0f} BTU/h"
    )
    w.number(power, "W", "up", "heat is rounded up", step=1.0)
