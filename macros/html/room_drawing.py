"""The drawing "how it should look now": one rack with its tank, every thing the same symbol throughout the manual.

Whole numbers of drawing units; x to the right, y down. A state shows by shape, never by colour alone.
"""

from __future__ import annotations

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.room_view import RoomView

WIDTH = 300
_TIERS_MOST = 4
"""Tiers that are drawn; a rack of more is drawn with so many and its number."""
_TIER = 46
_TANK_TOP, _TANK_HEIGHT = 38, 84
_LOWEST = 124
"""Room beside the tank for plugs and timer of the smallest rack."""


def room_drawing(view: RoomView, drawing_id: str) -> Markup:
    """One moment as HTML without a blank line inside; `drawing_id` makes its patterns its own."""
    tiers = min(view.trays, _TIERS_MOST)
    tank_top = max(tiers * _TIER + _TANK_TOP, _LOWEST)
    inside = _TANK_HEIGHT - 8
    level = round(max(0.0, min(1.0, view.level)) * inside)
    values = {
        "v": view,
        "id": drawing_id,
        "width": WIDTH,
        "tiers": [number * _TIER + 12 for number in range(tiers)],
        "more": view.trays - tiers,
        "tank": tank_top,
        "height": tank_top + _TANK_HEIGHT + 22,
        "water_top": tank_top + _TANK_HEIGHT - 4 - level,
        "water_height": level,
        "mark": tank_top + _TANK_HEIGHT - 4 - round(view.fill_mark * inside),
        "floor": tank_top + _TANK_HEIGHT,
    }
    return Markup(render("room.html.j2", **values).strip().replace("\n", ""))
