"""Every case of the YAML files here: a calculation against a value from outside the project, its source beside it."""

from __future__ import annotations

from typing import Any

import pytest

from macros.published.amounts.checks import checked_by
from tests.making import HOUSES, ROOT, made_register
from tests.reference.comparisons import FOLDER, cases, comparisons, computed, expected
from tests.reference.renew import FILE, text


def single_cases() -> list[Any]:
    """One parameter for each comparison."""
    return [
        pytest.param(single, id=f"{case['name']} {number + 1}")
        for case in cases()
        for number, single in enumerate(comparisons(case))
    ]


def test_cases_were_found() -> None:
    assert len(list(FOLDER.glob("*.yml"))) >= 5
    assert len(single_cases()) >= 300


@pytest.mark.parametrize("case", cases(), ids=lambda case: case["name"])
def test_case_names_its_source(case: dict[str, Any]) -> None:
    assert case["source"].strip()
    assert case["obtained"].strip()
    assert case["tolerance"]["kind"] in ("rel", "abs")


def test_distinct_sources() -> None:
    """A grid counts once; cases that cite one work count once."""
    sources = {case["source"] for case in cases()}
    assert len(sources) >= 20, sorted(sources)


@pytest.mark.parametrize("case", single_cases())
def test_calculation_agrees_with_its_source(case: dict[str, Any]) -> None:
    tolerance = case["tolerance"]
    assert computed(case) == pytest.approx(expected(case), **{tolerance["kind"]: tolerance["value"]})


@pytest.mark.quick
def test_table_of_checks_is_current() -> None:
    assert FILE.read_text(encoding="utf-8") == text(), "run `python -m tests.reference.renew`"


@pytest.mark.parametrize("house", ["first", "second", "third", "fourth", "real"])
def test_every_amount_says_what_it_was_checked_with(house: str) -> None:
    folder = ROOT if house == "real" else HOUSES / house
    ids = set(made_register(folder).ids())
    assert ids <= set(checked_by())
    assert all(sum(map(bool, (on.by, on.hand, on.none))) == 1 for on in checked_by().values())
