"""When to order again, over every user of a bottle, and the nitrogen of a tank that is let go."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.labour.stock_use import acid_use, dip_use, part_use
from macros.calculations.labour.stock import reorder_point
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import NutrientPart
from macros.house.records.systems import System

TOPIC = "Supplies"


def fill(register: Register) -> None:
    """Enter the reorder point of every feed part and the nitrogen of every tank."""
    house = register.house
    if house.supplies is not None:
        for part in house.nutrients.parts_in_order():
            with register.attempt("reorder_point", house.supplies, "lead_time", part=part.id):
                _reorder(register, part)
        for chemical in house.chemicals:
            with register.attempt("reorder_point", house.supplies, "lead_time", chemical=chemical.id):
                _reorder_chemical(register, chemical)
    for system in house.systems:
        with register.attempt(
            "load_nitrogen", house.nutrients, "total_nitrogen_at_leafy_rate", system=system.id
        ):
            _nitrogen(register, system)


def _reorder(register: Register, part: NutrientPart) -> None:
    w = Working(register, "reorder_point", f"Order again: {part.name}", TOPIC, part=part.id)
    supplies = register.house.supplies
    pieces = [(system.id, part_use(w, part, system)) for system in register.house.systems]
    use = sum(each for _, each in pieces)
    lead, safety = w.fact(supplies, "lead_time", "day"), w.fact(supplies, "safety_fraction")
    point = reorder_point(use, lead, safety)
    w.add_line(
        "("
        + " + ".join(f"{name} {brief(each)}" for name, each in pieces)
        + f") mL/day x {brief(lead)} days x "
        f"{brief(1 + safety)} = {brief(point)} mL"
    )
    if part.container is not None and use > 0:
        try:
            bottle = w.fact(part, "container", "mL")
        except ValueError:
            bottle = 0.0  # a part sold by weight
        if bottle:
            w.add_line(f"a bottle of {brief(bottle)} mL lasts {brief(bottle / use, 3)} days")
    w.number(point, "mL", "up", "a reorder point is rounded up", step=10.0)


def _reorder_chemical(register: Register, chemical: Chemical) -> None:
    """Days of dips and acid, and the greatest cleanout, for that may fall in them."""
    w = Working(register, "reorder_point", f"Order again: {chemical.name}", TOPIC, chemical=chemical.id)
    house = register.house
    dip, every = dip_use(w, chemical)
    acid = (
        sum(acid_use(w, chemical, system) for system in house.systems)
        if chemical in house.chemicals_with_role("acid")[:1]
        else 0.0
    )
    cleanouts = [
        w.amount("stock_total", **dict(amount.of))
        for amount in register.of_id("stock_total", chemical=chemical.id)
    ]
    use, most = dip / every + acid, max(cleanouts, default=0.0)
    if use <= 0 and most <= 0:
        raise Withheld(f"{chemical.name} has no use that comes back; count it every week")
    supplies = house.supplies
    lead, safety = w.fact(supplies, "lead_time", "day"), w.fact(supplies, "safety_fraction")
    point = reorder_point(use, lead, safety) + most
    w.add_line(
        f"{brief(use)} mL/day x {brief(lead)} days x {brief(1 + safety)} + one cleanout {brief(most)} mL = "
        f"{brief(point)} mL"
    )
    w.number(point, "mL", "up", "a reorder point is rounded up", step=10.0)


def _nitrogen(register: Register, system: System) -> None:
    w = Working(register, "load_nitrogen", "Nitrogen in a tank let go", TOPIC, system=system.id)
    house = register.house
    full = w.amount("res_fill", system=system.id)
    stage = house.nutrients.stages.get(system.fill_stage)
    w.raw(system, "fill_stage")
    if stage is not None and stage.total_nitrogen is not None:
        each = w.fact(stage, "total_nitrogen", "mg/L")
    else:
        each = w.fact(house.nutrients, "total_nitrogen_at_leafy_rate", "mg/L")
        if system.fill_stage != "leafy":
            w.assume("nitrogen as at the leafy rate; set total_nitrogen of the stage")
    w.add_line(
        f"{brief(full)} L{w.litres_again()} x {brief(each)} mg/L / 1000 = {brief(full * each / 1000)} g"
    )
    w.number(full * each / 1000, "g", "up", "what is let go is rounded up", step=0.1, print_unit="g")
