"""Every sum of a working comes out as the working says, worked out again from its text alone."""

from __future__ import annotations

import math
from collections import Counter

import pytest

from macros.amounts import Amount
from macros.ground.yaml_source import Source
from tests.amounts.pocket_calculator import SIGNIFICANT, Equation, equations
from tests.facts import EVERY_HOUSE, register_of, source_of

LEAST_SHARE = {"first": 0.70, "second": 0.80, "third": 0.80, "fourth": 0.78}
"""Least share of the numeric amounts of a house whose own value is the result of a sum in their working. The rest is read
off a mark, taken from the house, or found by trying (plugs, a gap between floods, a level in a tank)."""


TWICE_ROUNDED = 4
"""In US units a number is rounded to five digits, changed, and rounded again."""


def twice_rounded(name: str) -> int:
    """How often the digits printed may be off in a house."""
    return TWICE_ROUNDED if name == "second" or name.endswith(" us") else 1


def printed_as(name: str) -> Source:
    """The facts of a test house; `fourth us` is the fourth with US units."""
    source = source_of(name.split()[0])
    if name.endswith(" us"):
        data = {**source.data, "house": {**source.data["house"], "unit_style": "us"}}
        return Source(data, source.places, source.file)
    return source


def numeric(name: str) -> list[Amount]:
    found = [amount for amount in register_of(printed_as(name)).all() if amount.kind in ("number", "count")]
    assert len(found) >= 33
    return found


def holds(equation: Equation, most: int) -> bool:
    """Whether a sum is right, within so many times the digits printed."""
    return abs(equation.found - equation.stated) <= most * equation.slack


def reaches(amount: Amount, equation: Equation, most: int) -> bool:
    """Whether a sum ends at the amount: its exact value to the digits printed; a count up or down to a whole."""
    if amount.kind == "count":
        whole = (math.ceil(equation.stated - 1e-9), math.floor(equation.stated + 1e-9))
        return amount.exact in whole
    return any(
        equation.stated == pytest.approx(value, rel=most * 0.51 * 10 ** (1 - SIGNIFICANT))
        for value in (amount.exact, amount.value)
    )


@pytest.mark.parametrize("name", [*EVERY_HOUSE, "third us", "fourth us"])
def test_every_sum_of_every_working_is_right(name: str) -> None:
    wrong, sums = [], 0
    most = twice_rounded(name)
    for amount in numeric(name):
        for equation in equations(amount.working):
            sums += 1
            if not holds(equation, most):
                wrong.append(f"{amount.key}: {equation}")
    assert wrong == []
    assert sums >= 33


@pytest.mark.parametrize("name", EVERY_HOUSE)
def test_most_amounts_can_be_followed_with_a_pocket_calculator(name: str) -> None:
    reached: Counter[str] = Counter()
    most = twice_rounded(name)
    topics: Counter[str] = Counter()
    for amount in numeric(name):
        topics[amount.topic] += 1
        reached[amount.topic] += any(
            holds(equation, most) and reaches(amount, equation, most)
            for equation in equations(amount.working)
        )
    told = {topic: f"{reached[topic]} of {topics[topic]}" for topic in sorted(topics)}
    assert all(reached[topic] for topic in topics), told
    assert reached.total() >= LEAST_SHARE[name] * topics.total(), told


def test_a_wrong_digit_does_not_pass() -> None:
    """Each stated result moved by two in a thousand: no sum of the house may still hold."""
    moved = 0
    for amount in numeric("fourth"):
        for equation in equations(amount.working):
            off = Equation(equation.text, equation.found, equation.slack, equation.stated * 1.002)
            # A result that is the small difference of large numbers has few digits left to check.
            if equation.slack < 0.001 * abs(equation.stated):
                assert not off.holds, f"{amount.key}: {equation}"
                moved += 1
    assert moved >= 200


BY_HAND = {
    "2 x (0.8 x 0.4 + 2 x (0.8 + 0.4) x 0.09) = 1.072 m2": 1.072,
    "60 L x 1.1002 meq/L / 1.6732 eq/L = 39.452 mL in all": 39.452,
    "18 - 2 - 3 = 13": 13,
    "120 m³/h / 30 m³ = 4": 4,
    "a hole of: 2 x 3^2 = 18": 18,
    "ln(1) + exp(0) + root(16) = 5": 5,
    "8 / 2 / 2 = 2": 2,
    "CaCO3 at 0.05 m2 x 2 = 0.1": 0.1,
}
"""Worked by hand; divisions in a row are read from left to right."""


@pytest.mark.parametrize("text", BY_HAND)
def test_the_calculator_calculates_as_by_hand(text: str) -> None:
    (found,) = equations(text)
    assert found.found == pytest.approx(BY_HAND[text], rel=1e-4)
    assert found.holds


def test_a_piece_that_begins_with_an_operator_goes_on() -> None:
    one, two = equations("8 plants x 6 flowers a week = 48\nx 0.85 = 40.8 flowers")
    assert (one.found, two.found) == (48, pytest.approx(40.8))


@pytest.mark.parametrize(
    "text", ["5 2 + 1 = 8", "the jar takes 1 L", "(2 + 1 = 3", "10 = 10 L", "x 2 = 4", "1 / 0 = 3"]
)
def test_what_is_no_sum_is_not_calculated(text: str) -> None:
    assert list(equations(text)) == []
