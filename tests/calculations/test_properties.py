"""What must hold for any numbers: inverses, monotonic physics, rounding that never crosses the safe side; and refusals."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from macros.calculations import rounding
from macros.calculations.feed import acid_dose, base_dose, feeding
from macros.calculations.feed.solution import Solutes
from macros.calculations.sanitizer import strength
from macros.calculations.water import volumes
from macros.ground.problems import RangeProblem

size = st.floats(0.1, 2.0)
shapes = st.one_of(
    st.builds(volumes.Box, size, size, size),
    st.builds(volumes.Cylinder, size, size),
    st.builds(volumes.HorizontalCylinder, size, size),
    st.builds(volumes.ConeFrustum, size, size, size),
    st.builds(volumes.TaperedBox, size, size, size, size, size),
)


@settings(max_examples=80, deadline=None)
@given(shapes, st.floats(0.01, 0.99))
def test_level_and_volume_are_inverses(shape: volumes.Shape, share: float) -> None:
    level = share * volumes.full_height(shape)
    assert volumes.height_for_volume(shape, volumes.volume_to_height(shape, level)) == pytest.approx(
        level, rel=1e-6
    )


@settings(max_examples=80, deadline=None)
@given(shapes, st.floats(0, 0.98))
def test_more_depth_is_more_water(shape: volumes.Shape, share: float) -> None:
    top = volumes.full_height(shape)
    assert volumes.volume_to_height(shape, (share + 0.02) * top) > volumes.volume_to_height(
        shape, share * top
    )


@settings(max_examples=40, deadline=None)
@given(
    st.floats(20, 300),
    st.floats(7.0, 8.4),
    st.floats(5.4, 6.8),
    st.floats(8, 30),
    st.sampled_from(acid_dose.ACIDS),
)
def test_ph_after_the_dose_is_the_target(
    alkalinity: float, ph: float, target: float, temperature: float, acid: str
) -> None:
    dose = acid_dose.acid_needed(alkalinity, ph, target, temperature, acid)
    assert acid_dose.ph_after_acid(alkalinity, ph, dose, temperature, acid) == pytest.approx(
        target, abs=0.005
    )


@settings(max_examples=40, deadline=None)
@given(st.floats(20, 250), st.floats(7.0, 8.4), st.floats(5.4, 6.6), st.sampled_from(acid_dose.ACIDS))
def test_more_alkalinity_or_a_lower_target_takes_more_acid(
    alkalinity: float, ph: float, target: float, acid: str
) -> None:
    dose = acid_dose.acid_needed(alkalinity, ph, target, 18, acid)
    assert acid_dose.acid_needed(alkalinity * 1.1, ph, target, 18, acid) > dose
    assert acid_dose.acid_needed(alkalinity, ph, target - 0.1, 18, acid) > dose


@settings(max_examples=60, deadline=None)
@given(st.floats(5.0, 6.0), st.floats(0, 0.003), st.floats(0, 0.002))
def test_base_needed_grows_with_the_step_and_with_what_buffers(
    ph: float, carbon: float, phosphate: float
) -> None:
    here = base_dose.base_needed(ph, ph + 0.3, Solutes(carbon, phosphate), 18, 0.01)
    assert base_dose.base_needed(ph, ph + 0.5, Solutes(carbon, phosphate), 18, 0.01) > here
    assert base_dose.base_needed(ph, ph + 0.3, Solutes(carbon + 0.001, phosphate), 18, 0.01) > here


@given(st.floats(0, 1e6), st.sampled_from([0.01, 0.05, 0.2, 0.5, 1.0, 2.0, 20.0]))
def test_rounding_never_crosses_the_safe_side(value: float, step: float) -> None:
    up, down = rounding.round_to(value, step, "up"), rounding.round_to(value, step, "down")
    slack = 1e-8 * max(step, value)
    assert down - slack <= value <= up + slack
    assert up - down <= step + slack
    assert abs(rounding.round_to(value, step, "nearest") - value) <= step / 2 + slack


def test_value_on_a_step_stays_in_spite_of_binary_dust() -> None:
    assert rounding.round_to(149.60000000000002, 0.2, "up") == 149.6
    assert rounding.round_to(0.1 + 0.2, 0.1, "down") == 0.3


def test_a_half_goes_to_the_even_step_in_spite_of_binary_dust() -> None:
    """45 x 1.4 x 0.5 is 31.5 on paper and 31.499999999999996 in binary; a half goes to the even neighbour."""
    assert 45 * 1.4 * 0.5 < 31.5
    assert rounding.round_to(45 * 1.4 * 0.5, 1, "nearest") == 32
    assert rounding.round_to(87 / 1000 * 103.5 / 0.3 / 10, 0.001, "nearest") == 3.002
    assert rounding.round_to(30.5, 1, "nearest") == 30


@given(st.floats(1, 400), st.floats(0, 0.2), st.floats(0, 24))
def test_stock_only_weakens(grams: float, loss: float, months: float) -> None:
    assert strength.strength_after(grams, loss, months) <= grams


@settings(max_examples=60)
@given(st.floats(20, 400), st.floats(1.45, 3), st.floats(0.1, 0.8))
def test_ec_mended_by_water_is_the_target(volume: float, read: float, water: float) -> None:
    target = 1.4
    added = feeding.ec_dilute(volume, read, target, water)
    assert (volume * read + added * water) / (volume + added) == pytest.approx(target)
    swapped = feeding.ec_swap(volume, read, target, water)
    assert ((volume - swapped) * read + swapped * water) / volume == pytest.approx(target)


REFUSED = [
    (lambda: volumes.volume_to_height(volumes.Box(1, 1, 0.4), 0.5), "a level of 0.5 m is outside the tank, which is 0.4 m high inside"),
    (lambda: volumes.volume_to_height(volumes.Cylinder(0, 1), 0.5), "the tank's diameter is 0 m; it must be above 0"),
    (lambda: volumes.height_for_volume(volumes.Box(1, 1, 0.1), 150), "150 L do not fit in the tank, which holds 100 L to the rim"),
    (lambda: strength.stock_strength(12, "w/w", None), "a strength in w/w needs the density of the stock in g/mL from the label or data sheet"),
    (lambda: strength.stock_strength(12, "v/v", 1.0), "a strength in v/v needs the density of the pure liquid; give w/w or w/v from the data sheet"),
    (lambda: strength.stock_strength(120, "w/v", None), "a strength of 120 % is outside 0 to 100 %"),
    (lambda: strength.peroxide_density(60), "the density of peroxide is known from 0 to 50 % w/w, not at 60 %"),
    (lambda: acid_dose.acid_needed(90, 7.6, 4.8, 16, "nitric"), "a target pH of 4.8 is outside 5.0 to the starting pH of 7.6"),
    (lambda: acid_dose.acid_needed(900, 7.6, 6, 16, "nitric"), "an alkalinity of 900 mg/L as CaCO3 is outside 5 to 500, where the acid model holds"),
    (lambda: acid_dose.acid_needed(90, 7.6, 6, 16, "acetic"), "acetic is not an acid of the model; it knows phosphoric, nitric, sulfuric, citric"),
    (lambda: base_dose.base_needed(6, 5, Solutes(), 16, 0.01), "pH 6 to 5 is outside 4.0 to 8.0, where the base model holds"),
    (lambda: feeding.ec_dilute(100, 1.7, 0.4, 0.5), "water of 0.5 mS/cm cannot bring EC down to 0.4 mS/cm"),
    (lambda: feeding.heel_carryover(20, 100), "20 L stay in a tank of 100 L: 20% old solution; at most 10 % may stay"),
    (lambda: feeding.tap_fill_time(100, 0), "the flow at the tap must be above 0 L/min"),
]  # fmt: skip


@pytest.mark.parametrize(("ask", "sentence"), REFUSED, ids=[sentence for _, sentence in REFUSED])
def test_out_of_range_is_refused_in_a_whole_sentence(ask, sentence) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(RangeProblem) as refused:
        ask()
    assert str(refused.value) == sentence
