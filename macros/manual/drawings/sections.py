"""Drawings from the facts alone: a system's day on a clock, its tray and plate cut across, its lamp; the shelf of the house."""

from __future__ import annotations

import math
from collections.abc import Iterator

from macros.amounts.engine import number_format as printing
from macros.ground.units import Quantity, convert
from macros.house import House
from macros.house.records.systems import System
from macros.house.rules.varieties import LEAF_TO_LAMP
from macros.page_model.figure import DayView, HoleView, LampView, ShelfView, TrayView


def day_wheel(system: System) -> Iterator[DayView]:
    """Lamps and floods of a day; nothing where the system has neither lamps nor a timer."""
    lights, timer = system.lights, system.timer
    if lights is None and timer is None:
        return
    yield DayView(
        title=f"A day of system {system.id}",
        on=None if lights is None else lights.on.hour * 60 + lights.on.minute,
        off=None if lights is None else lights.off.hour * 60 + lights.off.minute,
        floods=() if timer is None else tuple(sorted(one.hour * 60 + one.minute for one in timer.floods_set)),
        each="" if timer is None else timer.on_time_set.written,
    )


def tray_section(system: System, us: bool) -> TrayView:
    """A tray of the system from its floor to its rim."""
    trays = system.trays
    return TrayView(
        title=f"A tray of system {system.id}, cut across",
        overflow_share=trays.flood_depth.to("m") / trays.wall_height.to("m"),
        overflow=_height(trays.flood_depth, us),
        rim=_height(trays.wall_height, us),
    )


def hole_section(system: System, us: bool) -> Iterator[HoleView]:
    """Two holes of a plate; nothing where the system has no plates."""
    if system.cup_plate is not None:
        yield HoleView(
            title=f"Cup, plug and cover in a plate of system {system.id}",
            apart=_height(system.cup_plate.hole_pitch, us),
            water=_height(system.trays.flood_depth, us),
        )


def lamp_gap(system: System, us: bool) -> Iterator[LampView]:
    """The lamp over a tray; nothing where the house does not say how high it hangs, or no leaf has room under it."""
    hung = system.lights.hung_above_tray.to("mm") if system.lights and system.lights.hung_above_tray else 0.0
    if system.lights is None or system.lights.hung_above_tray is None or hung <= LEAF_TO_LAMP:
        return
    unit = "in" if us else "mm"
    # Both are rounded away from the lamp: what is kept free up, what a leaf may reach down.
    gap = math.ceil(round(convert(LEAF_TO_LAMP, "mm", unit), 6))
    leaf = math.floor(round(convert(hung - LEAF_TO_LAMP, "mm", unit), 6))
    yield LampView(
        title=f"Lamp and tray of system {system.id}",
        gap_share=LEAF_TO_LAMP / hung,
        hung=printing.with_unit(printing.brief(convert(hung, "mm", unit)), unit),
        gap=printing.with_unit(f"{gap}", unit),
        leaf=printing.with_unit(f"{leaf}", unit),
    )


def chemical_shelf(house: House) -> Iterator[ShelfView]:
    """The stocks in their trays; nothing where the house has none. What no page says of a cleaner is its own tray."""
    trays: list[tuple[str, tuple[str, ...]]] = []
    for role, word in (
        ("sanitizer", "sanitizer"),
        ("acid", "acids"),
        ("base", "bases"),
        ("cleaner", "cleaner"),
    ):
        names = tuple(chemical.name for chemical in house.chemicals_with_role(role))
        if role in _ALONE:
            trays += [(word, (name,)) for name in names]
        elif names:
            trays.append((word, names))
    feed = tuple(part.name for part in house.nutrients.parts_in_order())
    if trays:
        yield ShelfView("The chemical shelf, every tray by itself", tuple(trays), feed)


_ALONE = ("sanitizer", "cleaner")
"""Roles of which no two stocks share a tray."""


def _height(length: Quantity, us: bool) -> str:
    """`3 cm`, `1.25 in`: as the stick of the tank is read, never rounded."""
    unit = printing.house_unit("m", us)
    return printing.with_unit(printing.brief(convert(length.to("m"), "m", unit)), unit)
