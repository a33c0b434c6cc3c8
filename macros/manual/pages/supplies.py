"""What to have at hand, worked out from the steps: nothing used is missing, nothing unused is listed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress

from macros.amounts import NotFound, Register
from macros.house import House
from macros.manual.house_facts.chemicals_in_hand import chemicals_meant, parts_of
from macros.manual.procedures.expand_steps import PlannedStep
from macros.page_model.page import StepView, SupplyView

GROUPS = ("Meters and scales", "Measuring tools", "Chemicals and feed", "Protection", "Other things")


def page_supplies(
    planned: Sequence[PlannedStep], steps: Sequence[StepView], register: Register, system: str
) -> tuple[SupplyView, ...]:
    """The list of supplies in the order of `GROUPS`, each thing once."""
    found = {key: "" for step in steps for key in _tools(step, register)}
    for name, (strength, taken) in _stocks(planned, register, system).items():
        details = (strength, " + ".join(taken))
        found["Chemicals and feed", name] = ", ".join(one for one in details if one)
    for group, name in found:
        if group == "Other things":
            found[group, name] = kept_at(register.house, name)
    ordered = sorted(found.items(), key=lambda item: GROUPS.index(item[0][0]))
    return tuple(SupplyView(group, name, detail) for (group, name), detail in ordered)


def kept_at(house: House, name: str) -> str:
    """Where the inventory keeps a thing, by its name or its label; empty where it does not say."""
    return next(
        (one.kept_at for one in house.inventory if one.kept_at and name in (one.thing, one.label)),
        "",
    )


def _tools(step: StepView, register: Register) -> Iterator[tuple[str, str]]:
    """Group and name of each tool a step names or measures with."""
    house = register.house
    for tool in step.tools:
        yield _group_of(tool, house), tool
    own = {tool.name for tool in house.measuring_tools} | {one.name for one in house.scales}
    for view in step.amounts:
        amount = register.at_anchor(view.anchor)
        assert amount is not None, f"a step shows {view.anchor}, which the register does not hold"
        for tool in amount.tools:
            if amount.pours or tool in own:
                yield "Measuring tools" if amount.pours else _group_of(tool, house), tool


def _stocks(
    planned: Sequence[PlannedStep], register: Register, system: str
) -> dict[str, tuple[str, list[str]]]:
    """What is handled, by its name: its strength as bought, and what the steps take of the stock."""
    stocks: dict[str, tuple[str, list[str]]] = {}
    for plan in planned:
        for handling in plan.data.handles:
            for name, strength in _stock(plan, handling.chemical, handling.at, register.house):
                _, taken = stocks.setdefault(name, (strength, []))
                # What is weighed is counted at the step that adds it.
                if handling.at == "stock" and plan.data.action != "weigh":
                    taken += _printed(plan, register, system)
    return stocks


def stocks_in_hand(plan: PlannedStep, house: House) -> tuple[str, ...]:
    """Name and strength of each chemical the step handles as bought, so that no bottle is taken for another."""
    found = (
        ", ".join(stock)
        for one in plan.data.handles
        if one.at == "stock" and one.chemical != "part"
        for stock in _stock(plan, one.chemical, one.at, house)
    )
    return tuple(dict.fromkeys(found))


def _group_of(tool: str, house: House) -> str:
    if tool in {meter.name for meter in house.meters} | {one.name for one in house.scales}:
        return "Meters and scales"
    for known in house.measuring_tools:
        if known.name == tool:
            return "Meters and scales" if "level" in known.for_ else "Measuring tools"
    return "Other things"


def _stock(plan: PlannedStep, named: str, at: str, house: House) -> list[tuple[str, str]]:
    """Name of all that is handled and its strength with basis as bought."""
    if named == "part":
        part = next(part for part in parts_of(house) if part.id == plan.keys["part"])
        return [(part.name, "")]
    meant = chemicals_meant(house, named, at.partition(":")[2] or plan.task, dosed=bool(plan.data.amount))
    return [(one.name, one.strength.written) for one in meant]


def _printed(plan: PlannedStep, register: Register, system: str) -> list[str]:
    """What the step takes; an amount the house cannot give is told where the step shows it."""
    keys = {**plan.keys, **({"system": system} if system else {})}
    found = []
    for ask in plan.data.amount:
        with suppress(NotFound):
            found.append(register.find(ask.id, keys, **ask.of).printed)
    return found
