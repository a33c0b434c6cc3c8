"""What a step touches: the house's chemical behind a role, and the strength in hand."""

from __future__ import annotations

from dataclasses import replace

from macros.amounts import NotFound, Register
from macros.house import House
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import NutrientPart
from macros.published.safety.bands import bands_of
from macros.published.safety.sanitizers import kind_of
from macros.published.safety.substances import Handling, handling_of


def chemicals_meant(house: House, named: str, task: str, *, dosed: bool) -> tuple[Chemical, ...]:
    """The chemicals a step means by an id or a role; none where the house keeps none.

    `task`, and the sanitizer of a step that is for a task, mean what that task uses. A role means the one an amount is
    worked out for where the step doses it, else each that the house keeps.
    """
    tasks = house.sanitizing.tasks if house.sanitizing else {}
    if named in ("task", "sanitizer") and task in tasks:
        named = tasks[task].chemical
    own = tuple(one for one in house.chemicals if one.id == named)
    found = own or tuple(house.chemicals_with_role(named))
    return found[:1] if dosed else found


def parts_of(house: House) -> tuple[NutrientPart, ...]:
    """The feed parts in the order they are mixed."""
    return house.nutrients.parts_in_order()


def part_handling(part: NutrientPart) -> Handling | None:
    """A feed part as bought: what it holds counts, no strength does; codes nobody read off its sheet are not known."""
    name = f"{part.name} {' '.join(part.contains)}".strip()
    return handling_of("nutrient concentrate", None, "nutrient", name, part.sds_codes)


def stock_handling(chemical: Chemical) -> Handling | None:
    """A chemical as bought; None when its active is not a listed substance.

    Codes of its sheet that nobody wrote are not known, and count as burning, for an acid or base that has no bands.
    """
    handled = _handled(chemical, percent_by_mass(chemical), tuple(chemical.sds_codes))
    if (
        handled is not None
        and not chemical.sds_codes
        and chemical.role in ("acid", "base")
        and not bands_of(handled.substance)
    ):
        handled = replace(handled, sds_codes=None)
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
    kind = kind_of(chemical.active)
    if percent is not None and kind is not None:
        percent = kind.read_on_strip(percent, chemical.active)
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
