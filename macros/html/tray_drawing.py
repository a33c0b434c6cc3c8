"""A tray cut across, drained, flooding and full; a plate cut through a planted and a covered hole; a lamp over its tray;
trays of a shelf.

Tenths of a millimetre as printed, x to the right, y down. In the tray and under the lamp heights are to scale, widths
are not; the plate shows what sits in what, and is to no scale.
"""

from __future__ import annotations

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.figure import HoleView, LampView, ShelfView, TrayView

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


LAMP, OVER_FLOOR = 70, 400
"""Underside of the lamp, and from there to the floor of the tray."""


def limit(view: LampView) -> float:
    """The height no leaf grows over."""
    return round(LAMP + OVER_FLOOR * view.gap_share, 1)


def lamp_drawing(view: LampView, figure_id: str) -> Markup:
    """A lamp over three plants as HTML without a blank line inside."""
    return Markup(
        render(
            "lamp.html.j2", v=view, id=figure_id, lamp=LAMP, floor=LAMP + OVER_FLOOR, limit=limit(view)
        ).strip()
    )


SHELF = 800
"""Length of the board that stocks stand on, feed apart at its right."""
_BOTTLE, _FOR_WORDS = 34, 4
_MOST_BOTTLES = 4


def shelf_drawing(view: ShelfView, figure_id: str) -> Markup:
    """The trays side by side as HTML without a blank line inside: numbered, for a name is longer than a tray."""
    places = [*view.trays, *([("feed", view.feed)] if view.feed else [])]
    slot = SHELF // len(places)
    told = [
        (number, f"{word}{' apart' if word == 'feed' else ''}: {', '.join(names)}")
        for number, (word, names) in enumerate(places, start=1)
    ]
    return Markup(
        render(
            "shelf.html.j2",
            v=view,
            id=figure_id,
            told="; ".join(f"{number} {text}" for number, text in told),
            places=[
                (
                    20 + n * slot,
                    word if len(places) <= _FOR_WORDS else "",
                    _bottles(20 + n * slot, slot, len(names)),
                )
                for n, (word, names) in enumerate(places)
            ],
            slot=slot,
        ).strip()
    )


def _bottles(left: int, slot: int, count: int) -> list[int]:
    """Left edges of the bottles of a tray, in its middle; four stand for more."""
    shown = min(count, _MOST_BOTTLES, max(1, (slot - 40) // (_BOTTLE + 6)))
    start = left + slot // 2 - shown * (_BOTTLE + 6) // 2 + 3
    return [start + n * (_BOTTLE + 6) for n in range(shown)]
