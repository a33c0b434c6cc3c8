"""Moulds, rots and lacks of the guide to findings."""

from __future__ import annotations

import math
from collections.abc import Callable

from tests.photographs.draw_flower_crops import borage_half, calendula_blade
from tests.photographs.draw_leaf_crops import basil_blade
from tests.photographs.pen import Blade, Pen, Point, around, bell, moved, steps


def powdery_mildew(pen: Pen) -> None:
    """Round spots of powder on the face of the leaf, that run together: dots without an edge."""
    leaf = calendula_blade((40, 400), (612, 150), 120, 26)
    leaf.drawn(pen)
    leaf.veins(pen, steps(0.14, 0.82, 6), rise=0.1, reach=0.86)
    for along, part, size in (
        (0.3, 0.3, 30),
        (0.46, -0.45, 44),
        (0.54, -0.1, 30),
        (0.66, 0.45, 48),
        (0.8, -0.35, 38),
        (0.88, 0.25, 22),
        (0.2, -0.4, 20),
    ):
        powder(pen, leaf.at(along, part * leaf.half(along)), size)


def powder(pen: Pen, at: Point, size: float) -> None:
    """A spot of powder: no edge, dots that thin out."""
    ring = [around(at, size * (0.9 + 0.1 * math.cos(a / 9)), a) for a in range(0, 360, 20)]
    pen.shape(ring, bent=True, edge=False)
    for n in range(int(size * 2.2)):
        place = around(at, size * 1.12 * math.sqrt((n + 0.5) / (size * 2.2)), n * 137.5)
        pen.dot(place, 1.7)


def downy_mildew(pen: Pen) -> None:
    """Left the upper face of a basil leaf: patches with corners between the veins. Right the underside: dark down there."""
    for foot, tip, under in (((70, 462), (250, 30), False), ((390, 462), (570, 30), True)):
        leaf = basil_blade(foot, tip, 118, 0)
        leaf.drawn(pen)
        for lower, upper, side in ((0.1, 0.24, -1), (0.24, 0.38, 1), (0.38, 0.52, -1)):
            angular(pen, leaf, lower, upper, side, under=under)
        leaf.veins(pen, (0.1, 0.24, 0.38, 0.52), rise=0.22)
        pen.line([leaf.at(-0.05), leaf.at(0.95)], bent=False)


def angular(pen: Pen, leaf: Blade, lower: float, upper: float, side: int, *, under: bool) -> None:
    """A patch between two side veins, hatched on the face; below it is fur."""

    def place(start: float, t: float) -> Point:
        along = min(start + 0.22 * t**1.3, 0.99)
        return leaf.at(along, side * leaf.half(along) * 0.82 * t)

    for n, t in enumerate(steps(0.14, 0.9, 15)):
        if not under:
            pen.line([place(lower + 0.012, t), place(upper - 0.012, t)], bent=False)
            continue
        for start in steps(lower + 0.025, upper - 0.02, 3):
            x, y = place(start + 0.012 * (n % 2), t)
            pen.line([(x, y), (x + 3, y - 9)], bent=False)
            pen.dot((x + 4, y - 10), 2.6)


def grey_mould(pen: Pen) -> None:
    """A dead bloom on a stem with fur over it, that smokes when touched; the stem below is soft and dark."""
    for x in (292, 322):
        pen.line([(x - 6, 478), (x + 2, 350), (x + 6, 230)])
    for turn in (-100, -70, -44, -18, 10, 36, 62, 92):
        long = 120 + 22 * math.cos(math.radians(turn * 3))
        Blade(
            around((312, 226), 16, turn), around((312, 226), long, turn), bell(0.6, 21, 8), bend=turn / 2.6
        ).drawn(pen)
    pen.oval((312, 232), 40, 30)
    for number in range(44):
        turn = -118 + number * 236 / 43
        fur(
            pen,
            around((312, 226), 60 + 34 * (number * 0.618 % 1.0), turn),
            turn,
            22 + 14 * (number * 0.414 % 1.0),
        )
    for y in steps(300, 410, 8):
        for side in (-1, 1):
            fur(pen, (308 + side * 16, y), side * (90 - (y % 37)), 12 + y % 11)
    for number, (x, y) in enumerate(
        (
            (470, 110),
            (500, 84),
            (524, 108),
            (506, 132),
            (548, 70),
            (566, 96),
            (588, 60),
            (486, 64),
            (540, 136),
        )
    ):
        pen.dot((x, y), 2.4 + number % 2)
    pen.line([(450, 130), (478, 110), (470, 92), (496, 70)])
    pen.line([(456, 160), (520, 150), (540, 116), (590, 92)])


def fur(pen: Pen, foot: Point, turn: float, long: float) -> None:
    """One stalk of mould with a head of grains."""
    tip = around(foot, long, turn)
    pen.line([foot, tip], bent=False)
    for side in (-50, 0, 50):
        pen.dot(around(tip, 4, turn + side), 2.6)


def root_rot(pen: Pen) -> None:
    """Left sound roots, many and firm. Right rotten ones: few and dark, the skin slips off and leaves a thread."""
    for middle, sick in ((165, False), (475, True)):
        pen.shape([(middle - 84, 110), (middle + 84, 110), (middle + 66, 200), (middle - 66, 200)])
        for turn in (-58, 58, -20, 20):
            long = 92 if not sick else 66
            droop = 0 if not sick else math.copysign(34, turn)
            leaf = Blade(
                (middle, 110), around((middle, 110), long, turn + droop), bell(0.55, 17, 5), bend=droop / 2
            )
            leaf.drawn(pen)
        for n, x in enumerate(steps(-58, 58, 4 if sick else 8)):
            root(pen, (middle + x, 200), x, n, sick=sick)


def root(pen: Pen, at: Point, out: float, number: int, *, sick: bool) -> None:
    """One root: sound with side roots, or a thread with pieces of dark skin."""
    x, y = at
    deep = (240, 200, 255, 215)[number % 4] * (0.9 if sick else 1)
    way = Blade(
        at, (x + out * 0.7, y + deep), lambda t: (8 if sick else 6) * (1 - 0.6 * t), bend=(-1) ** number * 18
    )
    if not sick:
        way.drawn(pen, rib=0)
        for along in steps(0.2, 0.9, 6):
            for side in (-1, 1):
                pen.line([way.at(along, side * 4), way.at(min(along + 0.07, 1), side * 19)], bent=False)
        return
    pen.line([way.at(t) for t in steps(0, 1, 12)])
    for first, last in ((0.0, 0.34), (0.62, 0.74)):
        skin = [way.at(t, way.half(t) + 2 + (t * 37) % 3) for t in steps(first, last, 6)]
        skin += [way.at(t, -way.half(t) - 2 - (t * 53) % 3) for t in steps(last, first, 6)]
        pen.shape(skin, fill=0)


def damping_off(pen: Pen) -> None:
    """Seedlings in plugs: two stand, two have fallen over, their stem dark and thin where it leaves the plug."""
    for number, x in enumerate((90, 240, 390, 540)):
        pen.shape([(x - 62, 330), (x + 62, 330), (x + 48, 470), (x - 48, 470)])
        pen.oval((x, 330), 62, 12)
        if number in (0, 3):
            pen.line([(x - 6, 330), (x - 5, 200)], bent=False)
            pen.line([(x + 6, 330), (x + 5, 200)], bent=False)
            pair(pen, (x, 200), 0)
            continue
        side = -1 if number == 1 else 1
        pinch = [
            (x - 4, 330),
            (x - 2, 306),
            (x + side * 6, 292),
            (x + side * 12, 300),
            (x + side * 3, 310),
            (x + 4, 330),
        ]
        pen.shape(pinch, fill=0)
        stem = Blade(
            (x + side * 8, 296), (x + side * 74, 316), lambda t: 3 + 3 * min(t * 3, 1), bend=-side * 22
        )
        stem.drawn(pen, rib=0)
        pair(pen, (x + side * 74, 314), side * 118)


def pair(pen: Pen, at: Point, turn: float) -> None:
    """Two notched seed leaves and the first leaves between them."""
    for side in (-1, 1):
        half = [(0, 0), (18, -22), (52, -40), (74, -30), (68, -18), (74, -4), (50, 8), (18, 4)]
        pen.shape((moved((side * x, y), at, turn) for x, y in half), bent=True)
    for side in (-16, 16):
        Blade(at, around(at, 40, turn + side), bell(0.55, 9, 4)).drawn(pen)


def tip_burn(pen: Pen) -> None:
    """A head from above: the young leaves of the heart have dark edges, the old outer leaves are sound."""
    at = (320, 240)
    for ring, (long, wide, count) in enumerate(((222, 92, 7), (164, 68, 6), (112, 48, 5), (70, 32, 4))):
        for number in range(count):
            turn = number * 360 / count + ring * 27
            leaf = Blade(around(at, 8, turn), around(at, long, turn), head_half(wide))
            leaf.drawn(pen)
            if ring < 2:
                leaf.veins(pen, (0.3, 0.5), rise=0.2, reach=0.7)
                continue
            for depth in (0.0, 0.035, 0.07):
                burnt = [
                    leaf.at(t - depth, (leaf.half(t) - 60 * depth) * s)
                    for s, ts in ((1, steps(0.55, 1, 14)), (-1, steps(1, 0.55, 14)))
                    for t in ts
                ]
                pen.line(burnt, bent=False)


def head_half(most: float) -> Callable[[float], float]:
    """Half widths of a round leaf of a head."""
    return lambda t: most * max(0.0, math.sin(math.pi * t**1.7)) ** 0.55 if t > 0.02 else 4


def pale_leaves(pen: Pen) -> None:
    """Four leaves: pale all over; pale between the veins, old; scorched at the edge; pale between fine veins, young."""
    for foot, tip, kind in (
        ((40, 222), (290, 60), "all"),
        ((360, 222), (610, 60), "between"),
        ((40, 452), (290, 290), "edge"),
        ((380, 440), (570, 318), "young"),
    ):
        leaf = Blade(foot, tip, borage_half(56 if kind != "young" else 40), bend=-8)
        leaf.drawn(pen)
        {"all": pale_all, "between": green_veins, "edge": scorched, "young": green_veins}[kind](pen, leaf)


def pale_all(pen: Pen, leaf: Blade) -> None:
    """Nothing but thin veins: the blade is light."""
    leaf.veins(pen, (0.2, 0.4, 0.6), rise=0.14)


def green_veins(pen: Pen, leaf: Blade) -> None:
    """Veins with a dark seam, light between."""
    for shift in (-0.016, 0.0, 0.016):
        leaf.veins(pen, [one + shift for one in (0.16, 0.32, 0.48, 0.64)], rise=0.14)
    for side in (-4, 4):
        pen.line([leaf.at(t, side * (1 - t)) for t in steps(0, 0.9, 10)])


def scorched(pen: Pen, leaf: Blade) -> None:
    """A dark, broken edge."""
    leaf.veins(pen, (0.2, 0.4, 0.6), rise=0.14, reach=0.6)
    for along in steps(0.12, 0.97, 70):
        for side in (-1, 1):
            wide = leaf.half(along)
            deep = min(wide, 11 + 6 * math.sin(along * 60))
            pen.line([leaf.at(along, side * wide), leaf.at(along, side * (wide - deep))], bent=False)


DISEASES = {
    "powdery_mildew": powdery_mildew,
    "downy_mildew": downy_mildew,
    "grey_mould": grey_mould,
    "root_rot": root_rot,
    "damping_off": damping_off,
    "tip_burn": tip_burn,
    "pale_leaves": pale_leaves,
}
