"""Drawings of one system from its own facts: the day on a clock, a tray and a plate cut across."""

from __future__ import annotations

from collections.abc import Iterator

from macros.amounts.engine import number_format as printing
from macros.ground.units import Quantity, convert
from macros.house.records.systems import System
from macros.page_model.figure import DayView, HoleView, TrayView


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


def _height(length: Quantity, us: bool) -> str:
    """`3 cm`, `1.25 in`: as the stick of the tank is read, never rounded."""
    unit = printing.house_unit("m", us)
    return printing.with_unit(printing.brief(convert(length.to("m"), "m", unit)), unit)
