"""The steps a page really has in this house: repeated for each part, task or tray, left out where a thing lacks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any

from macros.amounts import NotFound, Register
from macros.house import House
from macros.house.systems import System
from macros.manual.fact_text import fact_of
from macros.manual.procedure import StepData


@dataclass(frozen=True)
class PlannedStep:
    """One step of one page. `keys` tell its amounts apart; `item` is what a repeated step's text may name."""

    id: str
    data: StepData
    keys: dict[str, str] = field(default_factory=dict)
    item: dict[str, Any] | None = None


Item = tuple[dict[str, str], dict[str, Any]]


def plan_steps(steps: Sequence[StepData], register: Register, system: str = "") -> list[PlannedStep]:
    """The steps in order, repeats written out. Neighbours that repeat over one thing repeat together.

    A page whose repeated thing this house lacks altogether (no sanitizing task, no planted tray) gets no steps,
    and so is not built.
    """
    planned: list[PlannedStep] = []
    for repeat, group in groupby(steps, key=lambda step: step.repeat):
        block = list(group)
        if repeat is None:
            planned += [PlannedStep(step.id, step) for step in block if _wanted(step, register, system, {})]
            continue
        items = _items(repeat, register, system)
        if not items and repeat != "part":
            return []
        for keys, item in items:
            suffix = "-".join(keys.values())
            planned += [
                PlannedStep(f"{step.id}-{suffix}", step, keys, item)
                for step in block
                if _wanted(step, register, system, keys)
            ]
    return planned if all(_can(step, register, system) for step in planned) else []


def _wanted(step: StepData, register: Register, system: str, keys: dict[str, str]) -> bool:
    """Whether the house has what the step is for.

    `only_with` names a role of chemicals, `strip`, `amount:<id>` or `fact:<path>`; with `no ` before it the step is
    for houses that lack it.
    """
    wanted = step.only_with
    if wanted is None:
        return True
    if wanted.startswith("no "):
        return not _given(wanted.removeprefix("no "), register, system, keys)
    return _given(wanted, register, system, keys)


def _given(what: str, register: Register, system: str, keys: dict[str, str]) -> bool:
    kind, _, name = what.partition(":")
    own = {**({"system": system} if system else {}), **keys}
    if kind == "amount":
        found = register.on_page(name, system) if system else register.of_id(name)
        return any(all(own.get(k, v) == v for k, v in a.of) for a in found)
    if kind == "fact":
        value = fact_of(register.house, name)
        return value is not None and value != () and value is not False
    if what == "strip":
        return _has_amount(register, "strip_band", own)
    return bool(register.house.chemicals_with_role(what))


def _can(step: PlannedStep, register: Register, system: str) -> bool:
    """Whether this house has the sanitizing task a step names; without it the page is not for this house."""
    tasks = register.house.sanitizing.tasks if register.house.sanitizing else {}
    named = [ask.of["task"] for ask in step.data.amount if "task" in ask.of]
    named += [entry.at.partition(":")[2] for entry in step.data.handles if entry.at.startswith("made:")]
    return all(name in tasks for name in named)


def _has_amount(register: Register, id_: str, keys: dict[str, str]) -> bool:
    try:
        register.find(id_, keys)
    except NotFound:
        return False
    return True


def _items(repeat: str, register: Register, system: str) -> list[Item]:
    if repeat == "part":
        return _parts(register.house, system)
    if repeat == "task":
        return _tasks(register, system)
    if repeat == "tray":
        return _trays(register, system)
    if repeat == "system":
        return [({"system": s.id}, {"system": system_words(register, s.id)}) for s in register.house.systems]
    return _varieties(register.house, system)


def system_words(register: Register, system_id: str) -> dict[str, Any]:
    """What a text may say of a system."""
    system = register.house.system(system_id)
    return {
        "id": system.id,
        "name": system.name,
        "drain_valve": bool(system.reservoir.drain_valve),
        "tray_count": system.trays.count,
        "flood_order": _flood_order(system),
        "floods": ", ".join(f"{start:%H:%M}" for start in system.timer.floods_set)
        if system.timer
        else "by hand",
        "lights": system.lights is not None,
        "air_stones": system.reservoir.air_stones is not None,
    }


def _flood_order(system: System) -> str:
    staggered = system.plumbing is not None and system.plumbing.flood_order == "staggered"
    return "one after the other" if staggered else "together"


def _parts(house: House, system: str) -> list[Item]:
    rates = house.nutrients.stages[house.system(system).fill_stage].rates if system else None
    return [
        ({"part": part.id}, {"part": {"id": part.id, "name": part.name}})
        for part in house.nutrients.parts_in_order()
        if rates is None or part.id in rates
    ]


def _tasks(register: Register, system: str) -> list[Item]:
    """Batches made at the bench; what is made in the tank itself belongs to the page of the tank."""
    sanitizing = register.house.sanitizing
    if sanitizing is None:
        return []
    items: list[Item] = []
    for name, task in sanitizing.tasks.items():
        if task.level is not None:
            continue
        keys = {"task": name}
        ids = ("batch_spray", "batch_soak", "batch_tool_dip")
        found = [
            register.find(i, {"system": system, **keys})
            for i in ids
            if _has_amount(register, i, {"system": system, **keys})
        ]
        found = [amount for amount in found if ("task", name) in amount.of]
        if not found or not _has_amount(register, "stock_for_batch", {"system": system, **keys}):
            continue
        vessel = {"batch_spray": "a clean jug", "batch_soak": "the tub", "batch_tool_dip": "the tall jar"}[
            found[0].id
        ]
        chemical = register.house.chemical(task.chemical)
        text = name.replace("_", " ")
        items.append(
            (
                keys,
                {
                    "task": {
                        "id": name,
                        "name": text[:1].upper() + text[1:],
                        "volume": found[0].printed,
                        "vessel": vessel,
                        "chemical": chemical.name,
                    }
                },
            )
        )
    return items


def planned_varieties(house: House, system: str) -> list[str]:
    """Ids of the varieties the plan puts on this system, in its order."""
    planned = [block.variety for block in house.crop_plan.blocks] if house.crop_plan else []
    own = {variety.id for variety in house.varieties if not system or variety.system == system}
    return [name for name in dict.fromkeys(planned) if name in own]


def _varieties(house: House, system: str) -> list[Item]:
    """The varieties the plan puts on this system, as a step's text may name them."""
    return [
        ({"variety": name}, {"variety": {"id": name, "name": name.replace("_", " ")}})
        for name in planned_varieties(house, system)
    ]


def _trays(register: Register, system: str) -> list[Item]:
    items: list[Item] = []
    for amount in register.of_id("planting_map", system=system):
        tray = dict(amount.of)["tray"]
        summary = amount.working.splitlines()[0]
        items.append(({"tray": tray}, {"tray": {"id": tray, "summary": summary}}))
    return items
