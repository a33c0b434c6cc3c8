"""A measuring tool filled to its mark: the scale and the water stand where the numbers say.

Tenths of a millimetre as printed, x to the right, y down. A jug narrows downward in truth, so that its own marks differ;
here as there the water stands at the mark, and the mark is what is read.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.figure import MeasureView

HEIGHT, TOP = 400.0, 40.0
"""Length of a whole scale: 40 mm on paper."""
_WIDTHS = {"syringe": 70.0, "cylinder": 100.0, "jug": 220.0}
_LEFT = 20.0
_BEFORE_LABEL, _LETTER = 60.0, 29.0
"""Room from the tool to the label, and for each of its letters, the arrow and bold type of 44 counted in."""
MOST_MARKS = 50
"""Marks that stand apart on 40 mm; a finer scale shows every second, fifth or tenth."""
_STEPS = (1, 2, 5, 10, 20, 50, 100)


@dataclass(frozen=True)
class Scale:
    """Where marks stand: (y, text) of each, the text empty between those with a number; and where the water stands."""

    marks: tuple[tuple[float, str], ...]
    water: float


def scale(view: MeasureView) -> Scale:
    """The marks of a tool, and the height of its filling."""
    count = round(view.capacity / view.mark)
    every = next((step for step in _STEPS if count <= step * MOST_MARKS), -(-count // MOST_MARKS))
    numbered = next((n for n in (5, 10, 20, 50) if count // every <= 6 * n), 50) * every
    marks = [(n, n * view.mark) for n in range(0, count + 1, every)]
    return Scale(
        tuple((height(view, value), f"{value:g}" if n % numbered == 0 and n else "") for n, value in marks),
        height(view, view.volume),
    )


def height(view: MeasureView, volume: float) -> float:
    """Where a volume stands on the drawing, from the top."""
    return round(TOP + HEIGHT * (1 - volume / view.capacity), 2)


def measure_drawing(view: MeasureView) -> Markup:
    """One filling as HTML on one line: it stands inside a step."""
    times = f"{view.times} x " if view.times > 1 else ""
    label = f"{times}{view.volume_text} {view.unit}"
    return Markup(
        render(
            "measure.html.j2",
            v=view,
            s=scale(view),
            left=_LEFT,
            width=_WIDTHS[view.shape],
            top=TOP,
            bottom=TOP + HEIGHT,
            label=label,
            room=_BEFORE_LABEL + _LETTER * len(label),
        )
        .strip()
        .replace("\n", "")
    )
