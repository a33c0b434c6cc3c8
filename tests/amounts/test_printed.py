"""What is printed never crosses the safe side of what was worked out, and pours come to what is printed: every house."""

from __future__ import annotations

import re
from collections import Counter
from datetime import date
from typing import Any

import pytest

from macros.amounts import Amount
from macros.amounts.engine.pours import HALF_MARK_LIMIT
from macros.calculations.pours import MOST_POURS
from macros.ground.units import convert
from tests.amounts.test_other_units import in_the_other_print
from tests.facts import EVERY_HOUSE, register_of, source_of, with_texts

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
TURNED = ("second in metric", "fourth in US units")
HOUSES = (*EVERY_HOUSE, *TURNED)


@pytest.fixture(scope="module")
def amounts() -> dict[str, list[Amount]]:
    """Every amount of every test house, and of two of them written and printed in the other system."""
    found = {name: register_of(source_of(name)).all() for name in EVERY_HOUSE}
    for turned in TURNED:
        found[turned] = register_of(in_the_other_print(source_of(turned.split()[0]))).all()
    return found


def shown(amount: Amount) -> float:
    """The number a person reads; of a strength from weakest to strongest stock the strongest."""
    match = NUMBER.match(amount.figures[-1] if amount.figures else amount.printed)
    assert match is not None, amount.printed
    return float(match.group())


@pytest.mark.quick
def test_printed_numbers_keep_to_their_safe_side(amounts: dict[str, list[Amount]]) -> None:
    seen: Counter[str] = Counter()
    for house, found in amounts.items():
        for amount in found:
            if amount.kind not in ("number", "count"):
                continue
            direction, step = amount.rounding.direction, amount.rounding.step
            where = f"{house}: {amount.key} {amount.value!r} {direction} to {amount.printed}"
            assert step is not None, where
            assert shown(amount) == pytest.approx(amount.rounded, abs=1e-12), where
            dust = 2e-9 * max(step, abs(amount.value))
            off = shown(amount) - amount.value
            if direction == "up":
                assert off >= -dust, where
            elif direction == "down":
                assert off <= dust, where
            else:
                assert direction == "nearest", where
            # A plan of pours may stop a little further off, for it keeps to marks and smallest uses.
            most = step / 2 if direction == "nearest" else step
            assert abs(off) <= most + dust or amount.pours, where
            seen[direction] += 1
    assert seen["up"] >= 400
    assert seen["down"] >= 120
    assert seen["nearest"] >= 100


def test_printed_days_and_lives_are_never_later(amounts: dict[str, list[Amount]]) -> None:
    dates = lives = 0
    for found in amounts.values():
        for amount in found:
            if amount.rounding.direction != "earlier":
                continue
            if amount.kind == "date":
                assert date.fromisoformat(amount.printed) <= date.fromisoformat(amount.exact), amount.key
                dates += 1
            elif amount.kind == "clock":
                assert amount.exact_unit == "min"
                assert 60 * shown(amount) <= amount.exact + 1e-6, amount.key
                assert 60 * shown(amount) > amount.exact - 5 - 1e-6, amount.key
                lives += 1
    assert dates >= 20
    assert lives >= 20


def test_printed_bands_lie_inside_the_band(amounts: dict[str, list[Amount]]) -> None:
    bands = 0
    for found in amounts.values():
        for amount in found:
            if amount.kind == "band":
                ends = [float(text) for text in NUMBER.findall(amount.printed)]
                assert ends[0] >= amount.value["low"] - 1e-9, amount.key
                assert ends[-1] <= amount.value["high"] + 1e-9, amount.key
                assert ends[0] <= ends[-1]
                bands += 1
    assert bands >= 30


def test_pours_come_to_what_is_printed(amounts: dict[str, list[Amount]]) -> None:
    poured = 0
    for house, found in amounts.items():
        tools = {tool.name: tool for tool in register_tools(house)}
        for amount in found:
            if not amount.pours:
                continue
            where = f"{house}: {amount.key} {amount.printed} as {amount.pours}"
            poured_in_all = sum(convert(pour.volume, pour.unit, amount.unit) for pour in amount.pours)
            assert poured_in_all == pytest.approx(amount.rounded, rel=1e-9), where
            assert shown(amount) == pytest.approx(amount.rounded, rel=1e-9), where
            assert len(amount.pours) <= MOST_POURS, where
            for pour in amount.pours:
                tool = tools[pour.tool]
                mark = tool.mark.to(pour.unit)
                assert pour.volume <= tool.capacity.to(pour.unit) * (1 + 1e-9), where
                assert pour.volume >= tool.smallest_use.to(pour.unit) * (1 - 1e-9), where
                assert pour.volume / mark == pytest.approx(round(pour.volume / mark), abs=1e-6), where
                groups = ("acids", "bases") if "acids_bases" in tool.for_ else tool.for_
                share = max(HALF_MARK_LIMIT[group] for group in groups)
                assert convert(mark, pour.unit, amount.unit) / 2 <= share * max(
                    amount.value, amount.rounded
                ) * (1 + 1e-6), where
            poured += 1
    assert poured >= 60


def register_tools(house: str) -> tuple[Any, ...]:
    source = source_of(house.split()[0])
    if house in TURNED:
        source = in_the_other_print(source)
    return tuple(register_of(source).house.measuring_tools)


def test_a_band_is_printed_as_the_house_set_it() -> None:
    """1.15 is neither 1.1 nor 1.2: a tank at 1.13 would pass the first, and a good one at 1.17 fail the second."""
    source = source_of("fourth")
    stage = ("nutrients", "stages", "leafy")
    fine = with_texts(
        source,
        {(*stage, "ec_low"): "1.15 mS/cm", (*stage, "ec_high"): "1.55 mS/cm", (*stage, "ph_low"): "5.65"},
    )
    register = register_of(fine)
    assert register.get("ec_band", system="K").printed == "1.15 to 1.55 mS/cm"
    assert register.get("ph_band", system="K").printed == "5.65 to 6.5"
    pads = ("test_strips", 0, "pads")
    low = with_texts(fine, {(*pads, 4): "600.5 mg/L"})
    assert register_of(low).get("strip_band", system="K", task="tool_dip").printed == "600.5 mg/L"
