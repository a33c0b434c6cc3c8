"""The same house written in the other system of units works out the same: a unit is a way of writing, not a fact."""

from __future__ import annotations

import re
from typing import Any

import pytest

from macros.amounts import Amount, Register
from macros.ground.units import convert
from macros.ground.yaml_source import Path_, Source
from tests.facts import EVERY_HOUSE, leaves, register_of, source_of, with_texts

QUANTITY = re.compile(r"([+-]?\d+(?:\.\d+)?) (\S+)")
OTHER = {
    "L": "us_gal", "mL": "fl_oz", "us_gal": "L", "gal": "L", "fl_oz": "mL",
    "m": "ft", "cm": "in", "mm": "in", "in": "cm", "ft": "m",
    "kg": "lb", "g": "oz_wt", "lb": "kg", "degC": "degF", "degF": "degC",
    "L/h": "us_gal/h", "L/min": "us_gal/min", "gal/h": "L/h", "gal/min": "L/min", "m^3/h": "ft^3/min",
    "mL/L": "fl_oz/us_gal", "mL/gal": "mL/L", "mL/m^2": "fl_oz/ft^2", "L/m^2": "us_gal/ft^2",
    "fl_oz/ft^2": "mL/m^2", "us_gal/ft^2": "L/m^2", "L/day": "us_gal/day", "mL/day": "fl_oz/day",
    "g/mL": "lb/us_gal", "mS/cm": "uS/cm", "mg/L": "g/L", "W": "kW", "min": "h", "h": "min", "day": "week",
}  # fmt: skip
"""Unit as a test house writes it -> the one it is rewritten in."""
KIND_OF_ITS_OWN = {"airflow_each": "ft^3/min"}
"""Fields whose kind does not know the unit above."""
TEXT = {"accuracy", "resolution", "standard"}
"""Fields that hold a text, in which no unit is read; what a tool or a meter is marked in is a fact of its own."""
TOOLS = "measuring_tools"
FROM_A_MARK = {
    "stock_for_batch": "the batch is made up to a mark, and stock is dosed for that batch",
    "water_for_batch": "the printed batch less the poured stock",
    "strength_made": "what the poured stock really makes",
    "quench_water": "thins what was really made",
    "quench_time": "minutes for that water",
    "disposal_volume": "quench and rinses together",
    "rinse_total": "the rinses as they are printed",
}
"""Amounts that start from a printed one on purpose: where the house prints in other units they may move."""


def in_other_units(source: Source) -> tuple[Source, int]:
    """The house with every quantity in another unit, tools left out; and how many were rewritten."""
    texts: dict[Path_, str] = {}
    for path, text in leaves(source.data):
        match = QUANTITY.fullmatch(text)
        name = path[-1] if isinstance(path[-1], str) else path[-2]
        if match is None or path[0] == TOOLS or name in TEXT or match.group(2) not in OTHER:
            continue
        unit = match.group(2)
        other = KIND_OF_ITS_OWN.get(str(name), OTHER[unit])
        known = unit.replace("gal", "us_gal") if unit.startswith("gal") or unit.endswith("/gal") else unit
        texts[path] = f"{convert(float(match.group(1)), known, other):.15f} {other}"
    return with_texts(source, texts), len(texts)


def same(one: Any, other: Any) -> bool:
    """Whether two exact values agree to a millionth, whatever their form."""
    if isinstance(one, bool) or one is None or isinstance(one, str):
        return bool(one == other)
    if isinstance(one, int | float):
        return bool(other == pytest.approx(one, rel=1e-6, abs=1e-9))
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    return len(one) == len(other) and all(same(a, b) for a, b in zip(one, other, strict=True))


def by_key(register: Register) -> dict[str, Amount]:
    return {amount.key: amount for amount in register.all()}


LEAST_REWRITTEN = {"first": 41, "second": 80, "third": 99, "fourth": 148}


@pytest.mark.parametrize("name", EVERY_HOUSE)
def test_other_units_give_the_same_amounts_and_the_same_print(name: str) -> None:
    source = source_of(name)
    rewritten, count = in_other_units(source)
    assert count >= LEAST_REWRITTEN[name]
    before, after = by_key(register_of(source)), by_key(register_of(rewritten))
    assert before.keys() == after.keys()
    assert len(before) >= 50
    assert differing(before, after, set(before)) == {}
    assert {key: _print(before[key]) for key in before} == {key: _print(after[key]) for key in before}


def test_a_house_that_prints_the_other_system_has_the_same_exact_amounts() -> None:
    """A table holds printed numbers only, and what starts from a mark may move with the marks; nothing else may."""
    moved: set[str] = set()
    for name, least in (("second", 92), ("fourth", 208)):
        source = source_of(name)
        before, after = by_key(register_of(source)), by_key(register_of(in_the_other_print(source)))
        assert before.keys() == after.keys()
        compared = {key for key, amount in before.items() if amount.kind not in ("table", "map")}
        exact = {key for key in compared if before[key].id not in FROM_A_MARK}
        assert len(exact) >= least
        assert differing(before, after, exact) == {}
        assert sum(before[key].unit != after[key].unit for key in exact) >= 20, (
            "little is printed in other units"
        )
        moved |= {before[key].id for key in differing(before, after, compared)}
    assert moved == set(FROM_A_MARK)


def in_the_other_print(source: Source) -> Source:
    """The house in other units, printing in them as well; its tools stay what they are."""
    rewritten, _ = in_other_units(source)
    style = source.data["house"]["unit_style"]
    texts = {("house", "unit_style"): "us" if style == "metric" else "metric"}
    tools = ((path, text) for path, text in leaves(rewritten.data) if path[0] == TOOLS)
    return with_texts(rewritten, texts | {path: text.replace(" gal", " us_gal") for path, text in tools})


def differing(before: dict[str, Amount], after: dict[str, Amount], keys: set[str]) -> dict[str, Any]:
    """The amounts of `keys` whose exact value is not the same in both."""
    return {
        key: (before[key].exact, after[key].exact)
        for key in sorted(keys)
        if before[key].exact_unit != after[key].exact_unit or not same(before[key].exact, after[key].exact)
    }


def _print(amount: Amount) -> tuple[Any, ...]:
    return amount.printed, amount.tool, amount.pours
