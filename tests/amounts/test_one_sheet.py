"""One sheet, one dome: the warmth that suits all on it, and one day on which it comes off."""

from __future__ import annotations

import copy

import pytest

from macros.amounts import Register
from macros.ground.yaml_source import Source
from tests.facts import register_of, source_of


def sheet(mat: str = "", **own: dict[str, str]) -> Register:
    """Rocket and lettuce of the fourth house on one sheet, no look-alikes, sown on one day; with facts of their own."""
    source = source_of("fourth")
    data = copy.deepcopy(source.data)
    data["sow_layout"] = {"sheet_1": ["viola"], "sheet_2": ["rocket", "lettuce"]}
    if mat:
        data["germination"]["heat_mat_setpoint"] = mat
    for variety in data["varieties"]:
        variety["look_alike_group"] = "none"
        variety.update(own.get(variety["id"], {}))
    return register_of(Source(data=data, places=source.places, file=source.file))


def told(register: Register) -> list[str]:
    before = {str(problem) for problem in sheet().problems}
    return [str(problem) for problem in register.problems if str(problem) not in before]


def test_the_dome_comes_off_for_the_first_under_it() -> None:
    """Rocket 4 days, lettuce 3, both sown on Monday 2031-05-26 or each on its own Monday: the earlier date is of both."""
    register = sheet()
    sown = {name: register.get("sow_date", variety=name).printed for name in ("rocket", "lettuce")}
    assert sown == {"rocket": "2031-05-26", "lettuce": "2031-05-26"}
    assert register.get("dome_off", variety="lettuce").printed == "2031-05-29"
    assert register.get("dome_off", variety="rocket").printed == "2031-05-29"
    assert register.get("dome_off", variety="viola").printed == "2031-05-27"


def test_a_variety_uncovered_before_it_is_up_is_told() -> None:
    (line,) = told(sheet(rocket={"germination_days": "4"}))
    assert line.endswith(
        "sow_layout.sheet_2: the dome of sheet_2 comes off after 3 days, and rocket is up after 4. One dome covers a sheet, "
        "and comes off for the first variety under it. Give rocket a sheet of its own."
    )
    assert told(sheet(rocket={"germination_days": "3"})) == []


def test_warmth_is_what_all_bear() -> None:
    """18 and 20 degC, 2 K either way: 18 to 20 suits both. 18 and 22 have 20 alone."""
    both = sheet(
        rocket={"germination_temperature": "18 degC"}, lettuce={"germination_temperature": "20 degC"}
    )
    assert both.get("sheet_warmth", sheet="sheet_2").printed == "18 to 20 °C"
    edge = sheet(
        rocket={"germination_temperature": "18 degC"}, lettuce={"germination_temperature": "22 degC"}
    )
    assert edge.get("sheet_warmth", sheet="sheet_2").exact["low"] == pytest.approx(20)
    assert told(edge) == []


def test_no_common_warmth_is_told_with_the_split() -> None:
    register = sheet(
        rocket={"germination_temperature": "18 degC"}, lettuce={"germination_temperature": "23 degC"}
    )
    (line,) = told(register)
    assert line.endswith(
        "sow_layout.sheet_2: sheet_2 has no warmth that suits all: rocket 18 degC, lettuce 23 degC. Under one dome there is one "
        "warmth, 2 K either way. Split it: rocket / lettuce."
    )
    assert register.of_id("sheet_warmth", sheet="sheet_2") == []


def test_a_mat_set_outside_the_warmth_of_a_sheet_is_told() -> None:
    (line,) = told(sheet("22 degC", rocket={"germination_temperature": "18 degC"}))
    assert line.endswith(
        "germination.heat_mat_setpoint: the heat mat is set to 22 degC, and sheet_2 wants 16 to 20 degC. A mat too warm or too "
        "cold costs seedlings. Leave heat_mat_setpoint out: then the page sends people to the warmth of the sheet."
    )
    assert told(sheet("20 degC", rocket={"germination_temperature": "18 degC"})) == []
