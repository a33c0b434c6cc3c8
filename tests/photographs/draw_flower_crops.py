"""Leaf, flower and cut of the varieties grown for their flowers."""

from __future__ import annotations

import math
from collections.abc import Callable

from tests.photographs.pen import HIGH, WIDE, Blade, Pen, Point, around, bell, moved, steps

MIDDLE: Point = (WIDE / 2, HIGH / 2)


def nasturtium_leaf(pen: Pen) -> None:
    """A round shield: the stalk meets the blade inside its edge, nine veins go out from there."""
    at, eye = (320, 205), (320, 220)
    pen.line([(322, 380), (330, 430), (352, 474)])
    shield([pen], at, eye, 185)


def shield(pens: list[Pen], at: Point, eye: Point, radius: float) -> None:
    """The blade of nasturtium about `at`, its stalk fixed at `eye`."""
    (pen,) = pens
    edge = [around(at, radius * (1 + 0.022 * math.cos(math.radians(9 * a))), a) for a in range(0, 360, 3)]
    pen.shape(edge, bent=True)
    for number in range(9):
        angle = number * 40
        tip = around(at, radius * 0.9, angle)
        pen.line([eye, tip], bent=False)
        if radius < 80:
            continue
        for side in (-1, 1):
            fork = tuple(e + (t - e) * 0.55 for e, t in zip(eye, tip, strict=True))
            pen.line([(fork[0], fork[1]), around(at, radius * 0.86, angle + side * 13)], bent=False)
    pen.circle(eye, max(5.0, radius / 26))


def nasturtium_flower(pen: Pen) -> None:
    """Two broad petals above, three fringed at their narrow foot below, a long spur behind."""
    pen.line([(372, 222), (400, 300), (396, 400), (420, 474)])
    nasturtium_bloom(pen, (285, 225), 1.0)


def nasturtium_bloom(pen: Pen, at: Point, size: float) -> None:
    """The bloom half from the side, its spur to the right."""

    def put(x: float, y: float) -> Point:
        return moved((x, y), at, 0, size)

    spur = Blade(put(70, -22), put(325, 52), lambda t: size * (3 + 25 * (1 - t) ** 1.2), bend=-28 * size)
    spur.drawn(pen, rib=0)
    for tip, bend in ((put(120, -112), 8), (put(128, 62), -8)):
        Blade(put(40, -5), tip, bell(0.45, 24 * size, 12 * size), bend=bend * size).drawn(pen, rib=0)
    for turn in (-152, -205, -98):
        nasturtium_petal(pen, at, turn, size * 0.92, fringe=True)
    for turn in (-38, 22):
        nasturtium_petal(pen, at, turn, size, fringe=False)
    pen.circle(at, 25 * size)
    for degrees in range(0, 360, 45):
        end = around(at, 12 * size, degrees)
        pen.dot(end, 4 * size)


def nasturtium_petal(pen: Pen, at: Point, turn: float, size: float, *, fringe: bool) -> None:
    """A round petal; those above have dark lines to the throat, those below a claw with a fringe."""
    tip = around(at, 185 * size, turn)
    foot = around(at, 14 * size, turn)

    def half(t: float) -> float:
        claw = 13 if fringe else 24
        if t < 0.3:
            return size * (claw + (12 if fringe else 30) * t / 0.3)
        start = claw + (12 if fringe else 30)
        grown = (t - 0.3) / 0.7
        return size * (start * (1 - grown) ** 0.5 + 62 * math.sin(math.pi * grown**0.75) ** 0.6)

    blade = Blade(foot, tip, half)
    pen.shape(blade.edge())
    if fringe:
        for along in steps(0.24, 0.4, 3):
            for side in (-1, 1):
                start = half(along)
                pen.line([blade.at(along, side * start), blade.at(along + 0.08, side * (start + 22 * size))])
    else:
        for part in (-0.55, -0.2, 0.2, 0.55):
            line = [blade.at(t, part * half(t) * 0.8) for t in steps(0.1, 0.62, 8)]
            pen.line(line)


def nasturtium_cut(pen: Pen) -> None:
    """A bloom on its own stalk out of a leaf's axil; the cut is close under the bloom."""
    pen.line([(150, 478), (190, 380), (205, 250), (190, 120), (210, 10)])
    pen.line([(203, 300), (300, 330), (400, 392), (470, 400)])
    shield([pen], (520, 392), (516, 396), 78)
    pen.line([(203, 296), (290, 262), (362, 214), (396, 160)])
    nasturtium_bloom(pen, (372, 118), 0.5)
    pen.cut((345, 228), 42)


def calendula_leaf(pen: Pen) -> None:
    """Oblong, widest near the blunt tip, its foot clasping the stem, edge whole, soft short hairs."""
    pen.line([(40, 350), (58, 478)])
    pen.line([(14, 350), (30, 478)])
    leaf = calendula_blade((44, 372), (610, 120), 78, 22)
    leaf.drawn(pen)
    leaf.veins(pen, steps(0.16, 0.84, 7), rise=0.09, reach=0.7)
    for number, along in enumerate(steps(0.06, 0.96, 40)):
        for side in (-1, 1):
            start = side * leaf.half(along)
            pen.line([leaf.at(along, start), leaf.at(along + 0.008 * (number % 3 - 1), start + side * 9)])


def calendula_blade(foot: Point, tip: Point, most: float, base: float, bend: float = -26) -> Blade:
    """A spatula blade."""

    def half(t: float) -> float:
        if t < 0.07:
            return base + base * 0.4 * (1 - t / 0.07)
        if t < 0.7:
            return base + (most - base) * math.sin((t - 0.07) / 0.63 * math.pi / 2) ** 1.4
        return most * max(0.0, 1 - ((t - 0.7) / 0.3) ** 2.2) ** 0.5

    return Blade(foot, tip, half, bend)


def calendula_flower(pen: Pen) -> None:
    """One head: two rows of many narrow rays with three teeth at the tip, round a heart of small florets."""
    calendula_head(pen, MIDDLE, 1.0)


def calendula_head(pen: Pen, at: Point, size: float, rays: int = 21) -> None:
    """A head seen from above."""
    for row, long in ((0.5, 218), (0.0, 196)):
        for number in range(rays):
            turn = (number + row) * 360 / rays
            ray = Blade(around(at, 40 * size, turn), around(at, long * size, turn), lambda t: 0)
            reach = [(0.0, 9), (0.3, 19), (0.7, 23), (0.95, 19), (1.0, 12), (0.97, 6), (1.015, 0)]
            right = [ray.at(t, w * size) for t, w in reach]
            left = [ray.at(t, -w * size) for t, w in reversed(reach[:-1])]
            pen.shape([*right, *left])
            if size > 0.6 and not row:
                pen.line([ray.at(0.35), ray.at(0.86)], bent=False)
    pen.circle(at, 74 * size)
    for ring, count in ((62, 26), (48, 20), (34, 14), (20, 8), (6, 3)):
        for number in range(count if size > 0.6 else count // 2):
            degrees = number * 360 / (count if size > 0.6 else count // 2) + ring * 3
            pen.circle(around(at, ring * size, degrees), 5.4 * size, fill=255)


def calendula_cut(pen: Pen) -> None:
    """A head on its stem over the topmost leaf; the cut is close under the head."""
    pen.line([(300, 478), (308, 360), (320, 240)])
    pen.line([(322, 478), (328, 360), (338, 240)])
    for foot, tip, bend in (((312, 402), (90, 330), 14), ((330, 444), (560, 360), -14)):
        leaf = calendula_blade(foot, tip, 32, 10, bend)
        leaf.drawn(pen)
    pen.shape([(276, 190), (292, 232), (320, 250), (338, 250), (366, 232), (382, 190)], bent=True)
    for x in steps(288, 370, 6):
        pen.line([(329 + (x - 329) * 0.5, 246), (x, 186)], bent=False)
    side_rays(pen, (329, 176))
    pen.cut((327, 290))


def side_rays(pen: Pen, at: Point) -> None:
    """A head of rays seen from the side."""
    for turn in (-88, 88, -74, 74, -60, 60, -46, 46, -31, 31, -16, 16, 0):
        long = 100 + 78 * abs(math.sin(math.radians(turn)))
        ray = Blade(
            around(at, 14, turn),
            around(at, long, turn),
            lambda t: 13 * math.sin(math.pi * (0.12 + 0.83 * t)) ** 0.6,
        )
        ray.drawn(pen, rib=0)


def borage_leaf(pen: Pen) -> None:
    """Elliptic, with a stalk, stiff bristles on its face and edge, veins in a net."""
    stalk = Blade((20, 400), (150, 330), lambda t: 9, bend=8)
    stalk.drawn(pen, rib=0)
    leaf = Blade((140, 336), (620, 150), borage_half(104), bend=-12)
    leaf.drawn(pen)
    leaf.veins(pen, steps(0.14, 0.76, 5), rise=0.13, reach=0.86)
    bristles(pen, leaf, 44, 15)
    for row, part in enumerate((-0.7, -0.4, 0.4, 0.7)):
        for along in steps(0.2 + row * 0.02, 0.78, 11):
            start = leaf.at(along, part * leaf.half(along))
            pen.line([start, leaf.at(along + 0.018, part * leaf.half(along) - 6)])


def borage_half(most: float) -> Callable[[float], float]:
    """Half widths of an ellipse with a short point."""
    return lambda t: most * math.sin(math.pi * t**0.9) ** 0.82 * (1 - 0.12 * t) + (3 if t < 0.02 else 0)


def bristles(pen: Pen, blade: Blade, count: int, long: float) -> None:
    """Stiff hairs round the edge."""
    for along in steps(0.03, 0.97, count):
        for side in (-1, 1):
            start = side * blade.half(along)
            pen.line([blade.at(along, start), blade.at(along + 0.01, start + side * long)])


def borage_flower(pen: Pen) -> None:
    """A flat star of five pointed lobes, hairy sepals between them, a dark cone of anthers in the middle."""
    borage_star(pen, MIDDLE, 1.0)


def borage_star(pen: Pen, at: Point, size: float) -> None:
    """The star seen from the front."""
    for turn in range(36, 396, 72):
        sepal = Blade(
            around(at, 40 * size, turn), around(at, 212 * size, turn), bell(0.3, 17 * size, 12 * size)
        )
        sepal.drawn(pen, rib=0.9)
        bristles(pen, sepal, 9 if size > 0.6 else 5, 12 * size)
    for turn in range(0, 360, 72):
        lobe = Blade(
            around(at, 20 * size, turn), around(at, 224 * size, turn), bell(0.42, 63 * size, 34 * size, 0.9)
        )
        lobe.drawn(pen, rib=0.9)
    for turn in range(0, 360, 72):
        for side in (-1, 1):
            place = around(at, 52 * size, turn + side * 14)
            pen.oval(place, 15 * size, 10 * size, turn + side * 14)
    cone = [around(at, (34 if n % 2 == 0 else 23) * size, n * 36) for n in range(10)]
    pen.shape(cone, fill=0)
    pen.circle(at, 6 * size)


def borage_cut(pen: Pen) -> None:
    """Hanging stars on hairy stalks; the cut is close behind the star."""
    main = Blade((40, 478), (330, 60), lambda t: 11 - 5 * t, bend=-60)
    main.drawn(pen, rib=0)
    bristles(pen, main, 26, 12)
    leaf = Blade(main.at(0.25), (300, 440), borage_half(38), bend=16)
    leaf.drawn(pen)
    leaf.veins(pen, steps(0.2, 0.75, 3))
    bristles(pen, leaf, 16, 9)
    stalk = Blade(main.at(0.82), (468, 250), lambda t: 5, bend=-110)
    stalk.drawn(pen, rib=0)
    bristles(pen, stalk, 10, 9)
    for tip, bend in (((396, 60), -22), ((300, 22), 8)):
        small = Blade(main.at(0.95), tip, lambda t: 3, bend=bend)
        small.drawn(pen, rib=0)
        bud = Blade(tip, (tip[0] + 26, tip[1] + 46), bell(0.45, 15, 5), bend=0)
        bud.drawn(pen, rib=0)
        bristles(pen, bud, 6, 7)
    borage_star(pen, (480, 350), 0.5)
    pen.cut(stalk.at(0.8), -30, 50)


def dianthus_leaf(pen: Pen) -> None:
    """Narrow pointed leaves in pairs, grown together round a swollen joint, one vein, smooth."""
    for low, high in ((478, 350), (350, 180), (180, 8)):
        for x in (313, 327):
            pen.line([(x, low), (x, high)], bent=False)
    for joint, long in ((350, 250), (180, 215)):
        for side in (-1, 1):
            tip = (320 + side * long, joint - 118)
            leaf = Blade((320 + side * 4, joint + 4), tip, dianthus_half(15), bend=side * 24)
            leaf.drawn(pen)
        pen.oval((320, joint + 3), 15, 11)


def dianthus_half(most: float) -> Callable[[float], float]:
    """Half widths of a narrow blade: long alike, then a long point."""
    return lambda t: (
        most
        * (0.72 + 0.28 * math.sin(math.pi * min(t / 0.7, 1.0)))
        * (1 if t < 0.35 else (1 - (t - 0.35) / 0.65) ** 0.8)
    )


def dianthus_flower(pen: Pen) -> None:
    """Five broad petals with toothed edges; a ring of spots and hairs round the throat."""
    dianthus_bloom(pen, MIDDLE, 1.0)


def dianthus_bloom(pen: Pen, at: Point, size: float) -> None:
    """The bloom from the front."""
    for turn in range(0, 360, 72):
        edge = [around(at, 22 * size, turn - 16), around(at, 120 * size, turn - 29)]
        teeth = 8
        for n in range(2 * teeth + 1):
            out = 222 if n % 2 else 196
            fall = 1 - 0.12 * abs(n / teeth - 1) ** 2
            edge.append(around(at, out * fall * size, turn - 33 + 66 * n / (2 * teeth)))
        edge += [around(at, 120 * size, turn + 29), around(at, 22 * size, turn + 16)]
        pen.shape(edge)
        for side in (-17, 0, 17):
            pen.line(
                [around(at, 118 * size, turn + side), around(at, 168 * size, turn + side * 0.95)], bent=False
            )
        for side in (-20, -7, 7, 20):
            pen.dot(around(at, 92 * size, turn + side), 5 * size)
        for side in (-18, -9, 0, 9, 18):
            pen.line([around(at, 50 * size, turn + side), around(at, 70 * size, turn + side)], bent=False)
    pen.circle(at, 30 * size)
    for bend in (-1, 1):
        pen.line([at, moved((bend * 12, -18), at, 0, size), moved((bend * 30, -28), at, 0, size)])


def dianthus_cut(pen: Pen) -> None:
    """A bloom on its tube with four bracts; the cut is close under it, over a pair of leaves."""
    for x in (314, 326):
        pen.line([(x, 478), (x, 236)], bent=False)
    for side in (-1, 1):
        leaf = Blade((320 + side * 3, 404), (320 + side * 220, 330), dianthus_half(11), bend=side * 18)
        leaf.drawn(pen)
    pen.oval((320, 404), 12, 9)
    for turn in (-70, -38, 0, 38, 70):
        petal = [
            (-12, 0),
            (-48, -86),
            (-38, -112),
            (-26, -98),
            (-14, -120),
            (0, -102),
            (14, -120),
            (26, -98),
            (38, -112),
            (48, -86),
            (12, 0),
        ]
        pen.shape([moved(one, (320, 134), turn) for one in petal])
    tube = [(298, 134), (302, 246), (338, 246), (342, 134), (332, 118), (322, 132), (312, 118)]
    pen.shape(tube)
    for x in (310, 320, 330):
        pen.line([(x, 140), (x, 190)], bent=False)
    for x, tip in ((300, 288), (340, 352), (312, 310), (328, 330)):
        pen.shape([(x - 10, 248), (tip, 190), (x + 10, 248)], bent=False)
    pen.cut((320, 290))


FLOWER_CROPS = {
    "nasturtium": (nasturtium_leaf, nasturtium_flower, nasturtium_cut),
    "calendula": (calendula_leaf, calendula_flower, calendula_cut),
    "borage": (borage_leaf, borage_flower, borage_cut),
    "dianthus": (dianthus_leaf, dianthus_flower, dianthus_cut),
}
"""Leaf, flower and cut of each."""
