"""What a cleanout and a crop cost. Shown, never decided on: an estimate of the house's own prices."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.feed.parts import dose_unit, rate_of
from macros.amounts.labour.timing import stages_of
from macros.amounts.room.light import system_power
from macros.amounts.water.watering import light_times, planted
from macros.ground.records import Record
from macros.house.records.crops import Variety
from macros.house.records.systems import System

TOPIC = "Costs"
SEED_AND_PLUG = 0.06
LABOUR_MINUTES = 4.0
"""Money for seed and plug, and minutes of work, for one plant: our own defaults, no source."""


def fill(register: Register) -> None:
    """Enter the costs of a cleanout of every system and of every planted variety."""
    house = register.house
    if house.labour is None or house.labour.cost is None:
        return
    for system in house.systems:
        with register.attempt("cost_cleanout", house.labour, "cost", system=system.id):
            _cleanout(register, system)
    for variety in planted(register):
        with register.attempt("cost_crop", variety, "spacing", variety=variety.id):
            _crop(register, variety)


def _price_per(unit: str, w: Working, record: Record) -> float:
    """The price of 1 mL of a liquid stock, of 1 g of a dry one."""
    price, size = w.raw(record, "price_per_container"), w.raw(record, "container")
    if unit == "mL" and size.unit in ("kg", "g", "lb", "oz_wt"):
        raise Withheld("a stock sold by weight has no price for a volume")
    held = w.fact(record, "container", unit)
    if held <= 0:
        raise Withheld("a container of nothing has no price for a volume")
    return float(price.value) / held


def _currency(register: Register) -> str:
    return register.house.house.currency or ""


def _cleanout(register: Register, system: System) -> None:
    w = Working(register, "cost_cleanout", f"Cost of a cleanout of {system.id}", TOPIC, system=system.id)
    house = register.house
    stock = 0.0
    for amount in register.of_id("stock_total", system=system.id):
        chemical = house.chemical(dict(amount.of)["chemical"])
        stock += w.amount("stock_total", **dict(amount.of)) * _price_per("mL", w, chemical)
    feed = 0.0
    for part in house.nutrients.parts_in_order():
        stage = house.nutrients.stages.get(system.fill_stage)
        if stage is not None and part.id in stage.rates:
            price = _price_per(dose_unit(stage, part), w, part)
            feed += w.amount("dose_full", system=system.id, part=part.id) * price
    assert house.labour is not None
    wage = w.raw(house.labour, "cost").value
    if not house.cleanout_tasks:
        raise Withheld("the house does not give cleanout_tasks", "cleanout_tasks")
    minutes = sum(task.hands_on for task in stages_of(w))
    work = minutes / 60 * wage
    unit = _currency(register)
    w.add_line(
        f"{brief(minutes)} min / 60 x {brief(wage)} {unit}/h = {brief(work)} {unit} of work; "
        f"stock {brief(stock)} + feed {brief(feed)} + work {brief(work)} = {brief(stock + feed + work)} {unit}"
    )
    w.number(stock + feed + work, unit, "up", "a cost is rounded up", step=0.01, as_read=True)


def _crop(register: Register, variety: Variety) -> None:
    """One plant, from planting to first harvest."""
    name = variety.id.replace("_", " ")
    w = Working(register, "cost_crop", f"Cost of one plant, {name}", TOPIC, variety=variety.id)
    house = register.house
    system = house.system(variety.system)
    young, old = w.fact(variety, "transplant_day_min"), w.fact(variety, "transplant_day_max")
    days = w.fact(variety, "first_harvest_day") - (young + old - 1) // 2
    places = w.amount("sites_per_flood_tray", variety=variety.id)
    _, _, hours = light_times(w, system.lights)
    shelf = system_power(w, system) / w.fact(system.trays, "count") / 1000
    energy = shelf * hours * days / places
    assert house.labour is not None
    tariff = w.raw(house.electricity, "price").value if house.electricity else None
    if tariff is None:
        raise Withheld("the house does not give electricity.price", "electricity.price")
    light = energy * tariff
    stage = house.nutrients.stages.get(system.fill_stage)
    water = w.fact(variety, "water_per_day", "L") * days
    feed = sum(
        water * rate_of(w, stage, part) * _price_per(dose_unit(stage, part), w, part)
        for part in house.nutrients.parts_in_order()
        if stage is not None and part.id in stage.rates
    )
    work = LABOUR_MINUTES / 60 * w.raw(house.labour, "cost").value
    unit = _currency(register)
    total = light + feed + SEED_AND_PLUG + work
    w.assume(
        f"{SEED_AND_PLUG:g} {unit} for seed and plug and {LABOUR_MINUTES:g} min of work a plant (our own defaults)"
    )
    w.add_line(
        f"{brief(shelf * 1000)} W x {brief(hours)} h x {brief(days)} days / 1000 / {places} plants = {brief(energy)} kWh; "
        f"{brief(energy)} kWh x {brief(tariff)} {unit}/kWh = {brief(light)} {unit} of light"
    )
    w.add_line(
        f"light {brief(light)} + feed {brief(feed)} + seed and plug {brief(SEED_AND_PLUG)} + work {brief(work)} = "
        f"{brief(total)} {unit}"
    )
    w.number(total, unit, "up", "a cost is rounded up", step=0.01, as_read=True)
