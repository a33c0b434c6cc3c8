"""Leaf, flower and cut of the varieties grown for their leaves."""

from __future__ import annotations

import math
from collections.abc import Callable

from tests.photographs.pen import Blade, Pen, Point, around, bell, moved, steps


def pak_choi_leaf(pen: Pen) -> None:
    """A smooth spoon: a thick pale stalk, broad at its foot, that runs into a round blade as a broad rib."""
    spoon(pen, (60, 330), (612, 175), 1.0)


def spoon(pen: Pen, foot: Point, tip: Point, size: float, bend: float = -20) -> None:
    """One leaf of pak choi."""

    def blade_half(t: float) -> float:
        if t < 0.4:
            return 0.0
        grown = (t - 0.4) / 0.6
        return 138 * size * math.sin(math.pi * grown**0.8) ** 0.75

    def rib_half(t: float) -> float:
        wide = 62 * (1 - t / 0.42) + 26 if t < 0.42 else 26 * (1 - (t - 0.42) / 0.5)
        return size * max(wide if t > 0.015 else wide * 0.8, 1.5)

    blade = Blade(foot, tip, blade_half, bend * size)
    up = [blade.at(t, blade_half(t)) for t in steps(0.4, 1, 50)]
    down = [blade.at(t, -blade_half(t)) for t in steps(1, 0.4, 50)]
    pen.shape([*up, *down[1:-1]])
    blade.veins(pen, steps(0.52, 0.8, 3), rise=0.12)
    rib = [blade.at(t, rib_half(t)) for t in steps(0, 0.92, 40)]
    back = [blade.at(t, -rib_half(t)) for t in steps(0.92, 0, 40)]
    pen.shape([*rib, *back])
    for part in (-0.4, 0.4):
        pen.line([blade.at(t, part * rib_half(t)) for t in steps(0.05, 0.5, 12)])


def cross_flower(pen: Pen) -> None:
    """Four petals in a cross, six stamens; buds behind. A leaf crop that flowers is past its harvest."""
    pen.line([(330, 478), (322, 380), (300, 300)])
    for side, y in ((-1, 430), (1, 446), (-1, 474)):
        end = (322 + side * (60 + (y - 430)), y - 40)
        pen.line([(326, y), (324 + side * 40, y - 10), end])
        Blade(end, (end[0] + side * 10, end[1] - 50), bell(0.55, 17, 7)).drawn(pen, rib=0.8)
    at = (320, 190)
    for turn in (45, 135, 225, 315):
        sepal = Blade(at, around(at, 96, turn + 45), bell(0.6, 16, 9))
        sepal.drawn(pen, rib=0)
    for turn in (45, 135, 225, 315):
        petal = Blade(
            around(at, 10, turn),
            around(at, 186, turn),
            lambda t: (
                12
                if t < 0.3
                else 12 + 52 * math.sin(math.pi * ((t - 0.3) / 0.7) ** 0.75) ** 0.6 - 12 * ((t - 0.3) / 0.7)
            ),
        )
        petal.drawn(pen, rib=0)
        petal.veins(pen, (0.42, 0.56), rise=0.26, reach=0.6)
        pen.line([petal.at(0.2), petal.at(0.8)], bent=False)
    for turn, long in ((0, 46), (90, 34), (180, 46), (270, 34), (35, 46), (215, 46)):
        pen.line([at, around(at, long, turn)], bent=False)
        pen.oval(around(at, long + 6, turn), 6, 9, turn)
    pen.circle(at, 11)


def pak_choi_cut(pen: Pen) -> None:
    """A head over its cup; the cut is above the line to which solution splashes."""
    for tip, bend in (((150, 66), -30), ((500, 66), 30), ((230, 34), -14), ((420, 34), 14), ((325, 24), 0)):
        foot = (320 + (tip[0] - 320) * 0.22, 372)
        spoon(pen, foot, tip, 0.5, bend)
    pen.shape([(250, 372), (400, 372), (390, 410), (260, 410)])
    cup(pen, (325, 414))
    pen.cut((325, 340), 0, 150)


def cup(pen: Pen, at: Point) -> None:
    """The net cup in its plate, and below its rim the line to which solution splashes."""
    x, y = at
    pen.shape([(x - 86, y), (x + 86, y), (x + 66, y + 62), (x - 66, y + 62)])
    for part in steps(-0.66, 0.66, 4):
        pen.line([(x + 86 * part, y), (x + 66 * part, y + 62)], bent=False)
    pen.line([(x - 76, y + 31), (x + 76, y + 31)], bent=False)
    for side in (-1, 1):
        pen.line([(x + side * 96, y), (x + side * 300, y)], bent=False)
    pen.shape([(x - 96, y - 7), (x + 96, y - 7), (x + 96, y + 7), (x - 96, y + 7)])


def mizuna_leaf(pen: Pen) -> None:
    """A thin stalk and a blade cut deep into narrow toothed lobes on both sides, like a feather."""
    feather(pen, (26, 380), (618, 150), 1.0, -24)


def feather(pen: Pen, foot: Point, tip: Point, size: float, bend: float) -> None:
    """One leaf of mizuna."""
    spine = Blade(foot, tip, lambda t: (7 - 3 * t) * size, bend * size)
    for along in reversed(steps(0.36, 0.86, 5)):
        for side in (-1, 1):
            long = (120 - 62 * abs(along - 0.56) / 0.3) * size
            out = spine.at(min(along + 0.15, 0.995), side * long)
            lobe = Blade(spine.at(along, side * 3 * size), out, toothed(15 * size, 5 * size), side * 8 * size)
            lobe.drawn(pen, rib=0.85)
    end = Blade(spine.at(0.86), tip, toothed(32 * size, 6 * size))
    end.drawn(pen, rib=0)
    spine.drawn(pen, rib=0)


def toothed(most: float, foot: float) -> Callable[[float], float]:
    """Half widths of a lobe with a few coarse teeth."""
    whole = bell(0.55, most, foot)
    return lambda t: whole(t) * (0.72 + 0.5 * ((t * 3.5) % 1.0))


def mizuna_cut(pen: Pen) -> None:
    """A tuft of thin stalks over its cup; the cut is above the splash line and leaves the heart."""
    for tip, bend in (((90, 130), -40), ((556, 130), 40), ((200, 40), -20), ((450, 40), 20), ((325, 20), 4)):
        feather(pen, (325 + (tip[0] - 325) * 0.12, 406), tip, 0.6, bend)
    cup(pen, (325, 414))
    pen.cut((325, 340), 0, 130)


def basil_leaf(pen: Pen) -> None:
    """Oval, cupped and smooth, three or four pairs of veins, a few shallow teeth, a short stalk."""
    stalk = Blade((40, 372), (132, 326), lambda t: 6, bend=6)
    stalk.drawn(pen, rib=0)
    leaf = basil_blade((126, 330), (606, 152), 132, -20)
    leaf.drawn(pen)
    leaf.veins(pen, (0.08, 0.22, 0.38, 0.55), rise=0.24)


def basil_blade(foot: Point, tip: Point, most: float, bend: float) -> Blade:
    """An oval with a few shallow teeth on its upper half."""
    whole = bell(0.42, most, 4, 0.8)
    return Blade(
        foot, tip, lambda t: whole(t) - (most * 0.045 * ((t * 11) % 1.0) if 0.35 < t < 0.93 else 0), bend
    )


def basil_flower(pen: Pen) -> None:
    """Two-lipped flowers in whorls round a square stem; flowering basil is past its harvest."""
    for x in (312, 328):
        pen.line([(x, 478), (x, 40)], bent=False)
    pen.line([(320, 478), (320, 40)], bent=False)
    for y, size in ((390, 1.0), (250, 0.9), (130, 0.72)):
        for side in (-1, 1):
            bract = Blade(
                (320 + side * 8, y + 14), (320 + side * 70 * size, y + 58 * size), bell(0.4, 18 * size, 5)
            )
            bract.drawn(pen)
            two_lips(pen, (320 + side * 8, y), side, size)
    for turn in (-30, 0, 30):
        Blade((320, 52), around((320, 52), 42, turn), bell(0.5, 11, 5)).drawn(pen, rib=0)


def two_lips(pen: Pen, at: Point, side: int, size: float) -> None:
    """One flower of a whorl: toothed upper lip, whole lower lip, stamens that hang out."""
    turn = side * 72 if side else 180
    calyx = [(-10, 0), (-20, -34), (20, -34), (10, 0)]
    lips = [
        (-14, -30),
        (-38, -62),
        (-40, -92),
        (-20, -84),
        (-10, -96),
        (0, -84),
        (10, -96),
        (24, -84),
        (40, -70),
        (34, -44),
        (14, -30),
    ]
    pen.shape([moved(one, at, turn, size) for one in lips], bent=True)
    for x in (-8, 4, 14):
        end = moved((x * 1.6, -112), at, turn, size)
        pen.line([moved((x * 0.5, -60), at, turn, size), end], bent=False)
        pen.dot(end, 4 * size)
    pen.shape([moved(one, at, turn, size) for one in calyx])


def basil_cut(pen: Pen) -> None:
    """A square stem with pairs of leaves; the cut is over a pair with two side shoots, which grow on."""
    for x in (308, 320, 332):
        pen.line([(x, 478), (x, 60)], bent=False)
    for y, long, most in ((400, 190, 48), (196, 150, 42)):
        for side in (-1, 1):
            leaf = basil_blade((320 + side * 12, y), (320 + side * (long + 14), y - 22), most, side * 20)
            leaf.drawn(pen)
            leaf.veins(pen, (0.2, 0.45), rise=0.2)
    for side in (-1, 1):
        for spread in (16, 44):
            shoot = Blade(
                (320 + side * 14, 390), around((320 + side * 14, 390), 56, side * spread), bell(0.45, 12, 4)
            )
            shoot.drawn(pen, rib=0.8)
    for turn in (-42, 42, -14, 14):
        basil_blade((320, 78), around((320, 78), 70, turn), 20, 0).drawn(pen, rib=0.8)
    pen.cut((320, 296), 0, 80)


LEAF_CROPS = {
    "pak_choi": (pak_choi_leaf, cross_flower, pak_choi_cut),
    "mizuna": (mizuna_leaf, cross_flower, mizuna_cut),
    "basil": (basil_leaf, basil_flower, basil_cut),
}
"""Leaf, flower and cut of each."""
