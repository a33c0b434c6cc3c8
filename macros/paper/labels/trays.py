"""Labels of plug sheets and flood trays: what was sown or planted where, and what it is mistaken for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from macros.amounts import NotFound, Register
from macros.amounts.crop.one_sheet import sets_of_house, sheet_of
from macros.amounts.crop.planting import plate_of
from macros.house import House
from macros.house.records.crops import CropPlan, Planting, Variety
from macros.house.records.systems import System
from macros.manual.house_facts.fact_text import fact_text
from macros.manual.house_facts.variety_facts import marked, own_bands, stems, variety_marks
from macros.page_model.page import PageView
from macros.paper.labels.label import ASK, Blank, LabelRow, LabelView, known, printed, source_of


def sowing_labels(register: Register, views: Sequence[PageView]) -> Iterator[LabelView]:
    """One for each variety on each plug sheet; a planted variety on no sheet has one with the sheet left blank."""
    house = register.house
    sown = [one for one in sets_of_house(house) if register.of_id("sow_plugs", **one.keys)]
    for sheet, names in house.sow_layout.items():
        for name in names:
            on_it = (one for one in sown if one.variety.id == name and sheet_of(house, one) == sheet)
            yield from (_sowing(register, views, one, sheet) for one in on_it)
    yield from (_sowing(register, views, one, "") for one in sown if not sheet_of(house, one))


def tray_labels(register: Register, views: Sequence[PageView]) -> Iterator[LabelView]:
    """One for each flood tray of each system, shelf 1 the lowest."""
    for system in register.house.systems:
        for tray in _trays(register, system):
            yield _tray(register, views, system, tray)


def _sowing(register: Register, views: Sequence[PageView], planting: Planting, sheet: str) -> LabelView:
    variety, keys = planting.variety, planting.keys
    name = _words(variety.id)
    plugs, seeds = (printed(register, id_, ASK, **keys) for id_ in ("sow_plugs", "seed_count"))
    where = _words(sheet)
    whole = printed(register, "sheet_fit", sheet=sheet) if sheet else ""
    alike = look_alikes(register.house, variety)
    rows = (
        LabelRow(text=f"{plugs}."),
        LabelRow(text=f"{seeds}.", rank=2),
        LabelRow("Lot", f"{_lot(register.house, variety)}."),
        *_sowing_dates(register, planting),
        *((LabelRow("Planted on", f"{planting.day}."),) if planting.several else ()),
        LabelRow("Sheet", f"{where.removeprefix('sheet ')} ({whole} in all).", rank=2)
        if sheet
        else LabelRow(blanks=(Blank("Sheet", 20),), rank=2),
        *((LabelRow("Looks like:", f"{', '.join(alike)}."),) if alike else ()),
        LabelRow(blanks=(Blank("Really sown on", 22), Blank("by", 14)), rank=3),
        *((LabelRow("Thin to", f"{stems(variety)}.", rank=3),) if stems(variety) else ()),
        LabelRow("Germinates", f"{_germinates(variety, register.house.us)}.", rank=3),
    )
    return LabelView(
        "sowing",
        f"sowing of {planting.spoken}{f' on {where}' if sheet else ''}",
        marked(name, variety_marks(register.house)[variety.id]),
        variety.botanical,
        variety.system,
        rows,
        source_of("sowing", register, views),
        variety.place("id"),
        variety.key("id"),
        ("varieties", variety.id.lower(), "leaf") if alike else (),
    )


def _sowing_dates(register: Register, planting: Planting) -> tuple[LabelRow, ...]:
    """Sown, dome off, window; a house without sowing days writes them by hand."""
    variety, keys = planting.variety, planting.keys
    sown, dome, opens, closes = (
        printed(register, id_, **keys) for id_ in ("sow_date", "dome_off", "window_opens", "window_closes")
    )
    first = LabelRow("Sown", f"{sown}.") if sown else LabelRow(blanks=(Blank("Sown", 22),))
    if dome:
        off = LabelRow("Dome off", f"{dome}.")
    else:
        days = f"{variety.dome_days} days after sowing" if variety.dome_days is not None else ASK
        off = LabelRow(blanks=(Blank("Dome off", 22, days),))
    if opens and closes:
        return first, off, LabelRow("Plant out", f"{opens} to {closes}.", rank=2)
    young, old = variety.transplant_day_min, variety.transplant_day_max
    ages = f"at {young} to {old} days" if young is not None and old is not None else ASK
    return first, off, LabelRow(blanks=(Blank("Plant out", 22, ages),), rank=2)


def look_alikes(house: House, variety: Variety) -> tuple[str, ...]:
    """The other varieties of the house whose young plants look like this one."""
    group = variety.look_alike_group
    if group in (None, "none"):
        return ()
    return tuple(
        _words(one.id) for one in house.varieties if one.look_alike_group == group and one.id != variety.id
    )


def _lot(house: House, variety: Variety) -> str:
    """The lot the count rests on: the one tested last; else what is in the drawer."""
    lots = [lot for lot in house.seed_lots if lot.variety == variety.id]
    tested = [lot for lot in lots if lot.tested is not None and lot.germination is not None]
    if tested:
        return max(tested, key=lambda lot: lot.tested.isoformat() if lot.tested else "").id
    return " or ".join(lot.id for lot in lots) or "not known: copy it from the packet"


def _germinates(variety: Variety, us: bool) -> str:
    light = {"light": "in light", "dark": "in the dark", "indifferent": "in light or dark"}
    said = [light.get(variety.light_to_germinate or "", "")]
    if variety.germination_temperature is not None:
        said.append(f"at {fact_text(variety.germination_temperature, us)}")
    if variety.pre_soak is not None and variety.pre_soak.value > 0:
        said.append(f"after {fact_text(variety.pre_soak, us)} of soak")
    return ", ".join(one for one in said if one) or ASK


def _trays(register: Register, system: System) -> list[str]:
    """Names of its trays: counted, and any other a plate of the crop plan lies on."""
    names = [f"{system.id}-{number}" for number in range(1, system.trays.count + 1)]
    plan = register.house.crop_plan
    plates = (plate_of(name) for block in (plan.blocks if plan else ()) for name in block.cup_plates)
    named = [plate.tray for plate in plates if plate is not None and plate.system == system.id]
    return list(dict.fromkeys([*names, *named]))


def _tray(register: Register, views: Sequence[PageView], system: System, tray: str) -> LabelView:
    flood = printed(register, "flood_tray", system=system.id)
    rows = (
        LabelRow(text=f"{system.name}, shelf {tray.removeprefix(system.id + '-')} from below.", rank=2),
        *_planted(register, system, tray),
        LabelRow("One flood", f"{flood or ASK}.", rank=2),
        LabelRow(blanks=(Blank("Hand-flood mark", 16),)),
    )
    return LabelView(
        "tray",
        f"tray {tray}",
        f"Tray {tray}",
        "",
        system.id,
        rows,
        source_of("tray", register, views, system.id),
        system.trays.place("count"),
        system.trays.key("count"),
    )


def _planted(register: Register, system: System, tray: str) -> tuple[LabelRow, ...]:
    """Each variety of the tray with its count and spacing; blanks where the house has no plan for the tray."""
    plan, varieties = register.house.crop_plan, {one.id: one for one in register.house.varieties}
    try:
        holes = register.get("planting_map", system=system.id, tray=tray).exact["holes"]
    except NotFound:
        holes = []
    counts = Counter(name for _, _, name in holes)
    if not counts or plan is None:
        return (LabelRow(blanks=(Blank("Planted", 40), Blank("on", 20))),)
    marks = variety_marks(register.house)
    rows = [
        LabelRow(
            f"{count} {marked(_words(name), marks[name])},",
            f"{fact_text(varieties[name].spacing, register.house.us)} apart",
        )
        for name, count in counts.items()
    ]
    own = [
        LabelRow(_words(name), f"{', '.join(bands)}.", rank=3)
        for name in counts
        if (bands := own_bands(varieties[name], register.house.us))
    ]
    return (
        *rows,
        *own,
        *_planting_days(plan, [varieties[name] for name in counts], tray),
    )


def _planting_days(plan: CropPlan, own: Iterable[Variety], tray: str) -> Iterator[LabelRow]:
    """The day the tray is planted; of several days each with its plants."""
    days: dict[str, list[str]] = {}
    for one in (planting for variety in own for planting in plan.plantings_of(variety)):
        if any(_is_on(name, tray) for block in one.blocks for name in block.cup_plates):
            days.setdefault(one.day.isoformat(), []).append(one.variety.spoken)
    for day, names in sorted(days.items()):
        told = f"{day}: {', '.join(names)}" if len(days) > 1 else day
        yield LabelRow("Planting day", known(told), rank=3)


def _is_on(plate: str, tray: str) -> bool:
    found = plate_of(plate)
    return found is not None and found.tray == tray


def _words(name: str) -> str:
    return name.replace("_", " ")
