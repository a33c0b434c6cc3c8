"""How a system should look at one moment: what a drawing of it needs, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class RoomView:
    """A rack with its tank at one moment.

    Parameters
    ----------
    title : which moment, as `After step 5`
    said : the same in words, for who cannot see the drawing
    trays : how many
    level, fill_mark : water in the tank and the fill mark, as shares of its height
    water : none, plain, feed or sanitizer
    up : water stands on the trays
    pump, air, lamps : plugged in; None where the system has none
    timer : off or auto; empty where there is none
    valve : open or shut
    lid : shut, open or ajar
    stones : the air stones are in the tank
    crop : plants stand on the trays
    """

    title: str
    said: str
    trays: int
    level: float
    fill_mark: float
    water: str
    up: bool
    pump: bool
    air: bool | None
    lamps: bool | None
    timer: str
    valve: str
    lid: str
    stones: bool
    crop: bool
