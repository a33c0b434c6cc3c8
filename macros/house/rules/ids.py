"""Rules on names: every id once (E32), every name that is used exists."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from macros.ground.problems import Problem
from macros.ground.records import Record
from macros.ground.seen import as_seen
from macros.house.records.crops import CropPlan
from macros.house.records.house import House
from macros.house.records.log import LogRow, RecordRow
from macros.house.rules.report import problem_at, told_once, unknown_name


def check_ids(house: House) -> Iterator[Problem]:
    """Doubles, and names that lead nowhere."""
    lists: list[tuple[str, Sequence[Record], str]] = [
        ("systems", house.systems, "id"),
        ("chemicals", house.chemicals, "id"),
        ("chemicals and nutrients.parts", [*house.chemicals, *house.nutrients.parts], "name"),
        ("nutrients.parts", house.nutrients.parts, "id"),
        ("measuring_tools", house.measuring_tools, "name"),
        ("meters", house.meters, "name"),
        ("test_strips", house.test_strips, "id"),
        ("test_strips", house.test_strips, "name"),
        ("varieties", house.varieties, "id"),
        ("cleanout_tasks", house.cleanout_tasks, "id"),
        ("people", house.people, "role"),
        ("own_cautions", house.own_cautions, "id"),
    ]
    if house.crop_plan is not None:
        lists.append(("crop_plan.other_systems", house.crop_plan.other_systems, "system"))
    if house.electricity is not None:
        lists.append(("electricity.circuits", house.electricity.circuits, "id"))
    for name, records, field in lists:
        yield from _doubles(name, records, field)
    yield from told_once(_names(house))
    yield from _plates_used_twice(house)
    yield from _address(house)
    yield from _acid_lowers_ph(house)


def _names(house: House) -> Iterator[Problem]:
    """Names of systems, stocks, varieties and circuits that the house does not have."""
    systems = [system.id for system in house.systems]
    stocks = [chemical.id for chemical in house.chemicals]
    yield from _names_of_crops(house, systems)
    for task in house.sanitizing.tasks.values() if house.sanitizing else ():
        yield from unknown_name(task, "chemical", task.chemical, "stock of the house", stocks)
    if house.electricity is not None:
        circuits = [circuit.id for circuit in house.electricity.circuits]
        for load in house.electricity.loads:
            yield from unknown_name(load, "circuit", load.circuit, "circuit of the house", circuits)
    yield from _names_of_rows(house, systems, stocks)


def _names_of_crops(house: House, systems: list[str]) -> Iterator[Problem]:
    varieties = [variety.id for variety in house.varieties]
    for variety in house.varieties:
        yield from unknown_name(variety, "system", variety.system, "system of the house", systems)
    for sheet, name in ((sheet, name) for sheet, names in house.sow_layout.items() for name in names):
        yield from unknown_name(house, f"sow_layout.{sheet}", name, "variety of the house", varieties)
    if house.crop_plan is not None:
        yield from _names_of_plan(house.crop_plan, systems, varieties)


def _names_of_rows(house: House, systems: list[str], stocks: list[str]) -> Iterator[Problem]:
    """Names in the log and in the records."""
    rows: tuple[LogRow | RecordRow, ...] = (*house.log, *house.records)
    for row in rows:
        if row.system is not None:
            yield from unknown_name(row, "system", row.system, "system of the house", systems, "Mend it")
    for line in house.log:
        if line.acid_chemical is not None:
            stock = line.acid_chemical
            yield from unknown_name(line, "acid_chemical", stock, "stock of the house", stocks, "Mend it")


def _names_of_plan(plan: CropPlan, systems: list[str], varieties: list[str]) -> Iterator[Problem]:
    for block in plan.blocks:
        yield from unknown_name(block, "variety", block.variety, "variety of the house", varieties)
    for own in plan.other_systems:
        yield from unknown_name(own, "system", own.system, "system of the house", systems)


def _acid_lowers_ph(house: House) -> Iterator[Problem]:
    for row in house.log:
        if row.acid is None or row.ph is None or row.ph_after is None or row.ph_after < row.ph:
            continue
        what = f"pH {row.ph:g} before acid and {row.ph_after:g} after it"
        remedy = "Look at the row: pens, columns, or pH-up by mistake"
        yield problem_at(row, "ph_after", what, "Acid lowers pH", remedy)


def _doubles(name: str, records: Sequence[Record], field: str) -> Iterator[Problem]:
    seen: dict[str, Record] = {}
    for record in records:
        value = str(getattr(record, field))
        first = seen.setdefault(as_seen(value), record)
        if first is not record:
            what = f"{name}: two entries named {value} (the first at {first.place(field)})"
            yield problem_at(record, field, what, "Each name stands for one thing", "Rename one", "E32")


def _plates_used_twice(house: House) -> Iterator[Problem]:
    if house.crop_plan is None:
        return
    seen: dict[str, str] = {}
    for block in house.crop_plan.blocks:
        for plate in block.cup_plates:
            first = seen.setdefault(plate, block.variety)
            if first != block.variety or block.cup_plates.count(plate) > 1:
                what = f"the cup plate {plate} is used twice (by {first} already)"
                allowed = "A plate holds one block"
                yield problem_at(block, "cup_plates", what, allowed, "Move one of them", "E32")


def _address(house: House) -> Iterator[Problem]:
    address = house.house.site_address
    if address is None or address.startswith(("https://", "http://")):
        return
    what = f'"{address}" is no web address'
    yield problem_at(house.house, "site_address", what, "https:// and a name", "Mend it, or remove it")
