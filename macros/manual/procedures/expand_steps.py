"""The steps a page really has in this house: repeated for each part, task or tray, left out where a thing lacks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any, TypedDict

from macros.amounts import Register
from macros.amounts.engine.number_format import brief
from macros.amounts.sanitizer.batches import as_on_label
from macros.amounts.water.reservoir import level_unit
from macros.ground.units import Quantity, convert
from macros.house import House
from macros.house.records.systems import System
from macros.manual.procedures.file_format import StepData
from macros.manual.procedures.only_with import has_amount
from macros.page_model.clock_times import Answer


@dataclass(frozen=True)
class PlannedStep:
    """One step of one page. `keys` tell its amounts apart; `item` is what a repeated step's text may name."""

    id: str
    data: StepData
    keys: dict[str, str] = field(default_factory=dict)
    item: dict[str, Any] | None = None

    @property
    def task(self) -> str:
        """The sanitizing task it is repeated for, or its amount is of; empty for none."""
        return self.keys.get("task") or next((a.of["task"] for a in self.data.amount if "task" in a.of), "")


class SystemWords(TypedDict):
    """What a text may say of a system."""

    id: str
    name: str
    drain_valve: bool
    tray_count: int
    refill_mark: str
    pump_minimum: str
    flood_order: str
    floods: str
    lights: bool
    air_stones: bool
    plates: bool
    sets: str


class TaskWords(TypedDict):
    """What a text may say of the sanitizing task its step is repeated for."""

    id: str
    name: str
    volume: str
    vessel: str
    chemical: str
    active: str
    allowed: str


class NamedWords(TypedDict):
    """What a text may say of the variety its step is repeated for."""

    id: str
    name: str


class PartWords(TypedDict):
    """What a text may say of the feed part its step is repeated for; `weighed` is dry feed; `verb` is `pour` or `add`."""

    id: str
    name: str
    weighed: bool
    verb: str


class TrayWords(TypedDict):
    """What a text may say of the tray its step is repeated for."""

    id: str
    summary: str


class RinseWords(TypedDict):
    """What a text may say of the rinse its step is repeated for."""

    number: int
    of: int


ITEM_WORDS: dict[str, frozenset[str]] = {
    "system": SystemWords.__required_keys__,
    "task": TaskWords.__required_keys__,
    "part": PartWords.__required_keys__,
    "variety": NamedWords.__required_keys__,
    "tray": TrayWords.__required_keys__,
    "rinse": RinseWords.__required_keys__,
}
"""The words a text may put behind the dot of what its step is repeated for, or of the page's system."""

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
            planned += _of_item(block, keys, item, register, system)
    return planned if all(_can(step, register, system) for step in planned) else []


def _of_item(
    block: Sequence[StepData], keys: dict[str, str], item: dict[str, Any], register: Register, system: str
) -> list[PlannedStep]:
    suffix = "-".join(keys.values()) or str(item["rinse"]["number"])
    last = {"rinse": "last"} if "rinse" in item and item["rinse"]["number"] == item["rinse"]["of"] else {}
    wanted = (step for step in block if _wanted(step, register, system, {**keys, **last}))
    return [PlannedStep(f"{step.id}-{suffix}", step, keys, item) for step in wanted]


def _wanted(step: StepData, register: Register, system: str, keys: dict[str, str]) -> bool:
    if step.only_with is None:
        return True
    asked = next((ask.of for ask in step.amount if ask.id == step.only_with.name), {})
    return step.only_with.met_by(register, system, {**keys, **asked})


def _can(step: PlannedStep, register: Register, system: str) -> bool:
    """Whether this house has the sanitizing task a step names; without it the page is not for this house."""
    tasks = register.house.sanitizing.tasks if register.house.sanitizing else {}
    named = [ask.of["task"] for ask in step.data.amount if "task" in ask.of]
    named += [entry.at.partition(":")[2] for entry in step.data.handles if entry.at.startswith("made:")]
    return all(name in tasks for name in named)


def _items(repeat: str, register: Register, system: str) -> list[Item]:
    if repeat == "part":
        return _parts(register.house, system)
    if repeat == "task":
        return _tasks(register, system)
    if repeat == "tray":
        return _trays(register, system)
    if repeat == "rinse":
        return _rinses(register, system)
    if repeat == "system":
        return [({"system": s.id}, {"system": system_words(register, s.id)}) for s in register.house.systems]
    return _varieties(register.house, system)


def _rinses(register: Register, system: str) -> list[Item]:
    """The rinses of the loop, one after another; no amount of theirs differs, so they have no key."""
    counted = register.of_id("rinse_count", system=system)
    total = int(counted[0].rounded) if counted else 0
    return [({}, {"rinse": RinseWords(number=number, of=total)}) for number in range(1, total + 1)]


def system_words(register: Register, system_id: str) -> SystemWords:
    """The words of a system of the house."""
    system = register.house.system(system_id)
    return {
        "id": system.id,
        "name": system.name,
        "drain_valve": bool(system.reservoir.drain_valve),
        "tray_count": system.trays.count,
        "refill_mark": _height(system.reservoir.refill_mark_height, level_unit(register)),
        "pump_minimum": _height(system.reservoir.pump_minimum_height, level_unit(register)),
        "flood_order": _flood_order(system),
        "floods": ", ".join(f"{start:%H:%M}" for start in system.timer.floods_set)
        if system.timer
        else "by hand",
        "lights": system.lights is not None,
        "air_stones": system.reservoir.air_stones is not None,
        "plates": system.cup_plate is not None,
        "sets": _sets(register.house, system_id),
    }


def _sets(house: House, system_id: str) -> str:
    """What is planted after the first day, as `9 mizuna on 2026-04-14`; empty where all is planted on one day."""
    plan = house.crop_plan
    later = plan.sets_of(system_id, house.varieties) if plan is not None else ()
    return ", ".join(f"{one.plants} {one.variety.spoken} on {one.day}" for one in later)


def _height(height: Quantity, unit: str) -> str:
    """A height in the tank as a number in the unit a level is printed in."""
    number = convert(height.to("m"), "m", unit)
    return Answer(brief(number), number=round(number, 3))


def _flood_order(system: System) -> str:
    staggered = system.plumbing is not None and system.plumbing.flood_order == "staggered"
    return "one after the other" if staggered else "together"


def _parts(house: House, system: str) -> list[Item]:
    rates = house.nutrients.stages[house.system(system).fill_stage].rates if system else None
    items: list[Item] = []
    for part in house.nutrients.parts_in_order():
        if rates is None or part.id in rates:
            dry = house.nutrients.weighs(part.id)
            words = PartWords(id=part.id, name=part.name, weighed=dry, verb="add" if dry else "pour")
            items.append(({"part": part.id}, {"part": words}))
    return items


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
            if has_amount(register, i, {"system": system, **keys})
        ]
        found = [amount for amount in found if ("task", name) in amount.of]
        if not found or not has_amount(register, "stock_for_batch", {"system": system, **keys}):
            continue
        vessel = {"batch_spray": "a clean jug", "batch_soak": "the tub", "batch_tool_dip": "the tall jar"}[
            found[0].id
        ]
        chemical = register.house.chemical(task.chemical)
        text = name.replace("_", " ")
        words = TaskWords(
            id=name,
            name=text[:1].upper() + text[1:],
            volume=found[0].printed,
            vessel=vessel,
            chemical=chemical.name,
            active=chemical.active,
            allowed=as_on_label(register.house, task, "target", "ceiling"),
        )
        items.append((keys, {"task": words}))
    return items


def planned_varieties(house: House, system: str) -> list[str]:
    """Ids of the varieties the plan puts on this system, in its order."""
    planned = [block.variety for block in house.crop_plan.blocks] if house.crop_plan else []
    own = {variety.id for variety in house.varieties if not system or variety.system == system}
    return [name for name in dict.fromkeys(planned) if name in own]


def _varieties(house: House, system: str) -> list[Item]:
    """The varieties the plan puts on this system, as a step's text may name them."""
    return [
        ({"variety": name}, {"variety": NamedWords(id=name, name=name.replace("_", " "))})
        for name in planned_varieties(house, system)
    ]


def _trays(register: Register, system: str) -> list[Item]:
    items: list[Item] = []
    for amount in register.of_id("planting_map", system=system):
        tray = dict(amount.of)["tray"]
        summary = amount.working.splitlines()[0]
        items.append(({"tray": tray}, {"tray": TrayWords(id=tray, summary=summary)}))
    return items
