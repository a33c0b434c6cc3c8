"""A pen for line drawings: one line weight, black on white, what lies in front hides what is behind."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

from PIL import Image, ImageDraw

WIDE, HIGH = 640, 480
LINE = 3.2
"""Width of every line, in points of the finished drawing."""
_FINER = 4
"""Points are drawn this many times finer and then averaged, so that edges are smooth."""
_GREYS = 6

Point = tuple[float, float]


class Pen:
    """One drawing. Places are in points of the finished picture, from the upper left corner."""

    def __init__(self) -> None:
        self._image = Image.new("L", (WIDE * _FINER, HIGH * _FINER), 255)
        self._draw = ImageDraw.Draw(self._image)

    def picture(self) -> Image.Image:
        """What was drawn, in few greys."""
        small = self._image.reduce(_FINER)
        step = 255 // (_GREYS - 1)
        return small.point([(value + step // 2) // step * step for value in range(256)])

    def line(self, points: Iterable[Point], *, bent: bool = True, dashed: bool = False) -> None:
        """A line through the points; `bent` rounds it."""
        through = list(points)
        self._stroke(curve(through) if bent and len(through) > 2 else through, dashed)

    def shape(
        self, points: Iterable[Point], *, bent: bool = False, fill: int | None = 255, edge: bool = True
    ) -> None:
        """A closed shape that hides what is behind it; without a fill only its edge."""
        around = list(points)
        around = curve([*around, around[0]]) if bent else [*around, around[0]]
        if fill is not None:
            self._draw.polygon([_fine(one) for one in around], fill=fill)
        if edge:
            self._stroke(around, dashed=False)

    def circle(self, middle: Point, radius: float, *, fill: int | None = 255) -> None:
        """A circle."""
        self.oval(middle, radius, radius, fill=fill)

    def oval(
        self, middle: Point, wide: float, high: float, turn: float = 0, *, fill: int | None = 255
    ) -> None:
        """An oval by its half axes, turned by degrees."""
        around = [(wide * math.cos(a), high * math.sin(a)) for a in steps(0, 2 * math.pi, 40)]
        self.shape((moved(one, middle, turn) for one in around[:-1]), fill=fill)

    def dot(self, middle: Point, radius: float = LINE * 0.7) -> None:
        """A black dot."""
        x, y = middle
        box = [(x - radius) * _FINER, (y - radius) * _FINER, (x + radius) * _FINER, (y + radius) * _FINER]
        self._draw.ellipse(box, fill=0)

    def cut(self, middle: Point, turn: float = 0, reach: float = 62) -> None:
        """The mark of a cut: a dashed line across, with a head at each end that points to the stem."""
        ends = [moved((side * reach, 0), middle, turn) for side in (-1, 1)]
        self.line(ends, bent=False, dashed=True)
        for side in (-1, 1):
            head = [(side * reach * 0.55, 0), (side * (reach + 8), -15), (side * (reach + 8), 15)]
            self.shape((moved(one, middle, turn) for one in head), fill=0)

    def _stroke(self, points: Sequence[Point], dashed: bool) -> None:
        for part in _dashes(points) if dashed else [points]:
            fine = [_fine(one) for one in part]
            self._draw.line(fine, fill=0, width=round(LINE * _FINER), joint="curve")
            for x, y in (fine[0], fine[-1]):
                half = LINE * _FINER / 2
                self._draw.ellipse([x - half, y - half, x + half, y + half], fill=0)


class Blade:
    """A leaf or petal along a bent line from foot to tip; `half` gives half its width at 0 (foot) to 1 (tip)."""

    def __init__(self, foot: Point, tip: Point, half: Callable[[float], float], bend: float = 0) -> None:
        self.foot, self.tip, self.half = foot, tip, half
        (x, y), (to_x, to_y) = foot, tip
        long = math.hypot(to_x - x, to_y - y)
        self.long = long
        self._bend = ((x + to_x) / 2 - (to_y - y) / long * bend, (y + to_y) / 2 + (to_x - x) / long * bend)

    def at(self, along: float, side: float = 0) -> Point:
        """The place at a part of the length, `side` points to the right of the middle as seen from the foot."""
        (x0, y0), (x1, y1), (x2, y2) = self.foot, self._bend, self.tip
        rest = 1 - along
        x = rest * rest * x0 + 2 * rest * along * x1 + along * along * x2
        y = rest * rest * y0 + 2 * rest * along * y1 + along * along * y2
        dx = 2 * rest * (x1 - x0) + 2 * along * (x2 - x1)
        dy = 2 * rest * (y1 - y0) + 2 * along * (y2 - y1)
        long = math.hypot(dx, dy)
        return (x - dy / long * side, y + dx / long * side)

    def edge(self, count: int = 60) -> list[Point]:
        """Its outline."""
        up = [self.at(t, self.half(t)) for t in steps(0, 1, count)]
        down = [self.at(t, -self.half(t)) for t in steps(1, 0, count)]
        return [*up, *down[1:-1]]

    def drawn(self, pen: Pen, *, rib: float = 0.95) -> None:
        """Outline and midrib, the rib as far as a part of the length."""
        pen.shape(self.edge())
        if rib:
            pen.line([self.at(t) for t in steps(0, rib, 20)], bent=False)

    def veins(self, pen: Pen, where: Sequence[float], *, rise: float = 0.14, reach: float = 0.82) -> None:
        """A pair of side veins at each of these parts of the length, bowed to the tip."""
        for start in where:
            for side in (-1, 1):
                vein = []
                for t in steps(0, 1, 8):
                    along = min(start + rise * t**1.3, 0.99)
                    vein.append(self.at(along, side * self.half(along) * reach * t))
                pen.line(vein)


def steps(first: float, last: float, count: int) -> list[float]:
    """`count` + 1 numbers from first to last."""
    return [first + (last - first) * n / count for n in range(count + 1)]


def moved(point: Point, to: Point, turn: float = 0, size: float = 1) -> Point:
    """A point about the origin, sized, turned by degrees with the clock, and set down at `to`."""
    x, y = point
    angle = math.radians(turn)
    return (
        to[0] + size * (x * math.cos(angle) - y * math.sin(angle)),
        to[1] + size * (x * math.sin(angle) + y * math.cos(angle)),
    )


def around(middle: Point, radius: float, degrees: float) -> Point:
    """The place on a circle; 0 is up, with the clock."""
    angle = math.radians(degrees)
    return (middle[0] + radius * math.sin(angle), middle[1] - radius * math.cos(angle))


def bell(peak: float, most: float, foot: float = 0.0, power: float = 1.0) -> Callable[[float], float]:
    """Half widths of a leaf that is widest at `peak` of its length, `foot` wide at its foot and pointed at the tip."""

    def half(along: float) -> float:
        if along < peak:
            return foot + (most - foot) * math.sin(along / peak * math.pi / 2) ** power
        return most * math.cos((along - peak) / (1 - peak) * math.pi / 2) ** power

    return half


def curve(points: Sequence[Point], fine: int = 10) -> list[Point]:
    """A smooth line through the points (Catmull-Rom); closed where the first is the last."""
    closed = points[0] == points[-1]
    before, after = (points[-2], points[1]) if closed else (points[0], points[-1])
    ends = [before, *points, after]
    found = []
    for p0, p1, p2, p3 in zip(ends, ends[1:], ends[2:], ends[3:], strict=False):
        for n in range(fine):
            t = n / fine
            weights = (
                (-t + 2 * t**2 - t**3) / 2,
                (2 - 5 * t**2 + 3 * t**3) / 2,
                (t + 4 * t**2 - 3 * t**3) / 2,
                (t**3 - t**2) / 2,
            )
            found.append(
                tuple(sum(w * p[i] for w, p in zip(weights, (p0, p1, p2, p3), strict=True)) for i in (0, 1))
            )
    return [*((x, y) for x, y in found), points[-1]]


def _dashes(points: Sequence[Point], on: float = 9, off: float = 8) -> list[list[Point]]:
    """A straight line from the first point to the last in dashes."""
    (x, y), (to_x, to_y) = points[0], points[-1]
    long = math.hypot(to_x - x, to_y - y)
    starts = [n * (on + off) for n in range(int(long / (on + off)) + 1)]
    return [
        [(x + (to_x - x) * s / long, y + (to_y - y) * s / long) for s in (start, min(start + on, long))]
        for start in starts
    ]


def _fine(point: Point) -> Point:
    return (point[0] * _FINER, point[1] * _FINER)
