"""The day of a system on a clock: midnight at the top, noon at the bottom, the hours running as on any clock.

Tenths of a millimetre as printed, x to the right, y down. Lit and dark are told by words, floods by wedges with their time.
"""

from __future__ import annotations

from math import cos, pi, sin

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.figure import DayView

X, Y, INNER, OUTER = 420, 250, 115, 165
"""Middle of the clock, and the ring that shows lit and dark."""
_DAY = 24 * 60
_NUMBERS = 78
_TEXT = 219
_WEDGE = 30
_APART = 55
"""[min] Floods nearer than this to one with its time are drawn without: the text below has all."""


def point(minute: float, radius: float) -> tuple[float, float]:
    """Where a minute from midnight stands at so far from the middle."""
    angle = 2 * pi * minute / _DAY
    return round(X + radius * sin(angle), 1), round(Y - radius * cos(angle), 1)


def clock(minute: int) -> str:
    """`06:30`."""
    return f"{minute // 60 % 24:02d}:{minute % 60:02d}"


def in_words(view: DayView) -> str:
    """What the drawing says."""
    told = []
    if view.on is not None and view.off is not None:
        told.append(f"lamps lit {clock(view.on)} to {clock(view.off)}")
    if view.floods:
        told.append(f"floods at {', '.join(clock(one) for one in view.floods)}, {view.each} each")
    text = "; ".join(told)
    return f"{text[:1].upper()}{text[1:]}."


def day_drawing(view: DayView, figure_id: str) -> Markup:
    """One clock as HTML without a blank line inside."""
    dark = None if view.on is None or view.off is None else _ring(view.off, view.on)
    middles = [] if dark is None else _middles(view.on or 0, view.off or 0)
    return Markup(
        render(
            "day.html.j2",
            v=view,
            id=figure_id,
            said=in_words(view),
            x=X,
            y=Y,
            inner=INNER,
            outer=OUTER,
            dark=dark,
            middles=middles,
            numbers=[(*point(hour * 60, _NUMBERS), f"{hour:02d}") for hour in (0, 6, 12, 18)],
            hours=[(*point(hour * 60, INNER), *point(hour * 60, INNER - 12)) for hour in range(24)],
            wedges=[_wedge(one) for one in view.floods],
            times=_times(view.floods),
        ).strip()
    )


def _ring(start: int, end: int) -> str:
    """The path of a piece of the ring, clockwise."""
    far = int((end - start) % _DAY > _DAY // 2)
    (ax, ay), (bx, by) = point(start, OUTER), point(end, OUTER)
    (cx, cy), (dx, dy) = point(end, INNER), point(start, INNER)
    return f"M{ax} {ay}A{OUTER} {OUTER} 0 {far} 1 {bx} {by}L{cx} {cy}A{INNER} {INNER} 0 {far} 0 {dx} {dy}z"


def _middles(on: int, off: int) -> list[tuple[float, float, str]]:
    """Where the words stand: in the middle of each stretch."""
    found = []
    for start, end, word in ((on, off, "lit"), (off, on, "dark")):
        x, y = point(start + (end - start) % _DAY / 2, (INNER + OUTER) / 2)
        found.append((x, round(y + 11, 1), word))
    return found


def _wedge(minute: int) -> str:
    """A wedge that stands on the ring with its point."""
    (ax, ay), (bx, by) = point(minute, OUTER + 3), point(minute - 16, OUTER + _WEDGE)
    cx, cy = point(minute + 16, OUTER + _WEDGE)
    return f"M{ax} {ay}L{bx} {by}L{cx} {cy}z"


def _times(floods: tuple[int, ...]) -> list[tuple[float, float, str, str]]:
    """(x, y, anchor, text) of the times that have room."""
    found, last, first = [], -_DAY, min(floods, default=0)
    for minute in floods:
        if minute - last < _APART or (minute > first and first + _DAY - minute < _APART):
            continue
        last = minute
        x, y = point(minute, _TEXT)
        anchor = "middle" if abs(x - X) < _TEXT * 0.3 else "start" if x > X else "end"
        found.append((x, round(y + 12, 1), anchor, clock(minute)))
    return found
