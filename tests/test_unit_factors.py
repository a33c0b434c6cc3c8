"""The factors between units as they are kept, against pint working them out anew from the exact definitions."""

from __future__ import annotations

import pytest

from macros.unit_factors import FILE, converted, factors, factors_text
from macros.units import convert, kinds


def test_kept_factors_are_those_of_the_definitions() -> None:
    kept = FILE.read_text(encoding="utf-8")
    assert kept == factors_text(), "run: python -m macros.unit_factors"


def test_every_unit_a_field_may_have_is_kept() -> None:
    assert {unit for _, units in kinds().values() for unit in units} <= set(factors())


def test_a_unit_goes_to_every_other_of_its_dimension_and_to_no_more() -> None:
    found = factors()
    assert set(found["kg"]) == {"kg", "g", "lb", "oz_wt"}
    assert set(found["degC"]) == {"degC"}
    assert all(unit in found[other] for unit, others in found.items() for other in others)


@pytest.mark.parametrize("value", [-40.0, 0.0, 18.5, 20.0, 68.0, 98.6, 212.0])
def test_temperatures_are_those_of_pint_to_the_last_digit(value: float) -> None:
    assert convert(value, "degC", "degF") == converted(value, "degC", "degF")
    assert convert(value, "degF", "degC") == converted(value, "degF", "degC")
