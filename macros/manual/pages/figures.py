"""What the drawings of a page show, worked out from the amounts: maps, the level stick, the table of doses."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date

from macros.amounts import Amount, NotFound, Register
from macros.amounts.engine import number_format as printing
from macros.amounts.water.reservoir import level_unit
from macros.calculations.rounding import decimals_of
from macros.ground.units import convert
from macros.house.records.systems import System
from macros.manual.drawings.sections import chemical_shelf, day_wheel, hole_section, lamp_gap, tray_section
from macros.manual.house_facts.variety_facts import variety_marks
from macros.page_model.figure import FigureView, MapVariety, MapView, StickMark, StickView, TableView

_MARKS = (
    ("Full", "res_fill", "fill_mark_height", "fill mark, all trays drained"),
    ("Refill mark", "res_refill", "refill_mark_height", "trays drained: top up"),
    ("Pump minimum", "res_dead", "pump_minimum_height", "below it the pump sucks air"),
)


def page_figures(names: Sequence[str], register: Register, system_id: str) -> tuple[FigureView, ...]:
    """The figures a page names, as far as this house has what they show."""
    return tuple(view for name in names for view in _FIGURES[name](register, system_id))


def _maps(register: Register, system_id: str) -> Iterator[FigureView]:
    for amount in _amounts(register, "planting_map", system_id):
        yield _map(amount, register)


def _sticks(register: Register, system_id: str) -> Iterator[FigureView]:
    yield _stick(register, register.house.system(system_id))


def _topups(register: Register, system_id: str) -> Iterator[FigureView]:
    for amount in _amounts(register, "topup_table", system_id):
        yield amount_table(amount, f"{amount.label}, trays drained")


def _days(register: Register, system_id: str) -> Iterator[FigureView]:
    for system in _systems(register, system_id):
        yield from day_wheel(system)


def _trays(register: Register, system_id: str) -> Iterator[FigureView]:
    for system in _systems(register, system_id):
        yield tray_section(system, register.house.us)


def _holes(register: Register, system_id: str) -> Iterator[FigureView]:
    for system in _systems(register, system_id):
        yield from hole_section(system, register.house.us)


def _lamps(register: Register, system_id: str) -> Iterator[FigureView]:
    for system in _systems(register, system_id):
        yield from lamp_gap(system, register.house.us)


def _shelf(register: Register, _: str) -> Iterator[FigureView]:
    yield from chemical_shelf(register.house)


_FIGURES: dict[str, Callable[[Register, str], Iterator[FigureView]]] = {
    "planting_map": _maps,
    "level_stick": _sticks,
    "topup_table": _topups,
    "day_wheel": _days,
    "tray_section": _trays,
    "hole_section": _holes,
    "lamp_gap": _lamps,
    "chemical_shelf": _shelf,
}
"""Each drawing a page may ask for, and what makes it."""


def _systems(register: Register, system_id: str) -> Sequence[System]:
    """The system of a page; all of them on a page of the room."""
    return [register.house.system(system_id)] if system_id else register.house.systems


def _amounts(register: Register, id_: str, system_id: str) -> list[Amount]:
    return register.of_id(id_, system=system_id)


def _map(amount: Amount, register: Register) -> MapView:
    value = amount.exact
    tray = dict(amount.of)["tray"]
    names = list(dict.fromkeys(name for _, _, name in value["holes"]))
    planted = {(row, column): names.index(name) for row, column, name in value["holes"]}
    varieties = {variety.id: variety for variety in register.house.varieties}
    marks = variety_marks(register.house)
    columns, plates = value["columns"], value["plates"]
    length = columns * value["pitch_mm"]
    return MapView(
        title=f"Planting map, tray {tray}",
        rows=value["rows"],
        columns=columns,
        plates=_plates(tray, plates, value.get("later", {})),
        length_text=_length_text(length, register.house.us),
        varieties=tuple(
            MapVariety(
                name.replace("_", " "),
                marks[name].letters,
                marks[name].number,
                sum(1 for _, _, other in value["holes"] if other == name),
                varieties[name].spacing.written,
            )
            for name in names
        ),
        holes=tuple(
            (row, column, planted.get((row, column), -1))
            for row in range(value["rows"])
            for column in range(columns)
        ),
    )


def _plates(tray: str, count: int, later: Mapping[str, str]) -> tuple[str, ...]:
    """The names over the plates of a tray, with the day of those planted later."""
    names = [f"{tray}-{'LR'[n]}" for n in range(count)] if count == 2 else [tray]
    days = {name: f", from {date.fromisoformat(day):%d %b}" for name, day in later.items()}
    return tuple(f"{name}{days.get(name, '')}" for name in names)


def _length_text(millimetres: float, us: bool) -> str:
    if us:
        return f"{millimetres / 25.4:.0f} in of holes"
    return f"{millimetres / 1000:.2f} m of holes"


def _stick(register: Register, system: System) -> StickView:
    us = register.house.us
    tank = system.reservoir
    unit = level_unit(register)
    metre = convert(1.0, "m", unit)
    top = getattr(tank, tank.height_field).to("m")
    marks = []
    for label, id_, field, note in _MARKS:
        height = getattr(tank, field).to("m")
        found = register.get(id_, system=system.id)
        marks.append(
            StickMark(
                label,
                height / top,
                f"{height * metre:.1f} {unit}",
                found.printed,
                note,
                field == "pump_minimum_height",
            )
        )
    flooded = _level_while_flooded(register, system, top)
    if flooded is not None:
        marks.append(flooded)
    volume_unit = printing.shown_unit(printing.house_unit("L", us))
    scale = [
        (level / metre / top, f"{level:g}", f"{volume:g}")
        for level, volume, _ in _table_rows(register, system)
        if level % (2 if us else 5) == 0
    ]
    return StickView(
        title=f"Level stick, tank {system.id}",
        unit=unit,
        volume_unit=volume_unit,
        scale=tuple(scale),
        marks=tuple(sorted(marks, key=lambda mark: -mark.share)),
        fill_share=tank.fill_mark_height.to("m") / top,
        low_share=tank.pump_minimum_height.to("m") / top,
    )


def _level_while_flooded(register: Register, system: System, top: float) -> StickMark | None:
    try:
        found = register.get("level_at_flood", system=system.id)
        full, drawn = (
            register.get("res_fill", system=system.id),
            register.get("draw_simultaneous", system=system.id),
        )
    except NotFound:
        return None
    if system.plumbing is not None and system.plumbing.flood_order == "staggered":
        drawn = register.get("draw_staggered", system=system.id)
    litres = full.exact - drawn.exact
    value, unit = printing.in_house_unit(litres, "L", register.house.us)
    return StickMark(
        "While flooded",
        found.exact / 100 / top,
        found.printed,
        f"{value:.0f} {printing.shown_unit(unit)}",
        "trays up" if drawn.id == "draw_simultaneous" else "one tray up",
    )


def _table_rows(register: Register, system: System) -> list[list[float]]:
    rows: list[list[float]] = register.get("level_table", system=system.id).exact["rows"]
    return rows


def amount_table(amount: Amount, title: str) -> TableView:
    """Each cell with its unit; where no tool measures so little, the cell says so."""
    columns = amount.exact["columns"]
    digits = [
        max(
            (decimals_of(row[n]) for row in amount.exact["rows"] if isinstance(row[n], float | int)),
            default=0,
        )
        for n in range(len(columns))
    ]
    return TableView(
        title=title,
        columns=tuple(column["name"] for column in columns),
        rows=tuple(
            tuple(_cell(value, columns[n]["unit"], digits[n]) for n, value in enumerate(row))
            for row in amount.exact["rows"]
        ),
    )


def _cell(value: float | str | None, unit: str, digits: int) -> str:
    if isinstance(value, str):
        return value.replace("_", " ")
    return "too little to measure" if value is None else printing.with_unit(f"{value:.{digits}f}", unit)
