"""What a full bucket weighs, how far it may be filled, how many trips a tank would take."""

from __future__ import annotations

import math

from macros.amounts.engine.number_format import brief, told
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.calculations.labour.lifting import limit_of_lift
from macros.house.records.systems import System
from macros.house.records.tools import MeasuringTool
from macros.house.rules.report import written

TOPIC = "Carrying"
WATER = 1.0
"""[kg/L] Water is 0.998 at 20 degC (from memory); 1.0 is the safe side for a load."""


def fill(register: Register) -> None:
    """Enter the loads of every container with a known empty mass, and the trips a tank takes with the largest."""
    for system in register.house.systems:
        if system.rack is not None:
            with register.attempt("shelf_load", system.rack, "shelf_rating", system=system.id):
                _shelf(register, system)
    lifting = register.house.lifting
    buckets = [tool for tool in register.house.measuring_tools if tool.tare is not None]
    if lifting is None:
        return
    _bag(register)
    with register.attempt("lift_limit", lifting, "reach"):
        _limit(register)
    for bucket in buckets:
        keys = {"container": _slug(bucket)}
        with register.attempt("lift_bucket", bucket, "tare", **keys):
            w = Working(register, "lift_bucket", f"A full {bucket.name}", TOPIC, **keys)
            volume, tare = w.fact(bucket, "capacity", "L"), w.fact(bucket, "tare", "kg")
            limit = w.fact(lifting, "one_person_limit", "kg")
            mass = volume * WATER + tare
            w.add_line(
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
            w.add_line(
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
                w.add_line(f"{brief(full)} L / {brief(most)} L = {brief(full / most)}: use the hose")
                w.count(math.ceil(full / most - 1e-9), "trips", "trips are counted up")


def _bag(register: Register) -> None:
    """The bag of potting mix against both limits."""
    plan, lifting = register.house.crop_plan, register.house.lifting
    moved = plan.moved_to_soil if plan else None
    if moved is None or lifting is None:
        return
    with register.attempt("lift_bucket", moved, "bag_mass", container="bag"):
        w = Working(register, "lift_bucket", "A bag of potting mix", TOPIC, container="bag")
        mass = w.fact(moved, "bag_mass", "kg")
        one, two = w.fact(lifting, "one_person_limit", "kg"), w.fact(lifting, "two_person_limit", "kg")
        w.add_line(f"{brief(mass)} kg; one person lifts {brief(one)} kg, two {brief(two)} kg")
        if mass > two:
            what = f"a bag of {written(moved, 'bag_mass')} is over what two people lift"
            allowed = f"two_person_limit is {lifting.two_person_limit.written}"
            register.report_problem(moved, "bag_mass", what, allowed, "Buy smaller bags, or use a trolley")
        if mass > one:
            w.assume("the bag is over the one-person limit: two people, or split it")
        w.number(mass, "kg", "up", "a load is rounded up", bounds=(None, one))


def _limit(register: Register) -> None:
    """What the lifting equation recommends for the reach and heights of this house."""
    w = Working(register, "lift_limit", "Recommended weight for one rare lift", TOPIC)
    lifting = register.house.lifting
    reach, start, end = (w.fact(lifting, name, "cm") for name in ("reach", "lift_from", "lift_to"))
    limit = limit_of_lift(reach, start, end)
    own = w.fact(lifting, "one_person_limit", "kg")
    w.source(
        "Waters, Putz-Anderson, Garg, DHHS (NIOSH) 94-110, rev. 9/2021: revised lifting equation, metric form"
    )
    w.add_line(
        f"hands {brief(reach)} cm in front, from {brief(start)} to {brief(end)} cm: 23 kg x multipliers = {brief(limit)} kg at "
        f"the worse end; the house's own limit is {brief(own)} kg"
    )
    if limit < own:
        assert lifting is not None
        what = (
            f"one_person_limit {lifting.one_person_limit.written} is over the {brief(limit, 3)} kg the lifting equation "
            "recommends for this reach and height"
        )
        allowed = "NIOSH 94-110; the house's limit is its own"
        remedy = "Carry less, or lift closer to the body and from bench height"
        register.report_problem(lifting, "one_person_limit", what, allowed, remedy, "", "warning")
    w.number(limit, "kg", "down", "a limit is rounded down", step=0.1)


def _shelf(register: Register, system: System) -> None:
    """A tray filled to its wall against half the shelf's rating."""
    w = Working(register, "shelf_load", "Water on one shelf, full to the wall", TOPIC, system=system.id)
    rack = system.rack
    assert rack is not None
    sizes = [w.fact(system.trays, name, "m") for name in ("inside_length", "inside_width", "wall_height")]
    mass = math.prod(sizes) * 1000 * WATER
    w.add_line(
        f"{' m x '.join(brief(size) for size in sizes)} m x 1000 L/m3 = {brief(mass)} L, {brief(mass)} kg"
    )
    if rack.shelf_rating is None:
        what = f"the rack of system {system.id} has no shelf_rating"
        allowed = "A shelf flooded to the wall must stay under half of it"
        register.report_problem(rack, "shelf_rating", what, allowed, "Read the maker's plate", "", "warning")
        raise Withheld(
            "the house does not give the shelf's rating",
            rack.key("shelf_rating"),
            str(rack.place("shelf_rating")),
        )
    rating = w.fact(rack, "shelf_rating", "kg")
    w.add_line(
        f"half the rating of {brief(rating)} kg is {brief(rating / 2)} kg; tray, crop and lamps come on top"
    )
    w.source("half the rating for water: common practice, no source")
    if mass > rating / 2:
        what = f"a shelf of system {system.id} flooded to the wall carries {told(mass, 'kg', register.house.us)} of water"
        allowed = f"Half of its rating is {told(rating / 2, 'kg', register.house.us)}"
        remedy = "Lower walls, shorter trays, or a stronger rack"
        register.report_problem(rack, "shelf_rating", what, allowed, remedy)
    w.number(mass, "kg", "up", "a load is rounded up", bounds=(None, rating / 2))


def _slug(tool: MeasuringTool) -> str:
    return tool.id or tool.name.replace(" ", "_")
