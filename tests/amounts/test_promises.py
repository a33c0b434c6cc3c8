"""What may be promised by week, and how long a rack may stand: sums by hand on the fourth house."""

from __future__ import annotations

from datetime import date

import pytest

from macros.calculations.crop.promises import days_within, plants_for, sow_by
from macros.ground.problems import RangeProblem
from tests.making import HOUSES, made_register


def test_weeks_by_hand() -> None:
    """Viola: 8 x 6 / 7 x 0.85 = 5.829 a day from Sunday 07-20 to Wednesday 08-27. Rocket: 8 x 60 g / 14 x 0.85 = 29.14 g a
    day from Friday 06-27 to Wednesday 07-09.
    """
    found = made_register(HOUSES / "fourth").get("promise_weeks")
    rows = {
        row[0]: dict(zip(("viola", "rocket", "lettuce"), row[1:], strict=True)) for row in found.exact["rows"]
    }
    heads = [(column["name"], column["unit"]) for column in found.exact["columns"]]
    assert heads[:3] == [("week from Monday", ""), ("viola", "flowers"), ("rocket", "g")]
    assert next(iter(rows)) == "2031-04-28"
    assert rows["2031-04-28"] == {"viola": 0, "rocket": 0, "lettuce": 0}
    assert [rows[f"2031-{day}"]["rocket"] for day in ("06-23", "06-30", "07-07", "07-14")] == [80, 200, 80, 0]
    assert [rows[f"2031-{day}"]["viola"] for day in ("07-07", "07-14", "07-21", "08-25")] == [0, 5, 40, 17]
    assert list(rows)[-1] == "2031-08-25"


def test_a_rack_stands_longest_in_the_dark() -> None:
    """Viola: 60 mL / (14 h + 0.2 x 10 h) = 3.75 mL/h. Young 15 mL x 0.7 / 3.75 = 2.8 h, half 27.5: 5.13 h, full 40: 7.47 h;
    in the dark five times that, 24 h at most.
    """
    found = made_register(HOUSES / "fourth").get("stand_hours", system="K")
    assert found.exact["rows"] == [
        ["young plug", "viola", 2.5, 14.0],
        ["half-grown", "viola", 5.0, 24.0],
        ["full-grown", "viola", 7.0, 24.0],
    ]
    assert "water use is from memory, not measured: act at half this time" in found.assumed


def test_days_two_stretches_share() -> None:
    june = [date(2031, 6, day) for day in range(1, 31)]
    assert days_within((june[0], june[9]), (june[9], june[20])) == 1
    assert days_within((june[0], june[9]), (june[10], june[20])) == 0
    assert days_within((june[5], june[6]), (june[0], june[20])) == 2


def test_an_order_by_hand() -> None:
    """40 flowers of 20 a plant and week, picked over 4 days, 0.85 promised: 40 / (20 x 4 / 7 x 0.85) = 4.12, 5 plants.

    Wanted on Saturday 2026-06-06, first harvest after 55 days, 2 held back, picks of 4 days: 60 days before is
    Tuesday 04-07, the Wednesday before 04-01.
    """
    assert plants_for(40, 20, 4, 0.85) == 5
    assert sow_by(date(2026, 6, 6), 55, 2, 4, "Wednesday") == date(2026, 4, 1)
    assert sow_by(date(2026, 6, 6), 55, 2, 4, "Tuesday") == date(2026, 4, 7)


@pytest.mark.parametrize("wrong", [(0, 20, 4, 0.85), (40, 0, 4, 0.85), (40, 20, 8, 0.85), (40, 20, 4, 1.2)])
def test_no_order_of_nothing(wrong: tuple[float, float, int, float]) -> None:
    with pytest.raises(RangeProblem, match="an order and a yield are above 0"):
        plants_for(*wrong)


def test_no_weekday_of_another_name() -> None:
    with pytest.raises(RangeProblem, match="a weekday has a name"):
        sow_by(date(2026, 6, 6), 55, 2, 4, "Someday")
