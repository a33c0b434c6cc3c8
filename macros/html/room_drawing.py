"""The drawing "how it should look now": one rack with its tank, every thing the same symbol throughout the manual.

Whole numbers of drawing units; x to the right, y down. Widths, the tank and its level are to scale; the tiers stand
closer than they do, or the drawing were mostly air. A state shows by shape and pattern, never by colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.room_view import RackSizes, RoomView

WIDTH = 300
TIERS_MOST = 6
"""Tiers that are drawn; three dots stand for those of a rack that has more."""
_MIDDLE, _WIDEST = 130, 152
_TOP, _TIER = 8, 46
_ABOVE_TANK = 26
"""Room for a lid that stands ajar."""
_LOWEST, _HIGHEST = 64, 110
"""The tank is drawn no lower and no higher than this: its water must be seen, and the drawing stay small."""
_ROW = 42
_BESIDE = _TOP + 4 * _ROW + 46
"""Floor of the smallest rack: four rows of plugs stand above the valve."""
_LEAST_WATER = 9
"""Water that is there shows, however little: two rows of its pattern."""


@dataclass(frozen=True)
class Frame:
    """Where things stand: left edge and width of trays and tank, `tiers` the top of each, `tank` and `floor` its ends."""

    tray: int
    tray_width: int
    tank: int
    tank_width: int
    tiers: tuple[int, ...]
    tank_top: int
    floor: int

    @property
    def tank_right(self) -> int:
        """The right wall of the tank."""
        return self.tank + self.tank_width


@dataclass(frozen=True)
class Plug:
    """A socket and what belongs in it: its row, the thing, whether it is plugged in."""

    y: int
    thing: str
    is_in: bool


def frame(rack: RackSizes) -> Frame:
    """The rack drawn: the wider of tray and tank takes the whole width."""
    scale = _WIDEST / max(rack.tray_width, rack.tank_width)
    tray, tank = round(rack.tray_width * scale), round(rack.tank_width * scale)
    height = min(max(round(rack.tank_height * scale), _LOWEST), _HIGHEST)
    tiers = tuple(_TOP + number * _TIER for number in range(min(rack.trays, TIERS_MOST)))
    floor = max(tiers[-1] + _TIER + _ABOVE_TANK + height, _BESIDE)
    return Frame(_MIDDLE - tray // 2, tray, _MIDDLE - tank // 2, tank, tiers, floor - height, floor)


def plugs(view: RoomView) -> list[Plug]:
    """The sockets from the top: pump, then what else the system has."""
    things = [("pump", view.pump), ("air", view.air), ("lamps", view.lamps)]
    there = [(thing, is_in) for thing, is_in in things if is_in is not None]
    return [Plug(_TOP + _ROW * (row + 1), thing, is_in) for row, (thing, is_in) in enumerate(there)]


def water_height(view: RoomView, height: int) -> int:
    """How high the water is drawn in a tank of so many units; 0 without water."""
    if view.water == "none":
        return 0
    return min(max(round(view.level * height), _LEAST_WATER), height)


def room_drawing(view: RoomView, drawing_id: str) -> Markup:
    """One moment as HTML without a blank line inside; `drawing_id` makes its patterns its own."""
    at = frame(view.rack)
    return _figure(view, drawing_id, at, (0, 0, WIDTH, at.floor + 22), view.title)


def symbol(view: RoomView, drawing_id: str, part: str) -> Markup:
    """One thing cut out of the drawing of a moment, so that a legend cannot differ; `part` is a name of `PARTS`."""
    at = frame(view.rack)
    rows = {plug.thing: (223, plug.y - 4, 75, _ROW) for plug in plugs(view)}
    boxes = {
        "tier": (34, at.tiers[0] - 6, 192, _TIER + 2),
        "tank": (6, at.tank_top - 30, 220, at.floor - at.tank_top + 50),
        "valve": (223, at.floor - 46, 75, 68),
        "breaker": (256, _TOP - 6, 42, 38),
        "timer": (223, _TOP - 3, 33, 34),
    }
    return _figure(view, drawing_id, at, (boxes | rows)[part], "")


PARTS = ("pump", "air", "lamps", "timer", "breaker", "valve", "tank", "tier")


def _figure(view: RoomView, drawing_id: str, at: Frame, seen: tuple[int, ...], caption: str) -> Markup:
    height = at.floor - at.tank_top
    water = water_height(view, height - 4)
    values = {
        "v": view,
        "id": drawing_id,
        "at": at,
        "seen": seen,
        "caption": caption,
        "more": view.rack.trays > len(at.tiers),
        "plugs": plugs(view),
        "row": _TOP,
        "water": water,
        "water_top": at.floor - 2 - water,
        "mark": at.floor - 2 - round(view.fill_mark * (height - 4)),
        "lit": view.lamps and view.power,
        "bubbles": view.air and view.stones and view.power and water > 0,
    }
    return Markup(render("room.html.j2", **values).strip().replace("\n", ""))
