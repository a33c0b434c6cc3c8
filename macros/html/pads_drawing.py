"""The pads of a test strip in a row: a bracket over those that pass, hatching on those that stop the work.

Tenths of a millimetre as printed, x to the right, y down. A pad is told by its number and its place, not by a colour.
"""

from __future__ import annotations

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.figure import PadsView

PITCH, PAD, LEFT = 110, 90, 10


def pad_left(number: int) -> int:
    """The left edge of a pad, the first being 0."""
    return LEFT + number * PITCH


def bracket(view: PadsView) -> tuple[int, int]:
    """Left and right end over the pads that pass; one at least does."""
    passing = [number for number, (_, passes) in enumerate(view.pads) if passes]
    return pad_left(passing[0]), pad_left(passing[-1]) + PAD


def in_words(view: PadsView) -> str:
    """What the drawing says: which pads pass and which do not."""
    passing = " or ".join(value for value, passes in view.pads if passes)
    failing = ", ".join(value for value, passes in view.pads if not passes)
    stop = f"; stop at {failing} {view.unit}" if failing else ""
    return f"{view.strip}: {passing} {view.unit} pass{stop}"


def pads_drawing(view: PadsView) -> Markup:
    """One strip as HTML on one line: it stands inside a step."""
    start, end = bracket(view)
    return Markup(
        render(
            "pads.html.j2",
            v=view,
            left=[pad_left(number) for number in range(len(view.pads))],
            pad=PAD,
            start=start,
            end=end,
            width=LEFT + len(view.pads) * PITCH,
            said=in_words(view),
        )
        .strip()
        .replace("\n", "")
    )
