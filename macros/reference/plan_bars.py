"""The crop plan as bars: what grows where, when racks are cleaned out, and what is in use against what is owned."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from macros.amounts import Register
from macros.house.records.crops import CropPlan, Planting
from macros.page_model.figure import Bar, BarsView

_Days = tuple[date, date, str, str]
"""First and last day of a bar, its kind, its count."""


def plan_bars(register: Register) -> BarsView | None:
    """The plan from its first Monday to its last day; None where it has no day."""
    plan = register.house.crop_plan
    if plan is None:
        return None
    rows = [row for row in (*_racks(register, plan), *_uses(register)) if row[1]]
    if not rows:
        return None
    first = min(bar[0] for _, bars in rows for bar in bars)
    start = first - timedelta(days=first.weekday())
    last = max(bar[1] for _, bars in rows for bar in bars)
    return BarsView(
        title="The crop plan",
        start=start,
        days=7 * ((last - start).days // 7 + 1),
        rows=tuple(
            (name, tuple(Bar((a - start).days, (b - start).days, kind, count) for a, b, kind, count in bars))
            for name, bars in rows
        ),
    )


def _racks(register: Register, plan: CropPlan) -> Iterator[tuple[str, list[_Days]]]:
    """Of each rack its cleanout, and below it what is planted there."""
    planted = {block.variety for block in plan.blocks}
    for system in register.house.systems:
        own = [one for one in register.house.varieties if one.system == system.id and one.id in planted]
        cleanout = plan.cleanout_of(system.id)
        yield f"Rack {system.id}", [] if cleanout is None else [(cleanout, cleanout, "cleanout", "")]
        for planting in (one for variety in own for one in plan.plantings_of(variety)):
            yield planting.spoken, list(_growing(register, planting))


def _growing(register: Register, planting: Planting) -> Iterator[_Days]:
    """Sown to planted, planted to first harvest, first to last harvest, as far as the days are known."""
    sown, first, last = (
        _day(register, id_, planting) for id_ in ("sow_date", "harvest_first", "harvest_last")
    )
    day, before = planting.day, timedelta(days=1)
    if sown is not None and sown < day:
        yield sown, day - before, "plugs", ""
    if first is not None and first > day:
        yield day, first - before, "grows", ""
    if first is not None and last is not None and last >= first:
        yield first, last, "harvest", ""


def _day(register: Register, id_: str, planting: Planting) -> date | None:
    found = register.of_id(id_, **planting.keys)
    return date.fromisoformat(found[0].exact) if found else None


def _uses(register: Register) -> Iterator[tuple[str, list[_Days]]]:
    """What is in use of each thing; over where it is more than the house owns."""
    rows: dict[str, list[_Days]] = {}
    for amount in register.of_id("plan_use"):
        for thing, first, last, needed, owned in amount.exact["rows"]:
            kind = "over" if isinstance(owned, int) and needed > owned else "use"
            name = f"{thing}, {owned} owned" if isinstance(owned, int) else f"{thing}, not counted"
            bar = (date.fromisoformat(first), date.fromisoformat(last), kind, str(needed))
            rows.setdefault(name, []).append(bar)
    yield from rows.items()
