"""Measuring tools as drawn: the water stands where the number says, and every printed mark is one the tool has."""

from __future__ import annotations

import re

import pytest

from macros.html.measure_drawing import HEIGHT, MOST_MARKS, TOP, height, measure_drawing, scale
from macros.page_model.figure import MeasureView
from macros.paper.labels.fit import POINT, text_width
from tests.making import manual_of

HALF_A_MILLIMETRE = 5.0
"""In units of the drawing: ten of them are a millimetre on paper."""


def cylinder(volume: float, capacity: float = 250, mark: float = 2) -> MeasureView:
    return MeasureView("cylinder 250 mL", "cylinder", "mL", capacity, mark, volume, f"{volume:g}")


def test_a_filling_stands_in_proportion_to_the_scale() -> None:
    # By hand: a scale of 400 from 440 (empty) up to 40 (full); 150 of 250 is 0.6: 440 - 240 = 200.
    assert height(cylinder(0), 0) == TOP + HEIGHT == 440
    assert height(cylinder(150), 150) == 200
    assert height(cylinder(250), 250) == 40


@pytest.mark.parametrize(
    ("capacity", "mark"),
    [(250, 2), (10, 0.2), (1000, 20), (60, 1), (5, 0.2), (10_000, 500), (3785, 100), (8, 0.25)],
)
def test_marks_are_those_of_the_tool_and_stand_apart(capacity: float, mark: float) -> None:
    marks = scale(cylinder(0, capacity, mark)).marks
    assert 4 <= len(marks) <= MOST_MARKS + 1
    assert 1 <= len([text for _, text in marks if text]) <= 10
    for y, text in marks:
        value = (TOP + HEIGHT - y) / HEIGHT * capacity
        assert value / mark == pytest.approx(round(value / mark), abs=0.02)
        assert not text or float(text) == pytest.approx(value, rel=1e-3)


@pytest.mark.parametrize("name", ["second", "fourth", "fifth"])
def test_every_filling_of_a_house_stands_at_the_printed_amount(name: str) -> None:
    site = manual_of(name)
    tools = {tool.name: tool for tool in site.register.house.measuring_tools}
    seen = 0
    for page in site.views:
        for amount in (one for step in page.steps for one in step.amounts):
            for view in amount.fillings:
                seen += 1
                html = str(measure_drawing(view))
                arrow = re.search(r'<path d="M[\d.]+ ([\d.]+)l24 -13v26z"', html)
                label = re.search(r'class="pt">(?:(\d+)\u00a0x\u00a0)?([\d.]+)\u00a0', html)
                assert arrow is not None
                assert label is not None
                share = float(label[2]) / view.capacity
                assert float(arrow[1]) == pytest.approx(TOP + HEIGHT * (1 - share), abs=HALF_A_MILLIMETRE)
                assert 0 < view.volume <= view.capacity
                assert view.volume / view.mark == pytest.approx(round(view.volume / view.mark), abs=1e-6)
                assert view.tool in tools
            printed = re.match(r"([\d.]+) (mL|fl oz)$", amount.printed.replace("\u00a0", " "))
            if amount.fillings and printed and amount.fillings[0].unit == printed[2]:
                total = sum(float(view.volume_text) * view.times for view in amount.fillings)
                assert total == pytest.approx(float(printed[1]), rel=1e-6), amount
    assert seen > 5


def test_a_syringe_is_read_at_its_plunger_and_says_so() -> None:
    view = MeasureView("syringe 10 mL", "syringe", "mL", 10, 0.2, 7.8, "7.8", 2)
    html = str(measure_drawing(view))
    assert 'aria-label="syringe 10 mL: front edge of the plunger at 7.8 mL, 2 times"' in html
    assert "lowest point" not in html


@pytest.mark.parametrize("text", ["70", "1000", "1111.1"])
def test_the_label_has_room_beside_the_tool(text: str) -> None:
    """Bold type of 44 units, as wide as labels on paper reckon it."""
    view = MeasureView("jug 1 L", "jug", "fl oz", 1000, 10, 700, text, 2)
    html = str(measure_drawing(view))
    box = re.search(r'viewBox="0 0 (\d+) ', html)
    label = re.search(r'<text x="([\d.]+)"[^>]*class="pt">([^<]+)<', html)
    assert box is not None
    assert label is not None
    assert float(label[1]) + text_width(label[2], 44 / POINT, bold=True) <= float(box[1])
