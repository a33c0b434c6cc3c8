"""Which side a figure is rounded to, and what is refused at the very edge."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from macros.calculations.feed import feeding
from macros.calculations.room import light
from macros.calculations.water import hydraulics
from macros.ground.problems import RangeProblem
from tests.facts import register_of, source_of, with_texts


def test_a_bucket_test_is_rounded_down() -> None:
    """12.37 L/min fill a tray later than 12.4 would: 12.3 is printed, and the exact flow is reckoned with."""
    path = ("systems", 0, "pump", "bucket_test_at_top_tray")
    register = register_of(with_texts(source_of("fourth"), {path: "12.37 L/min"}))
    flow = register.get("pump_flow_at_head", system="K")
    assert (flow.printed, flow.rounded, flow.exact) == ("12.3 L/min", 12.3, 12.37)


def test_batches_of_a_us_house_are_made_up_to_marks_of_its_vessels() -> None:
    """Up to a quarter gallon, small ones to a fluid ounce, never under what is needed."""
    register = register_of(source_of("second"))
    steps = {"batch_spray": ("fl_oz", 1), "batch_tool_dip": ("fl_oz", 1), "batch_soak": ("us_gal", 0.25),
             "loop_volume": ("us_gal", 0.1)}  # fmt: skip
    batches = [amount for amount in register.all() if amount.id in steps]
    assert {steps[batch.id][0] for batch in batches} == {"fl_oz", "us_gal"}
    for batch in batches:
        unit, step = steps[batch.id]
        assert (batch.unit, batch.rounding.step) == (unit, step)
        assert batch.rounded == pytest.approx(math.ceil(batch.value / step - 1e-9) * step)


@pytest.mark.parametrize(
    ("house", "marks"),
    [
        (
            "fifth",
            {0.9961: 0.98, 2.5402: 2.5, 9.463: 9.0, 32.0: 32.0},
        ),  # 20 mL under 2 L, then half a litre; 33 L less 51 mL stand at 16.47 cm, and 16.0 cm hold 32 L
        (
            "second",
            {1.0313: 34, 14.1433: 3.5, 29.7505: 7.8, 32.7036: 8.6},
        ),  # 34.89 fl oz; 3.74 gal; at 4.50 in 7.86 gal, at 5.25 in pi / 4 x 22^2 x 5.25 / 231 = 8.64 gal
    ],
)
def test_water_that_goes_in_first_is_rounded_down_to_a_mark(house: str, marks: dict[float, float]) -> None:
    """The litres left beside the stock, to the mark below: by hand."""
    waters = register_of(source_of(house)).of_id("water_for_batch")
    found = {round(water.exact, 4): water.rounded for water in waters}
    assert sorted(found.values()) == sorted(marks.values())
    assert sorted(found) == pytest.approx(sorted(marks), abs=1e-4)


@pytest.mark.parametrize(
    "asked",
    [
        lambda: feeding.heel_carryover(-0.1, 60),
        lambda: feeding.heel_carryover(0, 0),
        lambda: feeding.heel_carryover(0, -60),
        lambda: light.hours_for(0, 200),
        lambda: light.hours_for(12, 0),
        lambda: light.hours_for(-12, -200),
    ],
)
def test_what_cannot_be_is_refused(asked: Callable[[], float]) -> None:
    with pytest.raises(RangeProblem, match="above 0"):
        asked()


def test_the_edge_itself_is_taken() -> None:
    assert feeding.heel_carryover(0, 60) == 0
    assert feeding.heel_carryover(0.01, 0.5) == pytest.approx(0.02)
    assert light.hours_for(1e-6, 1e-3) == pytest.approx(1e-6 / (1e-3 * 0.0036))


@pytest.mark.parametrize("reynolds", [2040, 2300, 3000, 3999])
def test_flow_that_may_be_laminar_or_turbulent_loses_the_larger_head(reynolds: float) -> None:
    """Colebrook-White told by putting the factor back into it: 1/root(f) = -2 log10(e/3.7 + 2.51/(Re root(f)))."""
    factor = hydraulics.friction_factor(reynolds, 1e-4)
    root = factor**0.5
    assert factor > 64 / reynolds
    assert 1 / root == pytest.approx(-2 * math.log10(1e-4 / 3.7 + 2.51 / (reynolds * root)))
