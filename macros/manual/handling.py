"""What a step touches: the house's chemical behind a role, and the strength in hand."""

from __future__ import annotations

from macros.house import House
from macros.house.chemicals import Chemical
from macros.house.feeding import NutrientPart


def chemical_of(house: House, named: str) -> Chemical | None:
    """The chemical a page means by a house id or a role; None when the house keeps none."""
    for chemical in house.chemicals:
        if chemical.id == named:
            return chemical
    with_role = house.chemicals_with_role(named)
    return with_role[0] if with_role else None


def task_chemical(house: House, named: str, task: str) -> Chemical | None:
    """A chemical by id or role; `task`, and the sanitizer of a task, mean the one that task uses."""
    tasks = house.sanitizing.tasks if house.sanitizing else {}
    if named in ("task", "sanitizer") and task in tasks:
        return chemical_of(house, tasks[task].chemical)
    return chemical_of(house, named)


def parts_of(house: House) -> tuple[NutrientPart, ...]:
    """The feed parts in the order they are mixed."""
    return house.nutrients.parts_in_order()
