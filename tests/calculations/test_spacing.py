"""Planting patterns: counts of the owner's examples, distances by brute force, the widest refused; strips on their pads."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from macros.calculations.crop.spacing import sites
from macros.calculations.sanitizer.batches import strip_reading
from macros.calculations.sanitizer.rinsing import rinse_count
from macros.calculations.water.mixing import thinned
from macros.ground.problems import RangeProblem


@pytest.mark.quick
@pytest.mark.parametrize(("spacing", "count"), [(80, 72), (113, 36), (160, 18), (226, 9), (240, 8)])
def test_counts_on_six_by_twelve_holes(spacing: float, count: int) -> None:
    """Source: arithmetic, checked by hand, 80 mm pitch."""
    assert len(sites(6, 12, 80, spacing)) == count


@settings(max_examples=100)
@given(st.integers(1, 9), st.integers(1, 14), st.floats(40, 120), st.floats(0.3, 3.0))
def test_no_two_plants_stand_closer_than_asked(rows: int, columns: int, pitch: float, share: float) -> None:
    chosen = sites(rows, columns, pitch, pitch * share)
    assert chosen
    apart = [math.dist(one, other) * pitch for one, other in itertools.combinations(chosen, 2)]
    assert all(distance >= pitch * share * (1 - 1e-6) for distance in apart)


@settings(max_examples=60)
@given(st.integers(2, 8), st.integers(2, 12), st.floats(0.5, 2.8))
def test_more_room_never_gives_more_plants(rows: int, columns: int, share: float) -> None:
    assert len(sites(rows, columns, 80, 80 * share)) >= len(sites(rows, columns, 80, 80 * (share + 0.2)))


def test_wider_than_three_pitches_gets_its_own_tray() -> None:
    with pytest.raises(
        RangeProblem, match="more than three times the hole pitch of 80 mm; give the plant its own tray"
    ):
        sites(6, 12, 80, 250)


def test_strip_of_the_owner() -> None:
    """Source: arithmetic, checked by hand: 1 % is 10 000 mg/L, 1 in 20 reads 500 on a 0-1000 strip."""
    reading = strip_reading(10_000, [0, 100, 250, 500, 750, 1000])
    assert (reading.dilution, reading.wanted) == (20, 500)


@settings(max_examples=200)
@given(
    st.floats(50, 40_000),
    st.lists(st.sampled_from([10, 25, 50, 100, 200, 250, 400, 500, 600, 750, 1000]), min_size=3, unique=True),
)
def test_a_weak_batch_never_passes(target: float, pads: list[float]) -> None:
    try:
        reading = strip_reading(target, pads)
    except RangeProblem:
        return  # its wording is tested below
    assert reading.low_pad in pads
    assert reading.low_pad * reading.dilution >= 0.9 * target - 1e-6


@settings(max_examples=200)
@given(st.floats(10, 10_000), st.floats(0.5, 20), st.floats(5, 100), st.floats(0.2, 20))
def test_rinse_count_is_the_least_that_reaches_the_residue(
    start: float, allowed: float, rinse: float, held: float
) -> None:
    if rinse < 2 * held:
        with pytest.raises(RangeProblem, match="rinse with at least"):
            rinse_count(start, allowed, rinse, held)
        return
    count = rinse_count(start, allowed, rinse, held)
    assert thinned(start, held, rinse, count) <= allowed * (1 + 1e-6)
    if count > 1:
        assert thinned(start, held, rinse, count - 1) > allowed * (1 - 1e-6)


def test_strip_that_cannot_show_the_strength_is_told_with_what_to_buy() -> None:
    with pytest.raises(
        RangeProblem, match="buy strips with a pad of 10000 and a top one of 12500 to 25000 mg/L"
    ):
        strip_reading(10_000, [1, 2, 3])
