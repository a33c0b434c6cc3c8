"""The house log: response to acid and water use worked by hand, wrong rows by file, line and words, what it changes."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.amounts import NotFound, Register, compute_amounts
from macros.house import load_house
from tests.making import made_house, made_site

HEADER = (
    "date,time,system,level_cm,added_L,ec_mS_cm,ph,acid_mL,acid_chemical,ph_after,temperature_C,by,note\n"
)
ROWS = (
    "2031-03-01,10:00,K,30.0,,1.35,6.9,18.0,down,6.4,18,helper,change\n"  # 18 / 60 / 0.5 = 0.6
    "2031-03-06,08:00,K,25.0,10.0,1.40,6.4,,,,18,helper,top-up\n"
    "2031-03-10,10:00,K,30.0,,1.35,6.8,12.0,down,6.4,18,helper,change\n"  # 12 / 60 / 0.4 = 0.5
    "2031-03-20,08:00,K,25.0,10.0,1.40,6.4,,,,18,helper,top-up\n"
    "2031-03-21,10:00,K,30.0,,1.35,6.8,16.8,down,6.4,18,helper,change\n"  # 16.8 / 60 / 0.4 = 0.7
)


def logged(folder: Path, rows: str, name: str = "first") -> tuple[Register | None, list[str]]:
    house_folder = made_house(folder, name=name)
    (house_folder / "site_data" / "log").mkdir()
    (house_folder / "site_data" / "log" / "k.csv").write_text(HEADER + rows, encoding="utf-8")
    house, problems = load_house(house_folder)
    if house is None or house.house.as_of is None:
        return None, [str(problem) for problem in problems]
    return compute_amounts(house, house.house.as_of, house.house.place("as_of")), [str(p) for p in problems]


def test_response_to_acid_is_the_middle_reading(tmp_path: Path) -> None:
    """By hand: 0.6, 0.5 and 0.7 mL/L for a pH unit; the middle is 0.6. Half x 60 x 0.6 x (6.7 - 6.0) = 12.6 mL."""
    register, problems = logged(tmp_path, ROWS)
    assert problems == []
    assert register is not None
    amount = register.get("ph_log_response", system="K")
    assert amount.exact == pytest.approx(0.6)
    assert "no house log" not in " ".join(amount.assumed)
    rows = dict(register.get("ph_next_dose", system="K").value["rows"])
    assert rows[6.7] == min(12.5, register.get("ph_first_dose", system="K").rounded)


def test_two_readings_are_not_enough(tmp_path: Path) -> None:
    register, _ = logged(tmp_path, "".join(ROWS.splitlines(keepends=True)[:3]))
    assert register is not None
    assert "no house log of three readings yet" in " ".join(
        register.get("ph_log_response", system="K").assumed
    )


def test_water_use_counts_from_a_full_tank(tmp_path: Path) -> None:
    """By hand: 10 L in 5 days and 10 L in 10 days: 20 / 15 L a day."""
    register, _ = logged(tmp_path, ROWS)
    assert register is not None
    assert register.get("water_use_logged", system="K").exact == pytest.approx(20 / 15)


def test_water_use_of_the_log_beats_the_plan_and_says_so(tmp_path: Path) -> None:
    register, _ = logged(tmp_path, ROWS, name="fourth")
    assert register is not None
    days = register.get("days_to_topup", system="K", growth_stage="full")
    assert "the log says 1.3333 L/day, the plan 0.68 L/day: the log is taken" in days.working
    assert any(
        "the log of system K shows 1.33 L/day, the plan 0.68 L/day" in p.what for p in register.problems
    )


def test_a_house_without_a_log_has_no_logged_use(tmp_path: Path) -> None:
    register, _ = logged(tmp_path, "")
    assert register is not None
    with pytest.raises(NotFound, match="no log of system K"):
        register.get("water_use_logged", system="K")


WRONG = {
    "decimal comma": (
        "2031-03-01,10:00,K,30,0,,1.35,6.9,18.0,down,6.4,18,helper,change\n",
        "site_data/log/k.csv:2: log.row: the row has 14 values, the header 13 columns. A decimal comma splits a value in two: "
        "write 30.0 in level_cm, and leave blanks empty.",
    ),
    "decimal comma in quotes": (
        '2031-03-01,10:00,K,"30,0",,1.35,6.9,18.0,down,6.4,18,helper,change\n',
        'site_data/log/k.csv:2: log.level_cm: "30,0" has a decimal comma. Write 30.0.',
    ),
    "no date": (
        "1.3.2031,10:00,K,30,,1.35,6.9,,,,18,helper,change\n",
        'site_data/log/k.csv:2: log[0].date: "1.3.2031" is not a date. Year, month, day: 2026-04-14. Write it so.',
    ),
    "unknown system": (
        "2031-03-01,10:00,Z,30,,1.35,6.9,,,,18,helper,change\n",
        "site_data/log/k.csv:2: log[0].system: Z is no system of the house. There are K. Mend it.",
    ),
    "unknown stock": (
        "2031-03-01,10:00,K,30,,1.35,6.9,18,vinegar,6.4,18,helper,change\n",
        "site_data/log/k.csv:2: log[0].acid_chemical: vinegar is no stock of the house. There are down, up. Mend it.",
    ),
    "acid raised pH": (
        "2031-03-01,10:00,K,30,,1.35,6.4,18,down,6.9,18,helper,change\n",
        "site_data/log/k.csv:2: log[0].ph_after: pH 6.4 before acid and 6.9 after it. Acid lowers pH. Look at the row: pens, "
        "columns, or pH-up by mistake.",
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_wrong_row_is_named(tmp_path: Path, name: str) -> None:
    rows, message = WRONG[name]
    _, problems = logged(tmp_path, rows)
    assert message in [
        problem.replace(" [E01]", "") if name == "no date" else problem for problem in problems
    ]


def test_unknown_column_is_named(tmp_path: Path) -> None:
    folder = made_house(tmp_path)
    (folder / "site_data" / "log").mkdir()
    (folder / "site_data" / "log" / "k.csv").write_text("date,system,salt\n", encoding="utf-8")
    _, problems = load_house(folder)
    assert str(problems[0]).startswith(
        "site_data/log/k.csv:1: log.header: salt is no column of a log. Columns: date, time,"
    )


def test_log_page_shows_what_the_log_changed(tmp_path: Path) -> None:
    folder = made_house(tmp_path)
    (folder / "site_data" / "log").mkdir()
    (folder / "site_data" / "log" / "k.csv").write_text(HEADER + ROWS, encoding="utf-8")
    page = made_site(folder).pages["reference/log.md"]
    assert page.count("<svg") == 4
    assert "0.6" in page
    assert "2031-03-21" in page


STRIP_HEADER = "date,system,level_cm,strip_mg_L\n"
STRIP_ROWS = "2031-03-01,K,30.0,2\n2031-03-11,K,30.0,\n2031-03-21,K,30.0,10\n"


def strip_log(folder: Path, rows: str, name: str = "fourth") -> Path:
    house = made_house(folder, name=name)
    (house / "site_data" / "log").mkdir()
    (house / "site_data" / "log" / "k.csv").write_text(STRIP_HEADER + rows, encoding="utf-8")
    return house


def test_strip_readings_are_drawn_against_the_limit_of_the_house(tmp_path: Path) -> None:
    """Readings 2 and 10, limit 5: of 140 units of height from 160 up to 20 the limit stands 3/8 up, at 107.5."""
    page = made_site(strip_log(tmp_path, STRIP_ROWS)).pages["reference/log.md"]
    assert (
        "Strip reading, tank K: 2 readings from 2031-03-01 to 2031-03-21, 2 to 10 mg/L; 5 mg/L allowed"
        in page
    )
    assert 'points="60.0,160.0 620.0,20.0 "' in page
    assert page.count('class="log-limit"') == 1
    assert 'y1="107.5" x2="620" y2="107.5"' in page


def test_a_limit_over_all_readings_still_stands_in_the_drawing(tmp_path: Path) -> None:
    page = made_site(strip_log(tmp_path, STRIP_ROWS.replace(",10\n", ",3\n"))).pages["reference/log.md"]
    assert 'y1="20.0" x2="620" y2="20.0"' in page


def test_no_limit_no_line(tmp_path: Path) -> None:
    page = made_site(strip_log(tmp_path, STRIP_ROWS, "first")).pages["reference/log.md"]
    assert "Strip reading" in page
    assert "log-limit" not in page


@pytest.mark.parametrize("reading", ["-1", "20000"])
def test_a_strip_reading_no_strip_shows_is_refused(tmp_path: Path, reading: str) -> None:
    house = strip_log(tmp_path, f"2031-03-01,K,30.0,{reading}\n")
    assert [str(problem) for problem in load_house(house)[1]] == [
        f'site_data/log/k.csv:2: log[0].strip_reading: "{reading} mg/L" is no strip reading of a small grow room. 0 to 2000 '
        "mg/L. Look at the unit and the decimal point."
    ]


def test_no_log_no_page(tmp_path: Path) -> None:
    assert "reference/log.md" not in made_site(made_house(tmp_path)).pages


FL_OZ = "".join(
    row.replace(",18.0,down", ",532.3,down")
    .replace(",12.0,down", ",354.9,down")
    .replace(",16.8,down", ",496.8,down")
    for row in ROWS.splitlines(keepends=True)
)
"""The same rows with 18, 12 and 16.8 taken for fluid ounces of 29.5735 mL."""


def test_acid_in_the_wrong_unit_is_refused_by_its_row_and_drives_no_dose(tmp_path: Path) -> None:
    """By hand: 532.3 mL / 60 L / 0.5 = 17.74 mL/L; the water asks for 1.1002 / 1.6732 / 1.4 = 0.4697: 38 times as much."""
    register, _ = logged(tmp_path, FL_OZ)
    assert register is not None
    told = [str(problem) for problem in register.problems if "of acid took" in str(problem)]
    assert len(told) == 3
    assert told[0] == (
        "site_data/log/k.csv:2: log[0].acid: 532.3 mL of acid took pH from 6.9 to 6.4: 38 times as much as the alkalinity of "
        "the water asks for. A tank answers within 5 times of that sum; the row drives no dose. Look at the unit of its "
        "column, mL or fl oz, and at pH before and after; mend the row, or empty its acid."
    )
    answer = register.get("ph_log_response", system="K")
    assert answer.exact == pytest.approx(0.4697, abs=0.0005)
    assert not any(item.name.startswith("log") for item in answer.inputs)


def test_one_odd_row_is_a_warning_and_the_others_are_used(tmp_path: Path) -> None:
    """By hand: 180 / 60 / 0.5 = 6.0 mL/L, 12.8 times the sum: 5 to 15 times is told, and left out of the middle of four."""
    odd = "2031-02-01,10:00,K,30.0,,1.35,6.9,180.0,down,6.4,18,helper,change\n"
    register, _ = logged(tmp_path, odd + ROWS)
    assert register is not None
    told = [problem for problem in register.problems if "of acid took" in str(problem)]
    assert [(one.severity, one.place.line) for one in told] == [("warning", 2)]
    assert register.get("ph_log_response", system="K").exact == pytest.approx(0.6)


def test_more_water_than_the_tank_holds_is_refused_by_its_row(tmp_path: Path) -> None:
    register, _ = logged(tmp_path, ROWS + "2031-03-25,08:00,K,25.0,100.0,1.40,6.4,,,,18,helper,top-up\n")
    assert register is not None
    assert [str(one) for one in register.problems if "were added" in str(one)] == [
        "site_data/log/k.csv:7: log[5].added: 100.0 L were added to tank K. Brim-full it holds 80 L. Look at the unit of the "
        "column, L or gal, and mend the row."
    ]
