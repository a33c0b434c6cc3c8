"""The edge of a range belongs to it, and what lies past it is refused: arithmetic, by hand."""

from __future__ import annotations

import pytest

from macros.calculations.feed.acid_dose import acid_needed
from macros.calculations.sanitizer.batches import stock_for_batch
from macros.calculations.water.mixing import mixed, thinned
from macros.calculations.water.watering import hourly_use
from macros.ground.problems import RangeProblem


@pytest.mark.parametrize(("edge", "inside", "past"), [(1, 1.001, 0.999), (40, 39.999, 40.001)])
def test_the_coldest_and_the_warmest_water_take_the_dose_of_water_beside_them(
    edge: float, inside: float, past: float
) -> None:
    here = acid_needed(90, 7.6, 6.0, edge, "nitric")
    assert here == pytest.approx(acid_needed(90, 7.6, 6.0, inside, "nitric"), rel=1e-4)
    with pytest.raises(RangeProblem, match=f"a water temperature of {past:g} degC is outside 1 to 40 degC"):
        acid_needed(90, 7.6, 6.0, past, "nitric")


def test_a_plant_that_drinks_in_the_light_alone_drinks_its_day_in_that_time() -> None:
    """60 mL in one hour of light, and in half an hour."""
    assert hourly_use(60, 1, 0) == pytest.approx(60)
    assert hourly_use(60, 0.5, 0) == pytest.approx(120)
    assert hourly_use(0.5, 10, 0) == pytest.approx(0.05)


@pytest.mark.parametrize(("daily", "light"), [(60, 0), (0, 12), (-1, 12)])
def test_a_day_without_a_drink_is_refused(daily: float, light: float) -> None:
    with pytest.raises(RangeProblem, match="a plant drinks something in a day"):
        hourly_use(daily, light, 0)


@pytest.mark.parametrize(("volume", "target"), [(0, 5), (-1, 5), (10, 0), (10, -5)])
def test_a_batch_of_nothing_is_refused(volume: float, target: float) -> None:
    with pytest.raises(RangeProblem, match="a batch needs a volume and a target strength above 0"):
        stock_for_batch(volume, target, 100)


def test_a_stock_as_strong_as_wanted_is_poured_whole() -> None:
    """Half a litre of 50 g/L is 500 mL of a stock of 50 g/L; small batches and weak ones are batches too."""
    assert stock_for_batch(0.5, 50, 50) == pytest.approx(500)
    assert stock_for_batch(0.5, 0.5, 50) == pytest.approx(5)


@pytest.mark.parametrize("waters", [(-1, 5, 1, 0), (1, -5, 1, 0), (1, 5, -1, 0), (1, 5, 1, -5)])
def test_waters_of_less_than_nothing_are_refused(waters: tuple[float, float, float, float]) -> None:
    with pytest.raises(RangeProblem, match="what is mixed has volumes and concentrations of 0 or more"):
        mixed(*waters)


def test_nothing_and_nothing_are_not_mixed() -> None:
    """One of the two may be missing: what is left is as it was."""
    with pytest.raises(RangeProblem, match="two waters without a volume cannot be mixed"):
        mixed(0, 5, 0, 5)
    assert mixed(0, 5, 2, 7) == 7
    assert mixed(2, 5, 0, 7) == 5


def test_thinned_no_times_is_as_it_was() -> None:
    assert thinned(5, 1, 1, 0) == 5
    assert thinned(5, 0, 1, 1) == 0
    with pytest.raises(RangeProblem, match="-1 times is under 0"):
        thinned(5, 1, 1, -1)
