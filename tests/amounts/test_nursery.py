"""Recipes by the bucket: worked by hand on the fourth house with a stage `nursery` and a fine syringe for feed."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from macros.amounts import Register
from macros.ground.yaml_source import Source
from tests.facts import register_of, source_of

STAGE = {
    "rates": {"part_1": "0.6 mL/L", "part_2": "0.3 mL/L"}, "ec_target": "0.9 mS/cm", "ec_low": "0.7 mS/cm",
    "ec_high": "1.1 mS/cm", "ph_low": "5.6", "ph_target": "5.9", "ph_high": "6.3",
}  # fmt: skip
SYRINGE = {
    "name": "fine syringe 20 mL", "capacity": "20 mL", "mark": "0.5 mL", "smallest_use": "2 mL", "for": ["nutrients"],
}  # fmt: skip


def with_nursery(stage: dict[str, Any] = STAGE, batch: str = "12 L", tool: bool = True) -> Register:
    source = source_of("fourth")
    data = copy.deepcopy(source.data)
    data["nutrients"]["stages"]["nursery"] = copy.deepcopy(stage)
    data["nursery"] = {"trays": "2", "solution_batch": batch}
    if tool:
        data["measuring_tools"].append(copy.deepcopy(SYRINGE))
    return register_of(Source(data=data, places=source.places, file=source.file))


def rows(register: Register, id_: str) -> list[list[Any]]:
    found: list[list[Any]] = register.get(id_).exact["rows"]
    return found


def test_nursery_solution_by_hand() -> None:
    """Water 0.30, the rates add 0.6 x 0.40 + 0.3 x 0.30 = 0.33: the share to 0.90 is 0.60 / 0.33 = 1.818.

    1.09 and 0.545 mL a litre; for 12 L 13.09 and 6.55 mL, to the marks 13.0 and 6.5: EC 0.30 + (13 x 0.4 + 6.5 x 0.3)
    / 12 = 0.896.
    """
    register = with_nursery()
    assert rows(register, "nursery_recipe") == [
        ["part 1 (calcium)", 1.09, 13.0],
        ["part 2 (phosphate)", 0.55, 6.5],
    ]
    assert register.get("nursery_ec").exact == pytest.approx(0.30 + (13 * 0.4 + 6.5 * 0.3) / 12)
    assert "for 12 L" in str(register.get("nursery_recipe").exact["columns"])


def test_nursery_solution_never_misses_its_band() -> None:
    """Whatever the rates of the stage, and the batch: 0.5 of leafy and 0.5 of nursery rates gave two ECs."""
    for low, rates in (
        (1, ("0.6 mL/L", "0.3 mL/L")),
        (2, ("1.5 mL/L", "1.5 mL/L")),
        (3, ("0.1 mL/L", "0.1 mL/L")),
    ):
        for batch in ("10 L", "12 L", "20 L"):
            stage = {**STAGE, "rates": dict(zip(("part_1", "part_2"), rates, strict=True))}
            ec = with_nursery(stage, batch).get("nursery_ec").exact
            assert 0.7 <= ec <= 1.1, (low, batch)


def test_plug_water_is_half_of_the_acid_and_no_feed() -> None:
    """10 % w/w x 1.0543 = 105.43 g/L / 63.01 g/mol = 1.673 mol/L. By the pencil form (no activities) water of 80 mg/L,
    pH 7.4, to 5.9 takes 80 / 50 x (1 - 0.262 / 0.918) = 1.143 meq/L, 0.683 mL/L: half is 0.34, for 12 L 4.1 mL."""
    ((what, ec, litre, poured),) = rows(with_nursery(), "plug_water_recipe")
    assert what == "tap water and pH-down, nitric acid, no feed"
    assert ec == 0.30
    assert litre == pytest.approx(0.34, rel=0.05)
    assert poured == 4.0


def test_what_cannot_be_mixed_is_told() -> None:
    told = [str(p) for p in with_nursery({**STAGE, "ec_target": "0.3 mS/cm", "ec_low": "0.2 mS/cm"}).problems]
    assert "the tap water reads 0.3 mS/cm already, the nursery solution is to read 0.3 mS/cm" in " ".join(
        told
    )
    coarse = with_nursery(tool=False)
    reason = next(reason for (id_, _), reason in coarse.withheld.items() if id_ == "nursery_recipe")
    assert reason.text == (
        "no measure for feed takes the 13.1 mL, 6.55 mL that 12 L of nursery solution take. Mix more at once "
        "(nursery.solution_batch) or own a finer measure"
    )
