"""Insects and mites of the guide to findings."""

from __future__ import annotations

import math

from tests.photographs.draw_leaf_crops import basil_blade
from tests.photographs.pen import Blade, Pen, Point, around, bell, moved, steps

LENS: Point = (490, 140)


def lens(pen: Pen, at: Point, seen: Point, radius: float = 128) -> None:
    """A round window that shows enlarged what lies at `seen`."""
    pen.circle(seen, 17, fill=None)
    pen.line([seen_edge(seen, at, 17), at], bent=False)
    pen.circle(at, radius)


def seen_edge(seen: Point, at: Point, radius: float) -> Point:
    """Where the line from the small ring to the window begins."""
    long = math.dist(seen, at)
    return (seen[0] + (at[0] - seen[0]) * radius / long, seen[1] + (at[1] - seen[1]) * radius / long)


def aphids(pen: Pen) -> None:
    """Crowds on a young tip and under a curled leaf, cast skins among them; one enlarged, with its two tubes behind."""
    for x in (170, 184):
        pen.line([(x + 20, 478), (x + 6, 300), (x, 110)])
    for y, side, long in ((400, -1, 150), (340, 1, 170), (230, -1, 140), (190, 1, 130)):
        Blade((182, y), (182 + side * long, y - 56), bell(0.45, 34, 5), bend=side * 26).drawn(pen)
    for turn in (-40, 40, -12, 14):
        Blade((176, 120), around((176, 120), 92, turn), bell(0.5, 20, 5), bend=turn / 2).drawn(pen)
    for number in range(26):
        y = 128 + number * 8
        place = (178 + (number % 4 - 1.5) * 13 + (y - 128) / 26, y)
        if number % 5 == 3:
            pen.oval(place, 8, 4, 30 * (number % 3))
        else:
            pen.oval(place, 8, 5.5, 60 + 20 * (number % 4), fill=0)
    lens(pen, LENS, (184, 236))
    aphid(pen, LENS, 1.0)


def aphid(pen: Pen, at: Point, size: float) -> None:
    """Pear-shaped, six legs, two tubes at the hind end, feelers over the back."""
    for side in (-1, 1):
        for x, y, out in ((-30, -66, -64), (0, -84, 2), (26, -78, 58)):
            pen.line(
                [
                    moved((x, side * 20), at, 0, size),
                    moved(((x + out) / 2, side * 62), at, 0, size),
                    moved((out, side * -y), at, 0, size),
                ]
            )
        pen.line(
            [
                moved((-62, side * 10), at, 0, size),
                moved((-40, side * 48), at, 0, size),
                moved((8, side * 62), at, 0, size),
            ]
        )
        tube = [(44, side * 26), (82, side * 44), (86, side * 36), (54, side * 16)]
        pen.shape(moved(one, at, 0, size) for one in tube)
    pear = [
        (-78, 0),
        (-66, -16),
        (-36, -24),
        (10, -44),
        (52, -36),
        (76, -8),
        (92, 0),
        (76, 8),
        (52, 36),
        (10, 44),
        (-36, 24),
        (-66, 16),
    ]
    pen.shape((moved(one, at, 0, size) for one in pear), bent=True)
    for x in (-50, -28):
        pen.line([moved((x, -20), at, 0, size), moved((x + 5, 0), at, 0, size), moved((x, 20), at, 0, size)])
    for side in (-1, 1):
        pen.dot(moved((-68, side * 9), at, 0, size), 4)


def thrips(pen: Pen) -> None:
    """Scars along the veins of a leaf, black specks in them; one slim insect enlarged, its wings fringed."""
    leaf = basil_blade((30, 440), (420, 190), 96, -16)
    leaf.drawn(pen)
    leaf.veins(pen, (0.1, 0.3, 0.5), rise=0.2)
    for along, part in ((0.26, 0.42), (0.4, -0.5), (0.52, 0.4), (0.6, -0.4), (0.74, 0.3), (0.34, -0.2)):
        side = part * leaf.half(along)
        patch = [
            leaf.at(along + dx, side + dy)
            for dx, dy in ((-0.09, -3), (-0.02, -11), (0.07, -5), (0.1, 4), (0.01, 9), (-0.06, 6))
        ]
        pen.shape(patch, bent=True)
        for n in range(5):
            pen.dot(leaf.at(along - 0.05 + 0.026 * n, side + (n % 3 - 1) * 4), 2.6)
    lens(pen, LENS, leaf.at(0.6, -0.4 * leaf.half(0.6)))
    thrips_insect(pen, LENS)


def thrips_insect(pen: Pen, at: Point) -> None:
    """From above: cigar-shaped, short feelers, narrow wings with long fringes laid back."""
    turn = -60
    for side in (-1, 1):
        for x, out in ((-52, -24), (-28, 10), (-6, 34)):
            pen.line(
                [
                    moved((x, side * 10), at, turn),
                    moved((x - 6 + out / 3, side * 34), at, turn),
                    moved((x + out, side * 46), at, turn),
                ]
            )
        wing = Blade(moved((-30, side * 12), at, turn), moved((78, side * 36), at, turn), lambda t: 5)
        wing.drawn(pen, rib=0)
        for along in steps(0.25, 1, 12):
            pen.line([wing.at(along, side * 5), wing.at(min(along + 0.1, 1.0), side * 24)], bent=False)
        pen.line(
            [
                moved((-84, side * 5), at, turn),
                moved((-104, side * 16), at, turn),
                moved((-118, side * 18), at, turn),
            ]
        )
    body = Blade(moved((-60, 0), at, turn), moved((112, 0), at, turn), bell(0.4, 17, 14))
    body.drawn(pen, rib=0)
    for along in steps(0.3, 0.85, 6):
        pen.line([body.at(along, body.half(along)), body.at(along, -body.half(along))], bent=False)
    pen.oval(moved((-72, 0), at, turn), 17, 13, turn)
    for side in (-1, 1):
        pen.dot(moved((-78, side * 8), at, turn), 4)


def spider_mite(pen: Pen) -> None:
    """Fine pale dots over a leaf, webs from leaf to stalk; one mite enlarged: eight legs, two dark spots."""
    pen.line([(60, 478), (70, 330), (56, 120)])
    pen.line([(76, 478), (84, 330), (70, 120)])
    leaf = basil_blade((82, 380), (420, 300), 92, 20)
    leaf.drawn(pen)
    leaf.veins(pen, (0.1, 0.3, 0.5), rise=0.2, reach=0.7)
    for n in range(150):
        along, part = 0.1 + 0.8 * ((n * 0.618) % 1.0), -0.85 + 1.7 * ((n * 0.414) % 1.0)
        pen.dot(leaf.at(along, part * leaf.half(along)), 1.8)
    for n, along in enumerate(steps(0.12, 0.7, 6)):
        pen.line([leaf.at(along, -leaf.half(along)), (68, 150 + n * 26)], bent=False)
    for part in (0.3, 0.55, 0.8):
        ends = [leaf.at(a, -leaf.half(a)) for a in steps(0.12, 0.7, 6)]
        pen.line([(x + (68 - x) * part, y + (150 + n * 26 - y) * part) for n, (x, y) in enumerate(ends)])
    lens(pen, LENS, leaf.at(0.62, -20))
    for side in (-1, 1):
        for x, out in ((-48, -88), (-26, -52), (14, 44), (38, 82)):
            pen.line(
                [
                    moved((x, side * 36), LENS),
                    moved(((x + out) / 2, side * 78), LENS),
                    moved((out, side * 88), LENS),
                ]
            )
    pen.oval(LENS, 72, 50)
    for side in (-1, 1):
        pen.oval((LENS[0] + 8, LENS[1] + side * 24), 24, 13, fill=0)
        pen.dot((LENS[0] - 48, LENS[1] + side * 14), 4)
        pen.line([(LENS[0] - 70, LENS[1] + side * 8), (LENS[0] - 84, LENS[1] + side * 10)], bent=False)
        for x in (-30, 0, 30, 54):
            pen.line([(LENS[0] + x, LENS[1] + side * 4), (LENS[0] + x + 16, LENS[1] + side * 9)], bent=False)


def fungus_gnat(pen: Pen) -> None:
    """A slender fly with long legs and feelers; below, a clear larva with a black head in the plug among roots."""
    at = (250, 130)
    for foot, knee in (
        ((-70, 118), (-64, 46)),
        ((-26, 128), (-44, 50)),
        ((18, 126), (-2, 54)),
        ((66, 128), (26, 42)),
        ((112, 112), (62, 34)),
        ((-104, 96), (-82, 34)),
    ):
        pen.line(
            [
                moved((-24 + foot[0] / 8, 14), at),
                moved(knee, at),
                moved(foot, at),
                moved((foot[0] - 22, foot[1] + 6), at),
            ],
            bent=False,
        )
    for end, bend in (((-158, -40), -60), ((-152, 2), -58)):
        feeler = [moved((-62, -2), at), moved((-110, (end[1] + bend) / 2), at), moved(end, at)]
        pen.line(feeler)
    body = Blade(moved((-18, 0), at), moved((150, 46), at), bell(0.4, 17, 12), bend=-16)
    body.drawn(pen, rib=0)
    for along in steps(0.25, 0.85, 5):
        pen.line([body.at(along, body.half(along)), body.at(along, -body.half(along))], bent=False)
    wing = Blade(moved((-18, -16), at), moved((162, -62), at), bell(0.6, 34, 6), bend=-8)
    wing.drawn(pen, rib=0)
    pen.line([wing.at(0.1, -4), wing.at(0.5, -14), wing.at(0.9, -12)])
    pen.line([wing.at(0.15, 4), wing.at(0.5, 2), wing.at(0.74, -14)])  # the vein that forks like a Y
    pen.line([wing.at(0.6, -2), wing.at(0.8, 8), wing.at(0.95, 6)])
    pen.oval(moved((-24, -4), at), 26, 22)
    pen.oval(moved((-58, 6), at), 15, 16)
    pen.dot(moved((-62, 4), at), 6)
    for side in (-1, 1):
        pen.line([(320 + side * 200, 330), (320 + side * 176, 478)], bent=False)
    pen.line([(60, 330), (580, 330)], bent=False)
    for x in (200, 280, 380, 450):
        pen.line([(x, 330), (x + 12, 380), (x - 14, 424), (x + 4, 476)])
    larva = Blade((230, 420), (400, 392), lambda t: 13 * math.sin(math.pi * (0.1 + 0.88 * t)) ** 0.4, bend=34)
    larva.drawn(pen, rib=0)
    pen.line([larva.at(t, 4) for t in steps(0.1, 0.9, 10)])
    pen.oval(larva.at(1.0), 14, 11, -20, fill=0)


PESTS = {"aphid": aphids, "thrips": thrips, "spider_mite": spider_mite, "fungus_gnat": fungus_gnat}
