"""What a question is asked for: each system, part, variety, planted block, look-alike pair or pen of the house."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations
from typing import Any

from macros.amounts import Register
from macros.manual.house_facts.fact_text import fact_text
from macros.published.training.questions import ForEach

Item = tuple[str, dict[str, str], dict[str, Any]]
"""What tells the question from its brothers, the keys of its amounts, and what its text may name."""


def items_of(what: ForEach, register: Register) -> list[Item]:
    """Every item of a kind: `room` is one, a kind the house lacks has none."""
    return _KINDS[what](register)


def _room(register: Register) -> list[Item]:
    return [("", {}, {})]


def _systems(register: Register) -> list[Item]:
    return [(system.id, {"system": system.id}, {}) for system in register.house.systems]


def _parts(register: Register) -> list[Item]:
    """Each part of the feed a system is filled with."""
    nutrients, items = register.house.nutrients, list[Item]()
    for system in register.house.systems:
        rates = nutrients.stages[system.fill_stage].rates
        poured = [part for part in nutrients.parts_in_order() if part.id in rates]
        for column, part in enumerate(poured, start=1):
            keys = {"system": system.id, "part": part.id}
            items.append((f"{part.id}-{system.id}", keys, {"part": {"name": part.name, "column": column}}))
    return items


def _varieties(register: Register) -> list[Item]:
    """Each planted variety, in the order of the plan; of several sets the first."""
    plan = register.house.crop_plan
    by_id = {variety.id: variety for variety in register.house.varieties}
    planned = (
        [by_id[id_] for id_ in dict.fromkeys(b.variety for b in plan.blocks) if id_ in by_id] if plan else []
    )
    first = [plan.plantings_of(v)[0] for v in planned] if plan else []
    return [
        (
            one.variety.id,
            {**one.keys, "system": one.variety.system},
            {
                "variety": {
                    "id": one.variety.id,
                    "name": one.spoken,
                    "part": one.variety.part,
                    "system": one.variety.system,
                    "planting": one.day.isoformat(),
                }
            },
        )
        for one in first
    ]


def _first_sown(register: Register) -> list[Item]:
    """The variety that is sown first of all."""
    of_set = ("variety", "planting")
    sown = {
        item[0]: str(amount.value)
        for item in _varieties(register)
        for amount in register.of_id("sow_date", **{key: item[1][key] for key in of_set if key in item[1]})
    }
    items = [item for item in _varieties(register) if item[0] in sown]
    return sorted(items, key=lambda item: sown[item[0]])[:1]


def _blocks(register: Register) -> list[Item]:
    plan = register.house.crop_plan
    systems = {variety.id: variety.system for variety in register.house.varieties}
    return [
        (
            f"{block.variety}-{'-'.join(block.cup_plates)}",
            {"variety": block.variety, "system": systems[block.variety]},
            {
                "block": {
                    "variety": block.variety.replace("_", " "),
                    "plates": ", ".join(block.cup_plates),
                    "plants": block.plants,
                }
            },
        )
        for block in (plan.blocks if plan else ())
        if block.variety in systems
    ]


def _pairs(register: Register) -> list[Item]:
    """Planted varieties whose young plants look alike."""
    planted = {keys["variety"] for _, keys, _ in _varieties(register)}
    known = [
        v for v in register.house.varieties if v.id in planted and v.look_alike_group not in (None, "none")
    ]
    return [
        (
            f"{one.id}-{other.id}",
            {"system": one.system} if one.system == other.system else {},
            {
                "one": one.id.replace("_", " "),
                "other": other.id.replace("_", " "),
                "group": fact_text(one.look_alike_group, register.house.us).replace("_", " "),
            },
        )
        for one, other in combinations(known, 2)
        if one.look_alike_group == other.look_alike_group
    ]


def _meters(register: Register) -> list[Item]:
    return [
        (meter.measures, {}, {"meter": {"name": meter.name, "measures": meter.measures}})
        for meter in register.house.meters
        if meter.measures
    ]


_KINDS: dict[ForEach, Callable[[Register], list[Item]]] = {
    "room": _room, "system": _systems, "part": _parts, "variety": _varieties, "first_sown": _first_sown, "block": _blocks, "pair": _pairs, "meter": _meters,
}  # fmt: skip
