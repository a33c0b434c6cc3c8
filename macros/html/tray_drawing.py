"""A tray cut across, drained, flooding and full; and a plate cut through a planted and a covered hole.

Tenths of a millimetre as printed, x to the right, y down. In the tray heights are to scale, widths are not; the plate
shows what sits in what, and is to no scale.
"""

from __future__ import annotations

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.figure import HoleView, TrayView

RIM, PITCH, TOP = 150, 240, 30
"""Height of the rim over the floor of a tray, from tray to tray, and the rim of the first."""
STATES = ("drained", "flooding", "full")
_FLOODING = 0.5
_LABEL = 40
"""Least height between two texts."""


def floor(number: int) -> int:
    """The floor of a tray, the first being 0."""
    return TOP + RIM + number * PITCH


def lip(view: TrayView, number: int) -> float:
    """The height of the overflow in a tray."""
    return round(floor(number) - RIM * view.overflow_share, 1)


def water(view: TrayView, number: int) -> float | None:
    """The surface of the water; None in the drained tray."""
    share = {"drained": 0.0, "flooding": _FLOODING, "full": 1.0}[STATES[number]]
    return round(floor(number) - RIM * view.overflow_share * share, 1) if share else None


def tray_drawing(view: TrayView, figure_id: str) -> Markup:
    """Three trays, one below the other, as HTML without a blank line inside."""
    return Markup(
        render(
            "tray.html.j2",
            v=view,
            id=figure_id,
            trays=[(state, floor(n), lip(view, n), water(view, n)) for n, state in enumerate(STATES)],
            rim=RIM,
            height=floor(len(STATES) - 1) + 60,
            label_y=max(lip(view, 0) + 12, TOP + 12 + _LABEL),
        ).strip()
    )


def hole_drawing(view: HoleView, figure_id: str) -> Markup:
    """Two holes of a plate as HTML without a blank line inside."""
    return Markup(render("hole.html.j2", v=view, id=figure_id).strip())
