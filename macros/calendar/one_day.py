"""Entries that stand on one day: the date amounts, the crop plan's days, label dates, days off."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from macros.amounts import Amount, Register
from macros.amounts.crop.one_sheet import plantings_with, sheet_of
from macros.calendar.event import Event, Pages, new_event
from macros.house import House
from macros.house.records.crops import CropPlan
from macros.manual.house_facts.recurrence import Repeat
from macros.published.labour.calendar import calendar


def amount_events(register: Register, pages: Pages) -> Iterator[Event]:
    """One entry for each date amount that `calendar.yml` gives a kind, on the day of the amount."""
    for id_, kind in calendar().amounts.items():
        for amount in register.of_id(id_):
            keys = dict(amount.of)
            yield new_event(
                pages,
                kind,
                date.fromisoformat(amount.value),
                _thing(register, amount),
                _sown(register, keys) if kind == "sowing" else "",
                system=_system(register, amount),
                amount_key=amount.key,
            )


def dome_checks(register: Register, pages: Pages, text: str) -> Iterator[Event]:
    """A look every day from the day after sowing to the day before the dome comes off. `text` says how often."""
    for off in register.of_id("dome_off"):
        keys = dict(off.of)
        for sown in register.of_id("sow_date", **keys):
            first = date.fromisoformat(sown.value) + timedelta(days=1)
            last = date.fromisoformat(off.value) - timedelta(days=1)
            if first <= last:
                yield new_event(
                    pages,
                    "dome_check",
                    first,
                    _thing(register, off),
                    f"{text}, until the dome comes off on {off.value}",
                    system=_system(register, off),
                    repeat=Repeat("day", 1),
                    until=last,
                )


def plan_events(register: Register, pages: Pages) -> Iterator[Event]:
    """Cleanout and planting, as the crop plan sets them."""
    house = register.house
    plan = house.crop_plan
    if plan is None:
        return
    if plan.cleanout_day is not None:
        system = plan.cleanout_system or ""
        thing = system or ", ".join(one.id for one in house.systems)
        yield new_event(pages, "cleanout", plan.cleanout_day, thing, system=system)
    for own in plan.other_systems:
        if own.cleanout_day is not None:
            yield new_event(pages, "cleanout", own.cleanout_day, own.system, system=own.system)
    yield from _plantings(house, plan, pages)


def _plantings(house: House, plan: CropPlan, pages: Pages) -> Iterator[Event]:
    """The replant of each system on its first day, and each later set."""
    planted: dict[tuple[str, date], list[str]] = {}
    systems = {variety.id: variety.system for variety in house.varieties}
    for block in plan.blocks:
        if (system := systems.get(block.variety)) is not None:
            day = plan.later_day(block, system) or plan.days_of(system).planting_day
            planted.setdefault((system, day), []).append(f"{block.plants} {block.variety.replace('_', ' ')}")
    for (system, day), names in sorted(planted.items()):
        if day == plan.days_of(system).planting_day:
            yield new_event(pages, "planting", day, system, ", ".join(names), system=system)
        else:  # a set is told from the next by what it is
            yield new_event(pages, "planting_set", day, f"{system}: {', '.join(names)}", system=system)


def label_dates(register: Register, pages: Pages) -> Iterator[Event]:
    """The date on the label of each stock, where it is not the day the open bottle is thrown out anyway."""
    for chemical in register.house.chemicals:
        discard = {amount.value for amount in register.of_id("discard_date", chemical=chemical.id)}
        if chemical.expires is not None and chemical.expires.isoformat() not in discard:
            detail = f"{chemical.containers_in_stock} in stock" + (
                f", lot {chemical.lot}" if chemical.lot else ""
            )
            yield new_event(pages, "expiry", chemical.expires, chemical.name, detail)


def days_off(register: Register, pages: Pages) -> Iterator[Event]:
    """Days on which somebody is away."""
    for person in register.house.people:
        for day in person.away:
            yield new_event(pages, "away", day, person.role.replace("_", " "))
        if person.starts is not None:
            yield new_event(pages, "person_starts", person.starts, person.role.replace("_", " "))


def _thing(register: Register, amount: Amount) -> str:
    keys = dict(amount.of)
    if "variety" in keys:
        return " planted ".join(
            (keys["variety"].replace("_", " "), *([keys["planting"]] if "planting" in keys else []))
        )
    if "chemical" in keys:
        return register.house.chemical(keys["chemical"]).name
    return keys.get("system") or amount.label


def _system(register: Register, amount: Amount) -> str:
    keys = dict(amount.of)
    if "variety" in keys:
        return next((v.system for v in register.house.varieties if v.id == keys["variety"]), "")
    return keys.get("system", "")


def _sown(register: Register, keys: dict[str, str]) -> str:
    """How many plugs, and on which sheet."""
    plugs = [amount.printed for amount in register.of_id("sow_plugs", **keys)]
    sheets = [
        sheet.replace("_", " ")
        for planting in plantings_with(register.house, keys)
        if (sheet := sheet_of(register.house, planting))
    ]
    return ", ".join([*plugs, *sheets])
