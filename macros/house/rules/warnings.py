"""What a build goes through with, but tells: W02, W04, W06, W10, and what is assumed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from macros.ground.problems import Problem
from macros.ground.records import records_of
from macros.house.records.house import House
from macros.house.records.room import WaterSource
from macros.house.rules.report import problem_at


def check_warnings(house: House, day: date | None) -> Iterator[Problem]:
    """Warnings on the day given; those that need a day are left out without one."""
    day = day or house.house.as_of
    if day is not None:
        yield from _overdue(house, day)
    yield from _water(house.water_source)
    for record, name in house.unfilled():
        what = f'{name} still reads "{getattr(record, name)}"'
        allowed = "Every sheet and the emergency pages say DRAFT until it is real"
        remedy = "Write the number" if record is house.house.emergency else "Write what is true in this house"
        yield problem_at(record, name, what, allowed, remedy, "W10", "fill this in")
    for warn in (_racks, _breakers, _policies, _cleaning):
        yield from warn(house)
    for record in records_of(house):
        if getattr(record, "basis", None) == "assumption":
            what, allowed = "these values are assumed", "Amounts rest on them"
            remedy = "Measure them, or copy them from the label, and write basis: measured or basis: label"
            yield problem_at(record, "basis", what, allowed, remedy, severity="measure this")


LEAST_KEPT = 2
"""[years] A daily record is kept at least: 21 CFR 112.164, from memory."""
_SALTS = (("sodium", 50), ("chloride", 140))
"""Most [mg/L] a plant in a tank bears: `water-sodium-chloride` in the published sources, as SOP-08 says."""
_TRIPS = 30
"""Most [mA] that still guards a person: IEC 60364-4-41, 415.1 (from memory)."""


def _overdue(house: House, day: date) -> Iterator[Problem]:
    water = house.water_source
    if water.tested is not None and (day - water.tested).days > 365:
        what = f"the tap water was tested on {water.tested}, over 12 months before {day}"
        yield problem_at(water, "tested", what, "Once a year", "Have it tested again", "W02", "warning")
    for meter in house.meters:
        due = meter.last + timedelta(days=meter.calibrate_every.to("day")) if meter.last else None
        if due is not None and due < day:
            what, allowed = (
                f"{meter.name} was due for calibration on {due}",
                f"Every {meter.calibrate_every.written}",
            )
            yield problem_at(
                meter, "last", what, allowed, "Calibrate it and write the date", "W04", "warning"
            )


def _cleaning(house: House) -> Iterator[Problem]:
    """What makes a page or a critical step fall away without a word, where the rest of it is written."""
    if house.sanitizing is None:
        return
    rinse, loop = house.sanitizing.rinse, house.sanitizing.tasks.get("loop_circulate")
    if rinse is not None and rinse.residue_allowed is not None and rinse.verify_with is None:
        what = (
            "residue_allowed is written, and nothing reads it: the pages have no step that checks the residue"
        )
        remedy = "Write the name of the strip"
        yield problem_at(
            rinse, "verify_with", what, "A strip that sees this sanitizer", remedy, severity="warning"
        )
    if loop is not None and loop.level is None:
        what = "loop_circulate has no level, so its page is not printed"
        yield problem_at(loop, "level", what, "The level the loop is run at", "Write it", severity="warning")


def _water(water: WaterSource) -> Iterator[Problem]:
    remedy = "Blend in rain or low-mineral water"
    if water.alkalinity_as_caco3.to("mg/L") > 150:
        what = f"the alkalinity is {water.alkalinity_as_caco3.written}"
        allowed = "Over 150 mg/L the acid needed brings too much with it"
        yield problem_at(water, "alkalinity_as_caco3", what, allowed, remedy, "W06", "warning")
    for name, most in _SALTS:
        given = getattr(water, name)
        if given is not None and given.to("mg/L") > most:
            what = f"the tap water holds {given.written} of {name}"
            allowed = f"Over {most} mg/L it builds up in the tank and harms the crop"
            yield problem_at(water, name, what, allowed, remedy, severity="warning")


def _racks(house: House) -> Iterator[Problem]:
    for system in house.systems:
        if system.rack is not None and system.rack.fixed_to_wall is False:
            what = f"the rack of system {system.id} is not fixed to the wall"
            allowed = "A rack with flooded trays is heavy at the top and tips"
            remedy = "Fix it before the next flood"
            yield problem_at(system.rack, "fixed_to_wall", what, allowed, remedy, severity="warning")


def _breakers(house: House) -> Iterator[Problem]:
    for circuit in house.electricity.circuits if house.electricity else ():
        if circuit.rcd is not None and circuit.rcd.to("A") > _TRIPS / 1000 + 1e-9:
            what = f"the residual-current device of {circuit.id} trips at {circuit.rcd.written}"
            allowed = f"Over {_TRIPS} mA it guards wires, not people; everything here is wet"
            remedy = "Ask a licensed electrician for a finer one"
            yield problem_at(circuit, "rcd", what, allowed, remedy, severity="warning")


def _policies(house: House) -> Iterator[Problem]:
    """What is not given is not judged."""
    policies = house.policies
    kept = policies.daily_log_kept_for if policies is not None else None
    if policies is not None and kept is not None and kept.to("day") < LEAST_KEPT * 365:
        what = f"records are kept for {kept.written}"
        allowed = f"{LEAST_KEPT} years at least, as the page of requirements says (G-09)"
        remedy = f"Keep them {LEAST_KEPT} years, or as long as your inspector asks where that is more"
        yield problem_at(policies, "daily_log_kept_for", what, allowed, remedy, severity="warning")
    if policies is not None and policies.nobody_eats_in_room is False:
        what, allowed = "eating in the room is allowed", "Chemicals and feed are handled there"
        yield problem_at(policies, "nobody_eats_in_room", what, allowed, "Forbid it", severity="warning")
    if policies is not None and policies.allergen_notice_to_kitchen is False:
        what = "the kitchen is not told of a new plant"
        allowed = "A flower or leaf new to a dish can hurt a guest who does not bear it"
        remedy = "Tell the kitchen before the first box"
        yield problem_at(policies, "allergen_notice_to_kitchen", what, allowed, remedy, severity="warning")
