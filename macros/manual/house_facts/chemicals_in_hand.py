"""What a step touches: the house's chemical behind a role, and the strength in hand."""

from __future__ import annotations

from dataclasses import replace

from macros.amounts import NotFound, Register
from macros.house import House
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import NutrientPart
from macros.published.safety.bands import active_chlorine
from macros.published.safety.substances import Handling, handling_of


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


def part_handling(part: NutrientPart) -> Handling | None:
    """A feed part as bought: what it holds counts, no strength does."""
    return handling_of(
        "nutrient concentrate", None, "nutrient", f"{part.name} {' '.join(part.contains)}".strip()
    )


def stock_handling(chemical: Chemical) -> Handling | None:
    """A chemical as bought; None when its active is not a listed substance."""
    handled = _handled(chemical, percent_by_mass(chemical), tuple(chemical.sds_codes))
    if handled is None or chemical.strength.basis == "w/w" or chemical.density is not None:
        return handled
    return replace(handled, label=chemical.strength.written)


def made_handling(register: Register, chemical: Chemical, task: str, system_id: str) -> Handling | None:
    """A chemical as diluted for a task of a system; None when its active is not a listed substance."""
    return _handled(chemical, _percent_made(register, task, system_id), ())


def percent_by_mass(chemical: Chemical) -> float | None:
    """Strength as % w/w. Without a density a w/v strength is read as if the stock weighed 1.00 g/mL: the safe side.

    It finds the band; what is printed is the label's own.
    """
    percent, basis = chemical.strength.percent, chemical.strength.basis
    if basis == "w/w":
        return percent
    if basis == "w/v":
        return percent / (chemical.density.to("g/mL") if chemical.density is not None else 1.0)
    return None


def _handled(chemical: Chemical, percent: float | None, codes: tuple[str, ...]) -> Handling | None:
    if percent is not None and "hypochlorite" in chemical.active.lower():
        percent = active_chlorine(percent)
    return handling_of(chemical.active, percent, chemical.role, chemical.name, codes)


def _percent_made(register: Register, task: str, system_id: str) -> float | None:
    """The higher of the strength made and the target, as % w/w at 1.00 g/mL: the safe side for a dilute solution."""
    sanitizing = register.house.sanitizing
    if sanitizing is None or task not in sanitizing.tasks:
        return None
    target = sanitizing.tasks[task].target.percent
    try:
        made = float(register.get("strength_made", system=system_id, task=task).exact)
    except NotFound:
        return target
    return max(made, target)
