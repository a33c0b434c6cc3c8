"""Leaf, flower and cut of each variety of the demo house."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

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


def plants() -> Iterator[tuple[str, Callable[[Pen], None]]]:
    """The drawings by their names below `photos/`."""
    drawn = {
        "nasturtium": (nasturtium_leaf, nasturtium_flower, nasturtium_cut),
        "calendula": (calendula_leaf, calendula_flower, calendula_cut),
        "borage": (borage_leaf, borage_flower, borage_cut),
        "dianthus": (dianthus_leaf, dianthus_flower, dianthus_cut),
        "pak_choi": (pak_choi_leaf, cross_flower, pak_choi_cut),
        "mizuna": (mizuna_leaf, cross_flower, mizuna_cut),
        "basil": (basil_leaf, basil_flower, basil_cut),
    }
    for name, parts in drawn.items():
        for part, draw in zip(("leaf", "flower", "cut"), parts, strict=True):
            yield f"varieties/{name}/{part}", draw
