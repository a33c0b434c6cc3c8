"""A working strength typed in ppm counts what the label of its kind counts: of chlorine bleach the available chlorine."""

from __future__ import annotations

from dataclasses import replace

from macros.ground.units import Strength
from macros.house.records.house import House
from macros.house.records.sanitizing import SanitizingTask
from macros.published.safety.sanitizers import kind_of


def as_labels_say(house: House | None) -> House | None:
    """The house with the targets and ceilings in ppm as per cent of the substance: 200 ppm of available chlorine are
    0.021 % w/v of sodium hypochlorite. What was typed stays as it was written.
    """
    if house is None or house.sanitizing is None:
        return house
    actives = {chemical.id: chemical.active for chemical in house.chemicals}
    tasks = {
        name: _task(task, actives.get(task.chemical, "")) for name, task in house.sanitizing.tasks.items()
    }
    return house.model_copy(update={"sanitizing": house.sanitizing.model_copy(update={"tasks": tasks})})


def _task(task: SanitizingTask, active: str) -> SanitizingTask:
    kind = kind_of(active)
    if kind is None:
        return task
    per_ppm = kind.read_on_strip(1.0, active)

    def of_substance(strength: Strength) -> Strength:
        return replace(strength, percent=strength.percent / per_ppm) if strength.in_ppm else strength

    return task.model_copy(
        update={"target": of_substance(task.target), "ceiling": of_substance(task.ceiling)}
    )
