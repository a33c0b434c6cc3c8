"""Where the tape goes: each shape of tank, its marks, a tray, its pipes, a plate and a lamp, with the words of the facts.

Tenths of a millimetre as printed, x to the right, y down, each panel from its own left upper corner. Nothing is to scale:
it shows which two points a measure lies between.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from macros.html.environment import render

WIDTH, HEIGHT, ACROSS = 600, 330, 3
"""One panel, and panels side by side: 180 mm."""
_HEAD = 17.0


@dataclass(frozen=True)
class Tape:
    """One measure: the two points it lies between, and its word with the place of the word."""

    x1: float
    y1: float
    x2: float
    y2: float
    word: str
    text_x: float
    text_y: float
    anchor: str = "start"

    @property
    def path(self) -> str:
        """The line with a head at both ends."""
        length = math.hypot(self.x2 - self.x1, self.y2 - self.y1)
        along_x, along_y = (self.x2 - self.x1) / length * _HEAD, (self.y2 - self.y1) / length * _HEAD
        heads = [
            f"M{x + sign * along_x + side * along_y / 2:.0f} {y + sign * along_y - side * along_x / 2:.0f}L{x:.0f} {y:.0f}"
            for x, y, sign in ((self.x1, self.y1, 1), (self.x2, self.y2, -1))
            for side in (1, -1)
        ]
        return f"M{self.x1:.0f} {self.y1:.0f}L{self.x2:.0f} {self.y2:.0f}{''.join(heads)}"


@dataclass(frozen=True)
class Panel:
    """One thing: its name, its outline, its water, thin lines, and where the tape goes."""

    name: str
    outline: str
    tapes: tuple[Tape, ...]
    water: str = ""
    thin: str = ""
    words: tuple[tuple[float, float, str], ...] = ()


_PLANT = "M{0} 268V160M{0} 204q-40 -4 -46 -34q40 0 46 34M{0} 188q40 -4 46 -34q-40 0 -46 34"
_ELLIPSE = "M{0} {1}a{2} {3} 0 1 0 {4} 0a{2} {3} 0 1 0 -{4} 0z"

PANELS = (
    Panel(
        "box",
        "M60 110V270H360V110zM60 110L130 50H430L360 110M430 50V210L360 270",
        (
            Tape(60, 292, 360, 292, "length", 210, 322, "middle"),
            Tape(376, 276, 446, 216, "width", 424, 276),
            Tape(92, 110, 92, 270, "height", 108, 200),
        ),
    ),
    Panel(
        "cylinder",
        _ELLIPSE.format(90, 80, 140, 34, 280) + "M90 80V260a140 34 0 0 0 280 0V80",
        (Tape(90, 80, 370, 80, "diameter", 384, 92), Tape(120, 106, 120, 284, "height", 136, 210)),
    ),
    Panel(
        "horizontal cylinder",
        _ELLIPSE.format(50, 170, 36, 100, 72) + "M86 70H370a36 100 0 0 1 0 200H86",
        (
            Tape(86, 70, 86, 270, "diameter", 132, 182),
            Tape(86, 292, 386, 292, "length", 236, 322, "middle"),
        ),
    ),
    Panel(
        "cone frustum",
        _ELLIPSE.format(60, 80, 150, 32, 300) + "M60 80L115 262a95 24 0 0 0 190 0L360 80",
        (
            Tape(60, 80, 360, 80, "diameter top", 374, 92),
            Tape(115, 262, 305, 262, "diameter bottom", 320, 282),
            Tape(160, 106, 160, 262, "height", 176, 190),
        ),
        thin="M115 262a95 24 0 0 1 190 0",
    ),
    Panel(
        "tapered box",
        "M50 100L90 262H310L350 100zM50 100L110 50H420L350 100M420 50L372 214L310 262",
        (
            Tape(50, 92, 350, 92, "length top", 140, 84),
            Tape(90, 284, 310, 284, "length bottom", 200, 318, "middle"),
            Tape(366, 102, 432, 54, "width top", 446, 66),
            Tape(326, 268, 386, 222, "width bottom", 372, 274),
            Tape(120, 100, 120, 262, "height", 136, 196),
        ),
    ),
    Panel(
        "marks of a tank",
        "M60 50V280H300V50",
        (
            Tape(96, 96, 96, 280, "fill mark", 320, 106),
            Tape(156, 176, 156, 280, "refill mark", 320, 186),
            Tape(216, 240, 216, 280, "pump minimum", 320, 250),
        ),
        water="M62 96H298V278H62z",
        thin="M60 96H312M60 176H312M60 240H312",
        words=((60, 318, "each from the floor of the tank"),),
    ),
    Panel(
        "tray",
        "M40 80V230H420V80",
        (
            Tape(40, 254, 420, 254, "length; the short way is width", 40, 290),
            Tape(430, 80, 430, 230, "wall height", 442, 162),
            Tape(66, 150, 66, 230, "flood depth", 82, 202),
            Tape(300, 128, 340, 128, "standpipe bore", 404, 108, "end"),
        ),
        water="M42 150H298V228H42z",
        thin="M300 150V260M340 150V260M42 150H298",
    ),
    Panel(
        "cup plate",
        "M30 50H430V260H30z",
        (Tape(102, 108, 230, 108, "hole pitch", 444, 118),),
        thin="".join(_ELLIPSE.format(x - 40, y, 40, 40, 80) for x in (102, 230, 358) for y in (108, 208)),
        words=(
            (444, 154, "middle to"),
            (444, 190, "middle"),
            (30, 298, "rows the short way, columns the long"),
        ),
    ),
    Panel(
        "lamp over trays",
        "M60 50H310V74H60zM40 220V270H330V220",
        (
            Tape(80, 74, 80, 268, "hung above", 94, 118),
            Tape(270, 74, 270, 156, "canopy ppfd:", 346, 130),
        ),
        thin=f"{_PLANT.format(200)}{_PLANT.format(270)}",
        words=((94, 152, "tray"), (346, 164, "light meter"), (346, 198, "at the leaves")),
    ),
)


def tape_drawing(figure_id: str) -> Markup:
    """All panels as HTML without a blank line inside."""
    placed = [(n % ACROSS * WIDTH, n // ACROSS * HEIGHT, panel) for n, panel in enumerate(PANELS)]
    told = "; ".join(
        f"{panel.name}: {', '.join(tape.word for tape in panel.tapes if tape.word)}" for panel in PANELS
    )
    text = render(
        "tape.html.j2",
        id=figure_id,
        placed=placed,
        told=told,
        width=ACROSS * WIDTH,
        height=-(-len(PANELS) // ACROSS) * HEIGHT,
    )
    return Markup("\n".join(line for line in text.splitlines() if line.strip()))
