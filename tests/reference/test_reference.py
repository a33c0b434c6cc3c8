"""Every case of the YAML files here: a calculation against a value from outside the project, its source beside it."""

from __future__ import annotations

import importlib
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from macros.calculations import volumes
from macros.calculations.solution import Solutes

FOLDER = Path(__file__).parent
TRANSFORMS = {
    "log10": math.log10,
    "sites": lambda succession: succession.sites,
    "pk": lambda constants: [-math.log10(constant) for constant in constants],
}


def cases() -> list[dict[str, Any]]:
    """All cases; those of a grid share its source."""
    return [
        case
        for path in sorted(FOLDER.glob("*.yml"))
        for case in yaml.safe_load(path.read_text(encoding="utf-8"))
    ]


def single_cases() -> Iterator[Any]:
    """One parameter for each comparison."""
    for case in cases():
        for number, row in enumerate(case.get("rows", [None])):
            named = case if row is None else {**case, **split_row(case["columns"], row)}
            yield pytest.param(named, id=f"{case['name']}{'' if row is None else f' row {number + 1}'}")


def split_row(columns: list[str], row: list[Any]) -> dict[str, Any]:
    values = dict(zip(columns, row, strict=True))
    return {"expected": values.pop("expected"), "inputs": values}


def built(name: str, value: Any) -> Any:
    """A shape or solutes from their data; everything else as it is."""
    if name == "shape":
        ((kind, sizes),) = value.items()
        return getattr(volumes, kind)(*sizes)
    return Solutes(**value) if name == "solutes" else value


def test_cases_were_found() -> None:
    assert len(list(FOLDER.glob("*.yml"))) >= 5
    assert len(list(single_cases())) >= 300


@pytest.mark.parametrize("case", cases(), ids=lambda case: case["name"])
def test_case_names_its_source(case: dict[str, Any]) -> None:
    assert case["source"].strip()
    assert case["obtained"].strip()
    assert case["tolerance"]["kind"] in ("rel", "abs")


def test_distinct_sources() -> None:
    """A grid counts once; cases that cite one work count once."""
    sources = {case["source"] for case in cases()}
    assert len(sources) >= 20, sorted(sources)


@pytest.mark.parametrize("case", list(single_cases()))
def test_calculation_agrees_with_its_source(case: dict[str, Any]) -> None:
    module, function = case["function"].split(".")
    compute = getattr(importlib.import_module(f"macros.calculations.{module}"), function)
    found = compute(**{name: built(name, value) for name, value in case["inputs"].items()})
    found = TRANSFORMS[case["transform"]](found) if "transform" in case else found
    tolerance = case["tolerance"]
    assert found == pytest.approx(case["expected"], **{tolerance["kind"]: tolerance["value"]})
