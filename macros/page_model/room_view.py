"""How a system should look at one moment: what a drawing of it needs, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class RackSizes:
    """What is drawn to scale: number of trays, and the inside of a tray and of the tank as seen from the front [m]."""

    trays: int
    tray_width: float
    tank_width: float
    tank_height: float


@dataclass(frozen=True)
class RoomView:
    """A rack with its tank at one moment.

    Parameters
    ----------
    title : which moment, as `After step 5`
    said : all that is drawn, in words, with the level as a person reads it; for who cannot see the drawing
    level, fill_mark : water in the tank and the fill mark, as shares of its height
    water : what the tank holds: none, plain, feed or sanitizer
    up : water stands on the trays
    pump, air, lamps : plugged in; None where the system has none
    power : the breaker is on
    timer, valve : off or auto, open or shut; empty where the system has none
    lid : shut, open or ajar
    stones : the air stones are in the tank; without meaning where `air` is None
    crop : plants stand on the trays
    """

    title: str
    said: str
    rack: RackSizes
    level: float
    fill_mark: float
    water: str
    up: bool
    pump: bool
    air: bool | None
    lamps: bool | None
    power: bool
    timer: str
    valve: str
    lid: str
    stones: bool
    crop: bool
