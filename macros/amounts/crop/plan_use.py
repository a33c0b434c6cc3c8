"""What the crop plan takes of each thing on each day, all systems together, against what the house owns (E34, W12)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from macros.amounts.crop.one_sheet import sheet_of
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.amounts.water.watering import planted
from macros.calculations.crop.occupancy import Stretch, Use, overbooked, stretches
from macros.ground.records import Record
from macros.house.records.crops import CropPlan, Planting

TOPIC = "Crop plan"
COLUMNS = [("thing", ""), ("from", ""), ("to", ""), ("in use", ""), ("owned", "")]


@dataclass(frozen=True)
class Thing:
    """A kind of thing the plan takes. `listed` is its name in the inventory; empty for the trays of the nursery."""

    name: str
    listed: str
    uses: tuple[Use, ...]
    bought: bool = True


@dataclass(frozen=True)
class Owned:
    """How many the house has, and the record and field that say so; `count` is None where none does."""

    count: int | None
    record: Record
    field: str


def fill(register: Register) -> None:
    """Enter what the plan takes day by day; tell what is overbooked, and racks replanted without a cleanout."""
    plan = register.house.crop_plan
    if plan is None:
        return
    _cleanouts(register, plan)
    with register.attempt("plan_use", plan, "blocks"):
        _use(register, plan)


def _cleanouts(register: Register, plan: CropPlan) -> None:
    """W12: a rack that is planted anew is cleaned out before."""
    for system in sorted({variety.system for variety in planted(register)}):
        own = plan.days_of(system)
        if plan.cleanout_of(system) is None and own.planting_day >= register.built_for:
            what = (
                f"system {system} is planted on {own.planting_day} and the plan has no cleanout of it before"
            )
            allowed = "A rack is cleaned out between two crops"
            remedy = (
                f"Give system {system} its cleanout_day under crop_plan.other_systems"
                if own is plan
                else "Write its cleanout_day"
            )
            register.report_problem(own, "planting_day", what, allowed, remedy, "W12", "warning")


def _use(register: Register, plan: CropPlan) -> None:
    w = Working(register, "plan_use", "What the crop plan takes", TOPIC)
    rows: list[list[str | int]] = []
    for thing in _things(w, plan):
        owned, found = _owned(register, thing), stretches(thing.uses)
        _judge(w, thing, owned, found)
        told = "not given" if owned.count is None else owned.count
        rows += [[thing.name, str(one.first), str(one.last), one.needed, told] for one in found]
        if found:
            most = max(one.needed for one in found)
            w.add_line(f"{thing.name}: {most} in use at most, {told} owned")
    w.assume("a hole without a plant is covered while anything stands on its rack")
    w.assume("a sheet of plugs stands in one nursery tray from the day its dome comes off")
    w.table(COLUMNS, rows, "counted day by day", None)


def _judge(w: Working, thing: Thing, owned: Owned, found: list[Stretch]) -> None:
    """Tell what is not counted, or the days still to come on which more is in use than owned."""
    if owned.count is None:
        if found:
            _not_counted(w.register, thing, owned, found)
        return
    w.raw(owned.record, owned.field)
    for run in overbooked(found, owned.count):
        if run.last >= w.register.built_for:
            _overbooked(w.register, thing, owned, run)


def _overbooked(register: Register, thing: Thing, owned: Owned, run: Stretch) -> None:
    days = f"on {run.first}" if run.first == run.last else f"from {run.first} to {run.last}"
    by = ", ".join(
        dict.fromkeys(use.by for use in thing.uses if use.first <= run.last and use.free > run.first)
    )
    what = f"up to {run.needed} {thing.name} are in use at once {days} ({by}), owned: {owned.count}"
    more = run.needed - (owned.count or 0)
    if thing.bought:
        allowed, remedy = (
            "Stock is never short on the day",
            f"Have {more} more before {run.first}, or plan less",
        )
        code, severity = "W12", "warning"
    else:
        allowed = "A tray holds one sheet of plugs"
        remedy = f"Give one rack other days under crop_plan.other_systems, or set up {more} more before {run.first}"
        code, severity = "E34", "error"
    register.report_problem(owned.record, owned.field, what, allowed, remedy, code, severity)  # type: ignore[arg-type]


def _not_counted(register: Register, thing: Thing, owned: Owned, found: list[Stretch]) -> None:
    most = max(found, key=lambda one: one.needed)
    what = f"how many {thing.name} the house has is not given; the plan takes {most.needed} on {most.first}"
    where = f"under inventory, as {thing.listed}" if thing.listed else "under nursery, as trays"
    remedy = f"Count them and write it {where}"
    allowed = "Until then nobody is told when they run short"
    register.report_problem(owned.record, owned.field, what, allowed, remedy, severity="measure this")


def _owned(register: Register, thing: Thing) -> Owned:
    house = register.house
    if not thing.listed:
        nursery = house.nursery
        return Owned(None, house, "nursery") if nursery is None else Owned(nursery.trays, nursery, "trays")
    for entry in house.inventory:
        if entry.thing == thing.listed:
            counted = "count" in entry.model_fields_set
            return Owned(entry.count if counted else None, entry, "count")
    return Owned(None, house, "inventory")


# ---------------------------------------------------------------- what is in use


def _things(w: Working, plan: CropPlan) -> Iterator[Thing]:
    sheets = list(_sheets(w, plan))
    last = max((sheet.planted for sheet in sheets), default=plan.planting_day) + timedelta(days=1)
    yield Thing("plug sheets", "plug sheet", tuple(Use(s.sown, last, 1, s.name) for s in sheets))
    yield Thing("domes", "dome", tuple(Use(s.sown, s.open, 1, s.name) for s in sheets))
    yield Thing("nursery trays", "", tuple(Use(s.open, s.planted, 1, s.name) for s in sheets), bought=False)
    standing = list(_standing(w, plan))
    yield Thing("cups", "cups", tuple(standing))
    yield Thing("hole covers", "hole covers", tuple(_covers(w, plan, standing)))


@dataclass(frozen=True)
class Sheet:
    """One sheet of plugs: sown, its dome off, and its last plug planted."""

    name: str
    sown: date
    open: date
    planted: date


def _sheets(w: Working, plan: CropPlan) -> Iterator[Sheet]:
    """The sheets whose days are known."""
    for name, own in _layout(w, plan).items():
        sown = [day for one in own if (day := _day(w, "sow_date", one)) is not None]
        opened = [day for one in own if (day := _day(w, "dome_off", one)) is not None]
        if own and len(sown) == len(opened) == len(own):
            ready = max(w.day(one.record, "planting_day") for one in own)
            yield Sheet(name.replace("_", " "), min(sown), min(max(opened), ready), ready)


def _layout(w: Working, plan: CropPlan) -> dict[str, list[Planting]]:
    """The sets of each sheet of the layout, and a sheet of its own for each that the layout leaves out."""
    house = w.register.house
    laid: dict[str, list[Planting]] = {name: [] for name in house.sow_layout}
    for planting in (one for variety in planted(w.register) for one in plan.plantings_of(variety)):
        laid.setdefault(sheet_of(house, planting) or f"sheet of {planting.spoken}", []).append(planting)
    return laid


def _day(w: Working, id_: str, planting: Planting) -> date | None:
    if not w.register.of_id(id_, **planting.keys):
        return None
    return date.fromisoformat(w.amount(id_, **planting.keys))


def _standing(w: Working, plan: CropPlan) -> Iterator[Use]:
    """The plants of each block from planting to the day after their last harvest; without one, to the plan's last."""
    sets = [one for variety in planted(w.register) for one in plan.plantings_of(variety)]
    ends = [_day(w, "harvest_last", one) for one in sets]
    latest = max((end for end in ends if end is not None), default=plan.planting_day)
    for own, last in zip(sets, ends, strict=True):
        first = w.day(own.record, "planting_day")
        end = max(last or latest, first) + timedelta(days=1)
        for block in own.blocks:
            yield Use(first, end, int(w.fact(block, "plants")), f"system {own.variety.system}")


def _covers(w: Working, plan: CropPlan, standing: list[Use]) -> Iterator[Use]:
    """Holes of the plan's trays without a plant, while anything stands on the rack."""
    for system in sorted({use.by for use in standing}):
        maps = w.register.of_id("planting_map", system=system.removeprefix("system "))
        holes = sum(found.exact["rows"] * found.exact["columns"] for found in maps)
        for one in stretches(use for use in standing if use.by == system):
            if holes > one.needed:
                yield Use(one.first, one.last + timedelta(days=1), holes - one.needed, system)
