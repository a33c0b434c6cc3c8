"""What to have at hand, worked out from the steps: nothing used is missing, nothing unused is listed."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress

from macros.amounts import NotFound, Register
from macros.house import House
from macros.manual.house_facts.chemicals_in_hand import parts_of, task_chemical
from macros.manual.procedures.expand_steps import PlannedStep
from macros.page_model.page import StepView, SupplyView

GROUPS = ("Meters and scales", "Measuring tools", "Chemicals and feed", "Protection", "Other things")


def page_supplies(
    planned: Sequence[PlannedStep], steps: Sequence[StepView], register: Register, system: str
) -> tuple[SupplyView, ...]:
    """The list of supplies in the order of `GROUPS`, each thing once."""
    house = register.house
    found: dict[tuple[str, str], str] = {}
    for step in steps:
        for tool in step.tools:
            found.setdefault((_group_of(tool, house), tool), "")
        for view in step.amounts:
            amount = register.at_anchor(view.anchor)
            assert amount is not None, f"a step shows {view.anchor}, which the register does not hold"
            for pour in amount.pours:
                found.setdefault(("Measuring tools", pour.tool), "")
            if not amount.pours and amount.tool:
                name = next((t.name for t in house.measuring_tools if amount.tool.startswith(t.name)), "")
                if name:
                    found.setdefault((_group_of(name, house), name), "")
    stocks: dict[str, list[str]] = {}
    for plan in planned:
        for handling in plan.data.handles:
            name, strength = _stock(plan, handling.chemical, handling.at, register.house)
            if name:
                detail = stocks.setdefault(name, [strength] if strength else [])
                if handling.at == "stock":
                    detail += _printed(plan, register, system)
    for name, details in stocks.items():
        known, taken = (details[:1], details[1:]) if details and "%" in details[0] else ([], details)
        found[("Chemicals and feed", name)] = ", ".join([*known, *([" + ".join(taken)] if taken else [])])
    ordered = sorted(found.items(), key=lambda item: GROUPS.index(item[0][0]))
    return tuple(SupplyView(group, name, detail) for (group, name), detail in ordered)


def _group_of(tool: str, house: House) -> str:
    if any(tool == meter.name for meter in house.meters):
        return "Meters and scales"
    for known in house.measuring_tools:
        if known.name == tool:
            return "Meters and scales" if "level" in known.for_ else "Measuring tools"
    return "Other things"


def _stock(plan: PlannedStep, named: str, at: str, house: House) -> tuple[str, str]:
    """Name of what is handled and its strength with basis as bought."""
    if named == "part":
        part = next(part for part in parts_of(house) if part.id == plan.keys["part"])
        return part.name, ""
    chemical = task_chemical(house, named, plan.keys.get("task") or at.partition(":")[2])
    return (chemical.name, chemical.strength.written) if chemical is not None else ("", "")


def _printed(plan: PlannedStep, register: Register, system: str) -> list[str]:
    """What the step takes; an amount the house cannot give is told where the step shows it."""
    keys = {**plan.keys, **({"system": system} if system else {})}
    found = []
    for ask in plan.data.amount:
        with suppress(NotFound):
            found.append(register.find(ask.id, keys, **ask.of).printed)
    return found
