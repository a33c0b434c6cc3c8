"""Rules on names: every id once (E32), every name that is used exists."""

from __future__ import annotations

from collections.abc import Sequence

from macros.ground.problems import Problem
from macros.ground.records import Record
from macros.house.records.house import House
from macros.house.rules.report import told


def check_ids(house: House) -> list[Problem]:
    """Doubles, and names that lead nowhere."""
    problems: list[Problem] = []
    lists: list[tuple[str, Sequence[Record], str]] = [
        ("systems", house.systems, "id"),
        ("chemicals", house.chemicals, "id"),
        ("nutrients.parts", house.nutrients.parts, "id"),
        ("measuring_tools", house.measuring_tools, "name"),
        ("meters", house.meters, "name"),
        ("test_strips", house.test_strips, "id"),
        ("varieties", house.varieties, "id"),
        ("cleanout_tasks", house.cleanout_tasks, "id"),
        ("people", house.people, "role"),
    ]
    if house.electricity is not None:
        lists.append(("electricity.circuits", house.electricity.circuits, "id"))
    for name, records, field in lists:
        problems += _doubles(name, records, field)
    problems += _circuits(house)
    problems += _varieties(house)
    problems += _plates_used_twice(house)
    problems += _address(house)
    problems += _log(house)
    return problems


def _log(house: House) -> list[Problem]:
    """Rows of the log name systems and stocks of the house, and acid lowers pH."""
    systems = [system.id for system in house.systems]
    stocks = [chemical.id for chemical in house.chemicals]
    problems = []
    for row in house.log:
        if row.system not in systems:
            problems.append(
                told(
                    row,
                    "system",
                    f"{row.system} is no system of the house",
                    f"There are {', '.join(systems)}",
                    "Mend it",
                )
            )
        if row.acid_chemical is not None and row.acid_chemical not in stocks:
            problems.append(
                told(
                    row,
                    "acid_chemical",
                    f"{row.acid_chemical} is no stock of the house",
                    f"There are {', '.join(stocks)}",
                    "Mend it",
                )
            )
        if (
            row.acid is not None
            and row.ph is not None
            and row.ph_after is not None
            and row.ph_after >= row.ph
        ):
            problems.append(
                told(
                    row,
                    "ph_after",
                    f"pH {row.ph:g} before acid and {row.ph_after:g} after it",
                    "Acid lowers pH",
                    "Look at the row: pens, columns, or pH-up by mistake",
                )
            )
    return problems


def _doubles(name: str, records: Sequence[Record], field: str) -> list[Problem]:
    seen: dict[str, Record] = {}
    problems = []
    for record in records:
        value = str(getattr(record, field))
        first = seen.setdefault(value.lower(), record)
        if first is not record:
            problems.append(
                told(
                    record,
                    field,
                    f"{name}: two entries named {value} (the first at {first.place(field)})",
                    "Each name stands for one thing",
                    "Rename one",
                    "E32",
                )
            )
    return problems


def _circuits(house: House) -> list[Problem]:
    if house.electricity is None:
        return []
    known = [circuit.id for circuit in house.electricity.circuits]
    return [
        told(
            load,
            "circuit",
            f"{load.circuit} is no circuit of the house",
            f"There are {', '.join(known)}",
            "Name one",
        )
        for load in house.electricity.loads
        if load.circuit not in known
    ]


def _varieties(house: House) -> list[Problem]:
    systems = [system.id for system in house.systems]
    problems = [
        told(
            variety,
            "system",
            f"{variety.system} is no system of the house",
            f"There are {', '.join(systems)}",
            "Name one",
        )
        for variety in house.varieties
        if variety.system not in systems
    ]
    if house.crop_plan is not None:
        known = [variety.id for variety in house.varieties]
        problems += [
            told(
                block,
                "variety",
                f"{block.variety} is no variety of the house",
                f"There are {', '.join(known)}",
                "Name one",
            )
            for block in house.crop_plan.blocks
            if block.variety not in known
        ]
    return problems


def _plates_used_twice(house: House) -> list[Problem]:
    if house.crop_plan is None:
        return []
    seen: dict[str, str] = {}
    problems = []
    for block in house.crop_plan.blocks:
        for plate in block.cup_plates:
            first = seen.setdefault(plate, block.variety)
            if first != block.variety or block.cup_plates.count(plate) > 1:
                problems.append(
                    told(
                        block,
                        "cup_plates",
                        f"the cup plate {plate} is used twice (by {first} already)",
                        "A plate holds one block",
                        "Move one of them",
                        "E32",
                    )
                )
    return problems


def _address(house: House) -> list[Problem]:
    address = house.house.site_address
    if address is None or address.startswith(("https://", "http://")):
        return []
    return [
        told(
            house.house,
            "site_address",
            f'"{address}" is no web address',
            "https:// and a name",
            "Mend it, or remove it",
        )
    ]
