"""What a build goes through with, but tells: W02, W04, W06, W10, and what is assumed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from macros.ground.problems import Problem
from macros.ground.records import Record, records_of
from macros.house.records.house import House
from macros.house.rules.report import told


def check_warnings(house: House, day: date | None) -> list[Problem]:
    """Warnings on the day given; those that need a day are left out without one."""
    day = day or house.house.as_of
    problems: list[Problem] = []
    water = house.water_source
    if day is not None and water.tested is not None and (day - water.tested).days > 365:
        problems.append(
            told(
                water,
                "tested",
                f"the tap water was tested on {water.tested}, over 12 months before {day}",
                "Once a year",
                "Have it tested again",
                "W02",
                "warning",
            )
        )
    if day is not None:
        for meter in house.meters:
            due = meter.last + timedelta(days=meter.calibrate_every.to("day")) if meter.last else None
            if due is not None and due < day:
                problems.append(
                    told(
                        meter,
                        "last",
                        f"{meter.name} was due for calibration on {due}",
                        f"Every {meter.calibrate_every.written}",
                        "Calibrate it and write the date",
                        "W04",
                        "warning",
                    )
                )
    if water.alkalinity_as_caco3.to("mg/L") > 150:
        problems.append(
            told(
                water,
                "alkalinity_as_caco3",
                f"the alkalinity is {water.alkalinity_as_caco3.written}",
                "Over 150 mg/L the acid needed brings too much with it",
                "Blend in rain or low-mineral water",
                "W06",
                "warning",
            )
        )
    problems += [
        told(
            record,
            name,
            f'{name} still reads "{getattr(record, name)}"',
            "Every sheet and the emergency pages say DRAFT until it is real",
            "Write the number" if record is house.house.emergency else "Write what is true in this house",
            "W10",
            "fill this in",
        )
        for record, name in house.unfilled()
    ]
    problems += [told(*one, severity="warning") for one in _unsafe(house)]
    return problems + [_assumed(record) for record in records_of(house) if _is_assumed(record)]


_Warning = tuple[Record, str, str, str, str]
"""Record, field, what was read, what is allowed, what to do."""

_SALTS = (("sodium", 50), ("chloride", 140))
"""Most [mg/L] a plant in a tank bears: `water-sodium-chloride` in the published sources, as SOP-08 says."""
_TRIPS = 30
"""Most [mA] that still guards a person: IEC 60364-4-41, 415.1 (from memory)."""


def _unsafe(house: House) -> Iterator[_Warning]:
    """Facts that say something is not as the pages take it to be. What is not given is not judged."""
    for system in house.systems:
        if system.rack is not None and system.rack.fixed_to_wall is False:
            yield (
                system.rack,
                "fixed_to_wall",
                f"the rack of system {system.id} is not fixed to the wall",
                "A rack with flooded trays is heavy at the top and tips",
                "Fix it before the next flood",
            )
    for circuit in house.electricity.circuits if house.electricity else ():
        if circuit.rcd is not None and circuit.rcd.to("A") > _TRIPS / 1000 + 1e-9:
            yield (
                circuit,
                "rcd",
                f"the residual-current device of {circuit.id} trips at {circuit.rcd.written}",
                f"Over {_TRIPS} mA it guards wires, not people; everything here is wet",
                "Ask a licensed electrician for a finer one",
            )
    policies = house.policies
    if policies is not None and policies.nobody_eats_in_room is False:
        yield (
            policies,
            "nobody_eats_in_room",
            "eating in the room is allowed",
            "Chemicals and feed are handled there",
            "Forbid it",
        )
    if policies is not None and policies.allergen_notice_to_kitchen is False:
        yield (
            policies,
            "allergen_notice_to_kitchen",
            "the kitchen is not told of a new plant",
            "A flower or leaf new to a dish can hurt a guest who does not bear it",
            "Tell the kitchen before the first box",
        )
    for name, most in _SALTS:
        given = getattr(house.water_source, name)
        if given is not None and given.to("mg/L") > most:
            yield (
                house.water_source,
                name,
                f"the tap water holds {given.written} of {name}",
                f"Over {most} mg/L it builds up in the tank and harms the crop",
                "Blend in rain or low-mineral water",
            )


def _is_assumed(record: Record) -> bool:
    return getattr(record, "basis", None) == "assumption"


def _assumed(record: Record) -> Problem:
    return told(
        record,
        "basis",
        "these values are assumed",
        "Amounts rest on them",
        "Measure them, or copy them from the label, and write basis: measured or basis: label",
        severity="measure this",
    )
