"""Drawings: positions, labels spread apart, legends that agree with the circles, hostile names as text."""

from __future__ import annotations

import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from macros.html.drawings import figure, map_spots, spread, stick_labels
from macros.html.environment import TEMPLATES, in_attribute
from macros.page_model.figure import MapVariety, MapView, StickMark, StickView, TableView

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
