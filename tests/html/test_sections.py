"""The day on a clock, the tray cut across, the lamp over it: lamps, floods and heights stand where the facts of the house say."""

from __future__ import annotations

import re
from itertools import pairwise
from math import atan2, dist, pi
from pathlib import Path
from typing import TypeVar

import pytest

from macros.html.day_drawing import OUTER, X, Y, day_drawing
from macros.html.drawings import figure
from macros.html.tray_drawing import RIM, lamp_drawing, tray_drawing
from macros.manual.drawings.sections import lamp_gap
from macros.page_model.figure import DayView, HoleView, LampView, ShelfView, TrayView
from tests.making import made_house, made_register, manual_of

HALF_A_MILLIMETRE = 5.0
"""In units of the drawing: ten of them are a millimetre on paper."""
HOUSES = ["second", "fourth", "fifth"]
View = TypeVar("View", DayView, TrayView, HoleView)


def of_system(name: str, kind: type[View]) -> dict[str, View]:
    """The drawings of one kind on the pages of each system of a house."""
    pages = [page for page in manual_of(name).views if page.system]
    return {page.system: view for page in pages for view in page.figures if isinstance(view, kind)}


def minute_at(x: float, y: float) -> float:
    """The minute of the day a place on the clock stands for: midnight above the middle, clockwise."""
    return atan2(x - X, Y - y) / (2 * pi) * 1440 % 1440


def off_by(minute: float, expected: int, radius: float) -> float:
    """How far apart two minutes are on the ring, in units of the drawing."""
    apart = abs(minute - expected) % 1440
    return min(apart, 1440 - apart) / 1440 * 2 * pi * radius


def test_six_in_the_morning_is_right_and_noon_below() -> None:
    # By hand: a clock of 24 h about (420, 250); a quarter of it is 06:00, to the right; its point stands 168 from the middle.
    html = str(day_drawing(DayView("A day", 6 * 60, 18 * 60, (6 * 60, 12 * 60), "8 min"), "one"))
    assert re.findall(r'<path d="M([\d.]+) ([\d.]+)L[^"]*" class="dk"', html) == [
        ("588.0", "250.0"),
        ("420.0", "418.0"),
    ]
    # Dark from 18:00, to the left, over midnight to 06:00: half the ring.
    assert 'd="M255.0 250.0A165 165 0 0 1 585.0 250.0L' in html
    assert "lamps lit 06:00 to 18:00; floods at 06:00, 12:00, 8 min each".capitalize() in html.replace(
        "\u00a0", " "
    )


@pytest.mark.parametrize("name", HOUSES)
def test_every_day_of_a_house_shows_its_lamps_and_floods(name: str) -> None:
    house, days = manual_of(name).register.house, of_system(name, DayView)
    assert set(days) == {system.id for system in house.systems}
    for id_, view in days.items():
        system, html = house.system(id_), str(day_drawing(view, "one"))
        wedges = re.findall(r'<path d="M([\d.]+) ([\d.]+)L[^"]*" class="dk"', html)
        assert system.timer is not None
        for (x, y), flood in zip(wedges, sorted(system.timer.floods_set), strict=True):
            assert (
                off_by(minute_at(float(x), float(y)), flood.hour * 60 + flood.minute, OUTER)
                < HALF_A_MILLIMETRE
            )
            assert f">{flood:%H:%M}</text>" in html
        ring = re.search(r'd="M([\d.]+) ([\d.]+)A165 165 0 (\d) 1 ([\d.]+) ([\d.]+)L', html)
        assert (ring is None) == (system.lights is None)
        if ring is not None and system.lights is not None:
            for (x, y), time in (
                ((ring[1], ring[2]), system.lights.off),
                ((ring[4], ring[5]), system.lights.on),
            ):
                assert (
                    off_by(minute_at(float(x), float(y)), time.hour * 60 + time.minute, OUTER)
                    < HALF_A_MILLIMETRE
                )
                assert dist((float(x), float(y)), (X, Y)) == pytest.approx(OUTER, abs=1)


def test_water_of_a_full_tray_stands_at_its_overflow() -> None:
    # By hand: a rim of 9 cm is drawn 15 mm high, so an overflow of 3 cm is 5 mm: floors at 180, 420, 660, water at 610.
    html = str(tray_drawing(TrayView("A tray", 30 / 90, "3 cm", "9 cm"), "one"))
    assert re.findall(r'<path d="M22 ([\d.]+)H538V(\d+)H22z"', html) == [("395.0", "420"), ("610.0", "660")]
    assert "3\u00a0cm" in html
    assert "rim 9\u00a0cm" in html


@pytest.mark.parametrize("name", HOUSES)
def test_every_tray_of_a_house_is_drawn_to_its_heights(name: str) -> None:
    house, trays = manual_of(name).register.house, of_system(name, TrayView)
    assert set(trays) == {system.id for system in house.systems}
    for id_, view in trays.items():
        html, facts = str(tray_drawing(view, "one")), house.system(id_).trays
        *_, (water, floor) = re.findall(r'<path d="M22 ([\d.]+)H538V(\d+)H22z"', html)
        share = facts.flood_depth.to("mm") / facts.wall_height.to("mm")
        assert float(floor) - float(water) == pytest.approx(RIM * share, abs=HALF_A_MILLIMETRE)
        for printed, fact in ((view.overflow, facts.flood_depth), (view.rim, facts.wall_height)):
            number, unit = printed.split()
            assert float(number) == pytest.approx(fact.to(unit))


@pytest.mark.parametrize("name", HOUSES)
def test_a_plate_is_drawn_where_the_house_has_plates(name: str) -> None:
    house, holes = manual_of(name).register.house, of_system(name, HoleView)
    assert set(holes) == {system.id for system in house.systems if system.cup_plate is not None}
    for id_, view in holes.items():
        plate, html = house.system(id_).cup_plate, str(figure(view, "one")).replace("\u00a0", " ")
        assert plate is not None
        number, unit = view.apart.split()
        assert float(number) == pytest.approx(plate.hole_pitch.to(unit))
        assert f">{view.apart}</text>" in html
        assert "Not to scale" in html


@pytest.mark.parametrize("name", HOUSES)
def test_no_two_kinds_of_stock_share_a_tray(name: str) -> None:
    house = manual_of(name).register.house
    (view,) = (one for page in manual_of(name).views for one in page.figures if isinstance(one, ShelfView))
    roles = {chemical.name: chemical.role for chemical in house.chemicals}
    assert sorted(one for _, names in view.trays for one in names) == sorted(roles)
    for _, names in view.trays:
        assert len({roles[one] for one in names}) == 1
        assert len(names) == 1 or roles[names[0]] in ("acid", "base")
    assert view.feed == tuple(part.name for part in house.nutrients.parts_in_order())
    html = str(figure(view, "one"))
    # A tray of 32 units height for each, none above another; the feed stands in none.
    trays = [(int(x), int(width)) for x, width in re.findall(r'M(\d+) 126v32h(\d+)v-32"', html)]
    assert len(trays) == len(view.trays)
    assert all(x + width < after for (x, width), (after, _) in pairwise(trays))


def test_no_leaf_grows_over_the_line_under_the_lamp() -> None:
    # By hand: 400 mm are drawn 40 mm high, so 100 mm are 10: a lamp at 70, a line at 170, the floor at 470.
    html = str(lamp_drawing(LampView("Lamp", 100 / 400, "400 mm", "100 mm", "300 mm"), "one"))
    assert '<path d="M200 170.0H600" class="dm" stroke-dasharray' in html
    assert "M180 70V170.0M640 70V470" in html
    said = html.replace("\u00a0", " ")
    assert (
        "From the lamp down 100 mm stay free: the highest leaf stands at most 300 mm over the floor." in said
    )


@pytest.mark.parametrize(
    ("name", "us", "hung", "printed"),
    [
        ("first", False, "380 mm", ("380 mm", "100 mm", "280 mm")),
        ("third", True, "16 in", ("16 in", "4 in", "12 in")),
        ("fifth", False, "1.205 m", ("1205 mm", "100 mm", "1105 mm")),
    ],
)
def test_the_lamp_of_a_house_hangs_where_its_facts_say(
    tmp_path: Path, name: str, us: bool, hung: str, printed: tuple[str, str, str]
) -> None:
    """Inches are rounded to the safe side: 100 mm are 3.94 in, and 16 in less 3.94 in are 12.06 in."""
    on = 'lights: {on: "06:00", off: "20:00",'
    house = made_house(tmp_path, name=name)
    file = house / "site_data" / "house.yml"
    file.write_text(
        file.read_text(encoding="utf-8").replace(on, f'{on} hung_above_tray: "{hung}",'), encoding="utf-8"
    )
    for system in made_register(house).house.systems:
        (view,) = lamp_gap(system, us)
        assert (view.hung, view.gap, view.leaf) == printed
        html = str(lamp_drawing(view, "one"))
        line = re.search(r'<path d="M200 ([\d.]+)H600"', html)
        assert line is not None
        assert system.lights is not None
        assert system.lights.hung_above_tray is not None
        share = 100 / system.lights.hung_above_tray.to("mm")
        assert float(line[1]) == pytest.approx(70 + 400 * share, abs=HALF_A_MILLIMETRE)


def test_a_lamp_is_drawn_where_the_house_says_how_high_it_hangs() -> None:
    for name in HOUSES:
        for system in manual_of(name).register.house.systems:
            known = system.lights is not None and system.lights.hung_above_tray is not None
            assert len(list(lamp_gap(system, us=False))) == known
