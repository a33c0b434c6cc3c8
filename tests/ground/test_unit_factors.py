"""The factors between units as they are kept, against pint working them out anew from the exact definitions."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from macros.ground.unit_factors import FACTORS_FILE, converted, factors, factors_text
from macros.ground.units import convert, kinds
from tests.making import ROOT

PACKAGE = ROOT / "macros"


def test_kept_factors_are_those_of_the_definitions() -> None:
    kept = FACTORS_FILE.read_text(encoding="utf-8")
    assert kept == factors_text(), "run: python -m macros.ground.unit_factors"


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


def test_a_changed_definition_counts_at_once(tmp_path: Path) -> None:
    """A copy of the program whose foot is another one: the kept factors are left aside and pint is asked."""
    shutil.copytree(PACKAGE, tmp_path / "macros", ignore=shutil.ignore_patterns("__pycache__"))
    definitions = tmp_path / "macros" / "ground" / "unit_factors.py"
    text = definitions.read_text(encoding="utf-8")
    assert "foot = 0.3048 * meter" in text
    definitions.write_text(text.replace("foot = 0.3048 * meter", "foot = 0.25 * meter"), encoding="utf-8")
    asked = "import sys; from macros.ground.units import convert; print(convert(2.0, 'ft', 'm'), 'pint' in sys.modules)"
    command = [sys.executable, "-c", asked]
    assert (
        subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=True).stdout
        == "0.5 True\n"
    )
    assert (
        subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
        == "0.6096 False\n"
    )
