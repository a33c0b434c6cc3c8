"""Drawings as SVG: positions are worked out here, the template prints them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from macros.html.day_drawing import day_drawing
from macros.html.environment import render
from macros.html.tray_drawing import hole_drawing, lamp_drawing, shelf_drawing, tray_drawing
from macros.page_model.figure import (  # fmt: skip
    DayView,
    FigureView,
    HoleView,
    LampView,
    MapView,
    ShelfView,
    StickView,
    TableView,
    TrayView,
)

PATTERNS = ("dots", "diag", "cross", "wait")
"""Fills that differ without colour."""
SHAPES = (
    "M-24 0a24 24 0 1 0 48 0a24 24 0 1 0-48 0z",
    "M-21-21H21V21H-21z",
    "M0-29L29 0L0 29L-29 0z",
    "M-14-23H14L27 0L14 23H-14L-27 0z",
)
"""Circle, square, diamond, hexagon about their middle: outlines that differ in a copy of black and white alone.

Shape and fill together tell sixteen varieties of a house apart: neighbours in its list by their shape, those four apart
by their fill. The letters always tell."""

_HOLE = 60.0
_LEFT, _TOP = 40.0, 66.0
_STICK_HEIGHT, _STICK_TOP, _LABEL_GAP = 480.0, 40.0, 76.0


_OWN: dict[type[FigureView], Callable[..., Markup]] = {
    DayView: day_drawing,
    TrayView: tray_drawing,
    HoleView: hole_drawing,
    LampView: lamp_drawing,
    ShelfView: shelf_drawing,
}
"""Drawings that have a module and a template of their own."""


@dataclass(frozen=True)
class Spot:
    """Where one hole of a map is drawn."""

    x: float
    y: float
    variety: int


@dataclass(frozen=True)
class Label:
    """A mark of the stick: height of its line, and of its text once labels are spread apart."""

    y: float
    text_y: float


def map_spots(view: MapView) -> list[Spot]:
    """The centre of each hole; drawing units, y downward, row a at the top."""
    return [Spot(_LEFT + (c + 0.5) * _HOLE, _TOP + (r + 0.5) * _HOLE, v) for r, c, v in view.holes]


def spread(heights: list[float], gap: float) -> list[float]:
    """Heights moved apart so that neighbours are at least `gap` from each other; order and rough place are kept."""
    order = sorted(range(len(heights)), key=heights.__getitem__)
    placed = [heights[n] for n in order]
    for n in range(1, len(placed)):
        placed[n] = max(placed[n], placed[n - 1] + gap)
    shift = max(0.0, (placed[-1] - heights[order[-1]]) / 2) if placed else 0.0
    result = [0.0] * len(heights)
    for n, index in enumerate(order):
        result[index] = placed[n] - shift
    return result


def stick_labels(view: StickView) -> list[Label]:
    """Where each mark's line and text stand."""
    lines = [_STICK_TOP + _STICK_HEIGHT * (1 - mark.share) for mark in view.marks]
    texts = [max(y, _STICK_TOP + 10) for y in spread(lines, _LABEL_GAP)]
    return [Label(round(y, 1), round(text, 1)) for y, text in zip(lines, texts, strict=True)]


def figure(view: FigureView, figure_id: str) -> Markup:
    """One figure as HTML without a blank line inside, so that Markdown leaves it alone."""
    values: dict[str, object] = {"f": view, "id": figure_id}
    if isinstance(view, DayView | TrayView | HoleView | LampView | ShelfView):
        return _OWN[type(view)](view, figure_id)
    if isinstance(view, MapView):
        values |= {
            "spots": map_spots(view),
            "hole": _HOLE,
            "left": _LEFT,
            "top": _TOP,
            "shapes": [SHAPES[one.number % len(SHAPES)] for one in view.varieties],
            "patterns": [
                PATTERNS[(one.number + one.number // len(SHAPES)) % len(PATTERNS)] for one in view.varieties
            ],
            "covered": sum(1 for hole in view.holes if hole[2] < 0),
        }
    elif isinstance(view, StickView):
        labels = stick_labels(view)
        values |= {
            "labels": labels,
            "height": _STICK_HEIGHT,
            "top": _STICK_TOP,
            "bottom": max(_STICK_TOP + _STICK_HEIGHT, *(label.text_y + 30 for label in labels)),
        }
    elif not isinstance(view, TableView):
        raise TypeError(f"no drawing for {view!r}")
    text = render("figures.html.j2", **values)
    return Markup("\n".join(line for line in text.splitlines() if line.strip()))
