"""A photograph on a page or a sheet, with its arrows and circles drawn over it."""

from __future__ import annotations

from math import atan2, cos, pi, sin

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.photo import PhotoView

_HEAD, _OPENING = 5.0, pi / 7
"""Length of an arrow's head in percent of the width, and half the angle it opens."""


def photo(view: PhotoView, source: str) -> Markup:
    """The picture at `source` with what points into it; a dark line on a light edge is seen on any ground."""
    tall = round(100 * view.height / view.width, 2)
    arrows = [arrow(*shape, tall=tall) for shape in view.arrows]
    return Markup(render("photo.html.j2", p=view, source=source, tall=tall, arrows=arrows).strip())


def arrow(from_x: float, from_y: float, to_x: float, to_y: float, *, tall: float) -> str:
    """An arrow as a path in a drawing 100 wide and `tall` high; its places are in percent of width and height."""
    x, y, end_x, end_y = from_x, from_y * tall / 100, to_x, to_y * tall / 100
    back = atan2(y - end_y, x - end_x)
    wings = [
        (end_x + _HEAD * cos(back + turn), end_y + _HEAD * sin(back + turn)) for turn in (_OPENING, -_OPENING)
    ]
    (ax, ay), (bx, by) = wings
    return f"M{x:.2f} {y:.2f}L{end_x:.2f} {end_y:.2f}M{ax:.2f} {ay:.2f}L{end_x:.2f} {end_y:.2f}L{bx:.2f} {by:.2f}"
