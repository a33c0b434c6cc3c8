"""The steps a page really has in this house: repeated for each part, left out where the house lacks the thing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from macros.house import House
from macros.manual.procedure import StepData


@dataclass(frozen=True)
class PlannedStep:
    """One step of one page. `keys` tell its amounts apart; `item` is what a repeated step's text may name."""

    id: str
    data: StepData
    keys: dict[str, str] = field(default_factory=dict)
    item: dict[str, Any] | None = None


def plan_steps(steps: Sequence[StepData], house: House, system: str = "") -> list[PlannedStep]:
    """The steps in order, each repeat written out, conditions of the house applied."""
    planned: list[PlannedStep] = []
    for step in steps:
        if step.only_with and not _has(house, step.only_with):
            continue
        if step.repeat is None:
            planned.append(PlannedStep(step.id, step))
            continue
        for keys, item in _items(step.repeat, house, system):
            suffix = "-".join(keys.values())
            planned.append(PlannedStep(f"{step.id}-{suffix}", step, keys, item))
    return planned


def _has(house: House, wanted: str) -> bool:
    """Whether the house keeps a chemical of this role."""
    return bool(house.chemicals_with_role(wanted))


def _items(repeat: str, house: House, system: str) -> list[tuple[dict[str, str], dict[str, Any]]]:
    if repeat == "part":
        rates = house.nutrients.stages[house.system(system).fill_stage].rates if system else None
        return [
            ({"part": part.id}, {"part": {"id": part.id, "name": part.name}})
            for part in house.nutrients.parts_in_order()
            if rates is None or part.id in rates
        ]
    raise ValueError(f"a step cannot be repeated for each {repeat} yet")
