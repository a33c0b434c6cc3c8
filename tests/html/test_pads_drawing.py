"""The pads of a strip as drawn: the bracket stands over those that pass, and every other is hatched."""

from __future__ import annotations

import re

import pytest

from macros.html.pads_drawing import pads_drawing
from macros.page_model.figure import PadsView
from macros.page_model.page import StepView
from tests.making import manual_of

HALF_A_MILLIMETRE = 5
"""In units of the drawing: ten of them are a millimetre on paper."""


def drawn(view: PadsView) -> tuple[tuple[float, float], list[tuple[float, str]], list[float]]:
    """Ends of the bracket, middle and text of each number, left edge of each hatching, as they stand in the drawing."""
    html = str(pads_drawing(view))
    bracket = re.search(r'<path d="M(\d+) 64V48H(\d+)V64"', html)
    assert bracket is not None
    numbers = re.findall(r'<text x="(\d+)" y="190"[^>]*>([^<]+)</text>', html)
    hatched = re.findall(r'<path d="M(\d+) 111l', html)
    return (
        (float(bracket[1]), float(bracket[2])),
        [(float(x), text) for x, text in numbers],
        [float(x) for x in hatched],
    )


def read_at(site_name: str) -> list[StepView]:
    """The steps of a house that read a strip."""
    return [step for page in manual_of(site_name).views for step in page.steps if step.pads is not None]


def test_the_bracket_stands_over_the_pads_that_pass() -> None:
    # By hand: pads of 9 mm every 11 mm from 1 mm on; the third and fourth begin at 23 and 34 mm, the fourth ends at 43 mm.
    view = PadsView(
        "high strip", "mg/L", (("0", False), ("100", False), ("500", True), ("600", True), ("800", False))
    )
    ends, numbers, hatched = drawn(view)
    assert ends == (230, 430)
    assert numbers == [(55, "0"), (165, "100"), (275, "500"), (385, "600"), (495, "800")]
    assert hatched == [10, 120, 450]
    said = str(pads_drawing(view)).replace("\u00a0", " ")
    assert 'aria-label="high strip: 500 or 600 mg/L pass; stop at 0, 100, 800 mg/L"' in said


@pytest.mark.parametrize(
    ("name", "kinds"),
    [("second", {True, False}), ("fourth", {True}), ("fifth", {True, False})],
    ids=["batch and rinse", "batch, its strip of the rinse not listed", "batch and rinse, metric"],
)
def test_every_strip_of_a_house_is_drawn_as_its_numbers_say(name: str, kinds: set[bool]) -> None:
    house = manual_of(name).register.house
    strips = {strip.name: [pad.to("mg/L") for pad in strip.pads] for strip in house.test_strips}
    steps = read_at(name)
    for step in steps:
        assert step.pads is not None
        band = next((amount for amount in step.amounts if amount.amount_id == "strip_band"), None)
        assert step.record is not None
        printed = band.printed if band is not None else step.record.limits
        said = [float(one) for one in re.findall(r"\d[\d.]*", printed)]
        low, high = (min(said), max(said)) if band is not None else (0.0, said[0])
        ends, numbers, hatched = drawn(step.pads)
        assert [float(text) for _, text in numbers] == sorted(strips[step.pads.strip])
        inside = [x for x, text in numbers if low <= float(text) <= high]
        assert ends[0] == pytest.approx(inside[0] - 45, abs=HALF_A_MILLIMETRE)
        assert ends[1] == pytest.approx(inside[-1] + 45, abs=HALF_A_MILLIMETRE)
        outside = [x for x, text in numbers if not low <= float(text) <= high]
        assert hatched == pytest.approx([x - 45 for x in outside], abs=HALF_A_MILLIMETRE)
    assert {"strip_band" in [one.amount_id for one in step.amounts] for step in steps} >= kinds
