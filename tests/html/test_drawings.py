"""Drawings: positions, labels spread apart, legends that agree with the circles, hostile names as text."""

from __future__ import annotations

import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from macros.html.drawings import figure, map_spots, spread, stick_labels
from macros.html.environment import TEMPLATES, in_attribute
from macros.manual.pages.figures import page_figures
from macros.page_model.figure import MapVariety, MapView, StickMark, StickView, TableView
from tests.making import HOUSES, made_register, manual_of

HOSTILE = '<script>alert("x")</script>{{ 7*7 }} *a* [b](c)'


def map_view(name: str = "viola") -> MapView:
    holes = tuple((r, c, 0 if (r + c) % 2 == 0 else -1) for r in range(4) for c in range(8))
    return MapView(
        "Planting map, tray T-1",
        4,
        8,
        ("T-1-L", "T-1-R"),
        "0.72 m of holes",
        (MapVariety(name, "Vi", 0, 16, "110 mm"),),
        holes,
    )


def stick_view() -> StickView:
    marks = (
        StickMark("Full", 0.8, "30.0 cm", "60 L", "fill mark"),
        StickMark("While flooded", 0.52, "20.5 cm", "41 L", "trays up"),
        StickMark("Refill mark", 0.5, "20.0 cm", "40 L", "top up"),
        StickMark("Pump minimum", 0.1, "5.0 cm", "10 L", "below it the pump sucks air", pump_minimum=True),
    )
    return StickView(
        "Level stick, tank T", "cm", "L", ((0.25, "10", "20"), (0.5, "20", "40")), marks, 0.8, 0.1
    )


@pytest.mark.parametrize("name", ["second", "fourth", "fifth"])
def test_every_mark_of_a_stick_stands_at_its_level(name: str) -> None:
    """A stick is printed 85 mm wide, of 460 units: 2.7 of them are half a millimetre."""
    house = manual_of(name).register.house
    sticks = {
        page.system: view
        for page in manual_of(name).views
        for view in page.figures
        if isinstance(view, StickView)
    }
    assert set(sticks) == {system.id for system in house.systems}
    for id_, view in sticks.items():
        html, tank = figure(view, "f"), house.system(id_).reservoir
        whole = getattr(tank, tank.height_field).to("cm")
        unit = {"cm": 1.0, "in": 2.54}[view.unit]

        def height(level: float, whole: float = whole, unit: float = unit) -> float:
            return 40 + 480 * (1 - level * unit / whole)

        ticks = re.findall(
            r'class="tick"/><text x="52" y="([\d.]+)" class="ax" text-anchor="end">([\d.]+)<', html
        )
        assert len(ticks) == len(view.scale) > 2
        for y, level in ticks:
            assert float(y) - 6 == pytest.approx(height(float(level)), abs=2.7)
        marks = re.findall(r'<path d="M62 ([\d.]+)H176', html)
        levels = re.findall(r'<tspan class="cm">([\d.]+) ', html)
        assert len(marks) == len(levels) == len(view.marks)
        register = manual_of(name).register
        flooded = [one.exact / 100 for one in register.of_id("level_at_flood", system=id_)]
        for y, level, mark in zip(marks, levels, view.marks, strict=True):
            # The level while flooded is printed rounded down; its line stands at the sum itself.
            true = (
                flooded[0] * 100 / 2.54 ** (view.unit == "in")
                if mark.label == "While flooded"
                else float(level)
            )
            assert float(y) == pytest.approx(height(true), abs=2.7)
        facts = (tank.fill_mark_height, tank.refill_mark_height, tank.pump_minimum_height)
        assert {f"{one.to(view.unit):.1f}" for one in facts} <= set(levels)
        full = re.search(r'<rect x="63" y="([\d.]+)" width="62" height="([\d.]+)" class="water"', html)
        assert full is not None
        assert float(full[1]) == pytest.approx(height(tank.fill_mark_height.to(view.unit)), abs=2.7)
        assert float(full[1]) + float(full[2]) == pytest.approx(
            height(tank.pump_minimum_height.to(view.unit)), abs=2.7
        )


@pytest.mark.parametrize("name", ["third", "fourth", "fifth"])
def test_every_hole_of_a_map_is_drawn_in_its_place(name: str) -> None:
    """60 units from hole to hole; as many marks of a variety as the plan plants, as many covers as are left."""
    register = made_register(HOUSES / name)
    maps = [
        view
        for system in register.house.systems
        for view in page_figures(["planting_map"], register, system.id)
    ]
    assert maps
    for view in maps:
        assert isinstance(view, MapView)
        spots = map_spots(view)
        assert len(spots) == view.rows * view.columns
        for (row, column, variety), spot in zip(view.holes, spots, strict=True):
            assert (spot.x, spot.y) == (40 + 60 * column + 30, 66 + 60 * row + 30)
            assert spot.variety == variety
        html = figure(view, "f")
        for number, one in enumerate(view.varieties):
            assert sum(spot.variety == number for spot in spots) == one.count
            assert f"<b>{one.count}</b> {one.name}" in html
        assert html.count('r="14" class="cov"') == sum(spot.variety < 0 for spot in spots)


def test_legend_counts_equal_the_circles() -> None:
    text = figure(map_view(), "f1")
    assert len(re.findall(r'fill="url\(#f1-dots\)"', text)) == 16 + 1, "the cups and the legend"
    assert len(re.findall(r'r="14" class="cov"', text)) == 16
    assert "<b>16</b> viola" in text
    assert "<b>16</b> covered" in text


def test_holes_stand_on_a_square_grid() -> None:
    spots = map_spots(map_view())
    assert spots[1].x - spots[0].x == spots[8].y - spots[0].y


@given(st.lists(st.floats(0, 500), min_size=1, max_size=6))
def test_labels_never_overlap(heights: list[float]) -> None:
    placed = sorted(spread(heights, 76.0))
    assert all(b - a >= 76.0 - 1e-6 for a, b in itertools.pairwise(placed))


def test_labels_keep_the_order_of_their_marks() -> None:
    labels = stick_labels(stick_view())
    assert [label.y for label in labels] == sorted(label.y for label in labels)
    assert [label.text_y for label in labels] == sorted(label.text_y for label in labels)


@pytest.mark.parametrize(
    "view", [map_view(), stick_view(), TableView("Doses", ("water", "part"), (("5 L", "2 mL"),))]
)
def test_figure_is_one_block_with_words_for_a_reader(view: MapView | StickView | TableView) -> None:
    text = figure(view, "f1")
    assert not any(not line.strip() for line in text.splitlines())
    assert len(text) < 15_000
    if view.kind != "table":
        assert "<title" in text
        assert "<desc" in text
        ids = re.findall(r'\bid="([^"]+)"', text)
        assert len(ids) == len(set(ids))
        assert all(name.startswith("f1") for name in ids)
    assert re.search(r"#[0-9a-fA-F]{3,6}\b(?!-)", re.sub(r"url\(#[^)]*\)", "", text)) is None


@pytest.mark.quick
def test_hostile_names_are_text() -> None:
    for view in (map_view(HOSTILE), TableView(HOSTILE, (HOSTILE,), ((HOSTILE,),))):
        text = figure(view, "f1")
        assert "<script" not in text


def test_no_attribute_of_a_template_is_given_an_element() -> None:
    """`nb` wraps a run from right to left in an element; in an attribute that is read out as letters."""
    files = [file for file in TEMPLATES.iterdir() if file.is_file()]
    assert len(files) > 20
    held = [file.name for file in files if re.search(r'[\w-]="[^"<>]*\|nb\b', file.read_text("utf-8"))]
    assert held == []
    assert in_attribute('3 mL of "שלום" <b>') == "3\xa0mL of &#34;שלום&#34; &lt;b&gt;"
