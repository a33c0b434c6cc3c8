"""The tables of SOP-09: outside the band only, from its edge to the end, each row ends in the band."""

from __future__ import annotations

from typing import Any

import pytest

from macros.amounts import Register
from tests.facts import register_of, source_of

HOUSES = ("first", "second", "third", "fourth", "fifth")
REGISTERS = {name: register_of(source_of(name)) for name in HOUSES}
TANKS = [(name, system.id) for name in HOUSES for system in REGISTERS[name].house.systems]


def rows(register: Register, id_: str, system: str) -> list[list[Any]]:
    return [row for amount in register.of_id(id_, system=system) for row in amount.exact["rows"]]


def row_of(table: list[list[Any]], read: float) -> list[Any]:
    """The row a person takes: that of the reading or the upper one of two."""
    falling = table[-1][0] < table[0][0]
    return [row for row in table if (row[0] >= read - 1e-9 if falling else row[0] <= read + 1e-9)][-1]


@pytest.mark.parametrize(("name", "system"), TANKS)
def test_every_ec_outside_the_band_has_a_row_that_ends_in_it(name: str, system: str) -> None:
    """Source of the sums: mass balance, the feed as a straight line of EC."""
    register = REGISTERS[name]
    house = register.house
    stage = house.nutrients.stages[house.system(system).fill_stage]
    low, target, high = (value.to("mS/cm") for value in (stage.ec_low, stage.ec_target, stage.ec_high))
    water = house.water_source.ec.to("mS/cm")
    for read, *_ in rows(register, "ec_raise", system):
        assert water - 1e-9 <= read < low
    for id_ in ("ec_dilute", "ec_swap"):
        for read, *_ in rows(register, id_, system):
            assert read > high
    for id_ in ("ec_raise", "ec_swap"):
        table = rows(register, id_, system)
        if not table:
            continue
        least, most = sorted((table[0][0], table[-1][0]))
        assert id_ != "ec_raise" or least == pytest.approx(water)
        assert id_ != "ec_swap" or most == pytest.approx(2 * target - water)
        for hundredth in range(round(least * 100), round(most * 100) + 1):
            read = min(max(hundredth / 100, least), most)
            row = row_of(table, read)[0]
            fed = read + target - row
            after = fed if id_ == "ec_raise" else read - (row - target) / (row - water) * (read - water)
            assert low <= after <= high, (id_, read, after)


def test_ec_tables_by_hand() -> None:
    """The fourth house, rack K: band 1.1 to 1.6, target 1.35, water 0.30, pen 0.01 mS/cm, 60 L, 1.5 mL/L, full feed 1.05.

    Worked by hand: at 1.09 (1.35 - 1.09) / 1.05 x 60 x 1.5 = 22.3 mL, at 0.30 90 mL; at 1.61 60 x 0.26 / 1.31 = 11.9 L.
    """
    raising = rows(REGISTERS["fourth"], "ec_raise", "K")
    assert [row[0] for row in raising] == [1.09, 1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3]
    assert raising[0][1:] == [22.0, 22.0]
    assert raising[-1][1:] == [90.0, 90.0]
    swapping = rows(REGISTERS["fourth"], "ec_swap", "K")
    assert [row[0] for row in swapping] == [1.61, 1.7, 1.8, 1.9, 2.0, 2.1, 2.2, 2.3, 2.4]
    assert (swapping[0][1], swapping[-1][1]) == (12.0, 30.0)


@pytest.mark.parametrize(("name", "system"), TANKS)
def test_ph_rows_leave_no_tenth_out_and_end_at_the_first_dose(name: str, system: str) -> None:
    register = REGISTERS[name]
    table = rows(register, "ph_next_dose", system)
    if not table:
        return
    high = register.house.nutrients.stages[register.house.system(system).fill_stage].ph_high
    reads = [row[0] for row in table]
    assert reads[0] > high
    assert all(0 < after - before <= 0.1 + 1e-9 for before, after in zip([high, *reads], reads, strict=False))
    first = register.of_id("ph_first_dose", system=system)[0].rounded
    doses = [dose or 0.0 for dose in (row[1] for row in table)]
    assert doses == sorted(doses)
    assert doses[-1] == first
    assert len(doses) == 1 or doses[-2] <= first
