"""EC and pH over the last days of the log: drifts worked by hand, doses left out, and what tells nothing."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from macros.amounts import NotFound, Register, compute_amounts
from macros.calculations.water.trend import Visit, drift
from macros.ground.problems import RangeProblem
from macros.house import load_house
from macros.published.amounts.trends import trends
from macros.reference.house_log import log_text
from tests.making import made_house

HEADER = "date,system,ec_mS_cm,ph,acid_mL,acid_chemical,ph_after,note\n"
RISING = (
    "2031-04-20,K,0.90,5.0,,,,\n"
    "2031-04-25,K,1.25,6.4,,,,change\n"
    "2031-04-26,K,1.30,5.9,,,,\n"
    "2031-04-28,K,1.36,6.2,4,down,5.9,\n"
    "2031-04-30,K,1.45,6.2,,,,\n"
)


def logged(folder: Path, rows: str, header: str = HEADER) -> Register:
    """The fourth house on 2031-05-01 with this log of rack K."""
    house_folder = made_house(folder, name="fourth")
    (house_folder / "site_data" / "log").mkdir()
    (house_folder / "site_data" / "log" / "k.csv").write_text(header + rows, encoding="utf-8")
    house, problems = load_house(house_folder)
    assert house is not None, problems
    assert house.house.as_of is not None
    return compute_amounts(house, house.house.as_of, house.house.place("as_of"))


def row(register: Register, name: str) -> list[str | float]:
    found: list[list[str | float]] = register.get(f"trend_{name}", system="K").exact["rows"]
    return found[0]


def test_a_dose_is_left_out_of_the_drift(tmp_path: Path) -> None:
    """From the change: pH 6.4 to 5.9 is -0.5, 5.9 to 6.2 is +0.3, 5.9 after the dose to 6.2 is +0.3: +0.1 in 5 days is no
    more than the pen reads off. Without the row of the change +0.6 in 4 days: 0.15 a day, and 6.5 is 2 days off.
    """
    register = logged(tmp_path / "all", RISING)
    assert row(register, "ph")[1] == "steady"
    later = logged(tmp_path / "later", RISING.replace("2031-04-25,K,1.25,6.4,", "2031-04-25,K,1.25,,"))
    assert row(later, "ph")[:6] == ["pH", "rising", 0.15, "2031-04-26", "2031-04-30", "in 2 days"]
    assert row(later, "ph")[6:] == [trends().ph.rising.means, trends().ph.rising.next]


def test_feed_is_left_out_of_the_drift(tmp_path: Path) -> None:
    """1.30 to 1.40 found, 1.30 left by a top-up, 1.40 found again: +0.2 in 5 days, 0.04 a day; 1.6 less 1.40 is 5 days of it."""
    rows = "2031-04-25,K,1.30,,\n2031-04-27,K,1.40,1.30,\n2031-04-30,K,1.40,,\n"
    register = logged(tmp_path, rows, "date,system,ec_mS_cm,ec_after_mS_cm,note\n")
    assert row(register, "ec")[:6] == ["EC", "rising", 0.04, "2031-04-25", "2031-04-30", "in 5 days"]


def test_ec_rising_since_the_change(tmp_path: Path) -> None:
    """1.25 to 1.45 in 5 days is 0.04 a day; 1.6 less 1.45 is 3.75 days of it, told as 3. The 0.90 before the change is out."""
    register = logged(tmp_path, RISING)
    assert row(register, "ec")[:6] == ["EC", "rising", 0.04, "2031-04-25", "2031-04-30", "in 3 days"]
    text = log_text(register)
    assert text is not None
    assert trends().ec.rising.next in text.replace("\u00a0", " ")


def test_falling_and_outside(tmp_path: Path) -> None:
    register = logged(tmp_path, "2031-04-27,K,1.30,,,,,\n2031-04-28,K,1.15,,,,,\n2031-04-29,K,1.00,,,,,\n")
    assert row(register, "ec")[:6] == ["EC", "falling", -0.15, "2031-04-27", "2031-04-29", "is outside now"]


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        ("2031-04-20,K,1.3,,,,,\n2031-04-21,K,1.3,,,,,\n2031-04-22,K,1.3,,,,,\n", "the last EC in the log of system K is 9 days old; over 7 days it tells nothing of today"),
        ("2031-04-29,K,1.3,,,,,\n2031-04-30,K,1.3,,,,,\n", "2 readings of EC in the log of system K lie in the 7 days to 2031-04-30 and after the last change; 3 are needed"),
        ("2031-04-30,K,1.3,,,,,\n2031-04-30,K,1.3,,,,,\n2031-04-30,K,1.3,,,,,\n", "3 are needed, on two days at least"),
        ("2031-04-30,K,,6.0,,,,\n", "there is no EC in the log of system K since the last change"),
    ],
)  # fmt: skip
def test_what_tells_no_trend(tmp_path: Path, rows: str, why: str) -> None:
    with pytest.raises(NotFound, match=why):
        logged(tmp_path, rows).get("trend_ec", system="K")


def test_a_drift_by_hand() -> None:
    visits = [
        Visit(date(2031, 4, 1), 6.0, 6.0),
        Visit(date(2031, 4, 3), 6.4, 6.0),
        Visit(date(2031, 4, 5), 6.2, 6.2),
    ]
    moved, days = drift(visits)
    assert moved == pytest.approx(0.6)
    assert days == 4


def test_one_day_tells_no_drift() -> None:
    with pytest.raises(RangeProblem, match="a drift needs readings of two days"):
        drift([Visit(date(2031, 4, 1), 6.0, 6.0), Visit(date(2031, 4, 1), 6.1, 6.1)])
