"""Six months of each stock: orders worked by hand, what is told, and the reorder point of what is dipped and cleaned with."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.amounts import NotFound, Register, compute_amounts
from macros.calculations.labour.stock import Order, orders
from macros.ground.problems import RangeProblem
from macros.house import load_house
from tests.making import HOUSES, made_house, made_register

EVERY = 'tool_dip_every: "30 day"'
STOCK = 'containers_in_stock: 4, price_per_container: "8.00 EUR"'


def register_of(folder: Path, *changes: tuple[str, str]) -> Register:
    house, problems = load_house(made_house(folder, *changes, name="fourth"))
    assert house is not None, problems
    assert house.house.as_of is not None
    return compute_amounts(house, house.house.as_of, house.house.place("as_of"))


@pytest.mark.parametrize(
    ("held", "takes", "container", "lead", "good", "expected"),
    [
        (10, [4, 4, 4, 4], 5, 1, None, [Order(1, 2, 1), Order(2, 3, 1)]),  # 2 left, 4 wanted; then 3 left
        (10, [4, 4, 4, 0], 20, 3, None, [Order(-1, 2, 1)]),  # too late by a day
        (10, [0, 4, 12], 5, 0, None, [Order(2, 2, 2)]),  # 6 left, 6 short: two containers of 5
        (10, [4, 4, 4], 5, 0, 0, [Order(1, 1, 1), Order(2, 2, 1)]),  # 6 are past their day; 1 left of the new
        (12, [4, 4, 4], 5, 0, None, []),  # to the last drop
        (0, [0, 0], 5, 0, None, []),
    ],
)
def test_orders_by_hand(
    held: float, takes: list[float], container: float, lead: int, good: int | None, expected: list[Order]
) -> None:
    assert orders(held, takes, container, lead, good) == expected


@pytest.mark.parametrize("wrong", [(-1, [1], 5, 0), (1, [-1], 5, 0), (1, [1], 0, 0), (1, [1], 5, -1)])
def test_orders_refuse_what_is_no_stock(wrong: tuple[float, list[float], float, int]) -> None:
    with pytest.raises(RangeProblem, match="stock, use and lead time are 0 or more"):
        orders(*wrong)


def test_a_daily_dip_empties_a_bottle_and_is_told(tmp_path: Path) -> None:
    """1.0 L at 30 g/L takes 30 / 103.5 = 0.2899 L of stock; the fourth dip of a litre, on 05-04, is 1.16 L."""
    register = register_of(
        tmp_path, (EVERY, 'tool_dip_every: "1 day"'), (STOCK, STOCK.replace("stock: 4", "stock: 1"))
    )
    assert (
        "site_data/house.yml:48: warning: chemicals[perox].containers_in_stock: peroxide, food-contact grade is short on "
        "2031-05-04: 1.16 L are taken from 2031-05-01 to then, 1 L are held. Stock is never short on the day. Order 1 "
        "container today. [W13]"
    ) in [str(problem) for problem in register.problems]
    assert "a fresh tool dip every day" not in " ".join(
        register.get("stock_forecast", chemical="perox").assumed
    )


def test_a_dip_nobody_timed_is_counted_every_day(tmp_path: Path) -> None:
    register = register_of(tmp_path, (f", {EVERY}", ""))
    assumed = register.get("stock_forecast", chemical="perox").assumed
    assert "a fresh tool dip every day; set supplies.tool_dip_every (our own default)" in assumed


def test_a_cleanout_of_the_plan_is_told_long_before(tmp_path: Path) -> None:
    """Three bottles hold 3 L; the dips of 05-01 and 05-31 take 0.58 L, the cleanout of 06-09 more than the rest."""
    register = register_of(tmp_path, (STOCK, STOCK.replace("stock: 4", "stock: 3")))
    cleanout = register.get("stock_total", system="K", chemical="perox").exact
    assert 3000 - 2 * 289.9 < cleanout < 4000 - 2 * 289.9
    (line,) = [str(problem) for problem in register.problems if problem.code == "W13"]
    assert "is short on 2031-06-09" in line
    assert line.endswith("Order 1 container by 2031-05-27. [W13]")  # 10 days x 1.25 = 13 days before


def test_feed_lasts_as_its_reorder_point_says() -> None:
    """19.14 mL a day of part 1 in both racks (239.25 / 12.5) take 3.5 L of 10 L: nothing to order."""
    register = made_register(HOUSES / "fourth")
    found = register.get("stock_forecast", part="part_1")
    assert found.exact["rows"] == []
    assert found.working.splitlines()[1] == "six months take 3.5026 L; held 10 L"


def test_the_reorder_point_of_a_sanitizer_holds_a_cleanout(tmp_path: Path) -> None:
    """A dip of 289.86 mL each day for 10 days x 1.25, and the greatest cleanout."""
    register = register_of(tmp_path, (EVERY, 'tool_dip_every: "1 day"'))
    most = max(amount.exact for amount in register.of_id("stock_total", chemical="perox"))
    assert register.get("reorder_point", chemical="perox").exact == pytest.approx(
        30 / 103.5 * 1000 * 12.5 + most
    )


def test_what_has_no_use_that_comes_back_is_not_forecast() -> None:
    with pytest.raises(
        NotFound, match="pH-up, potassium hydroxide has no use that comes back; count it every week"
    ):
        made_register(HOUSES / "fourth").get("stock_forecast", chemical="up")


def test_stock_nobody_counted_is_asked_for(tmp_path: Path) -> None:
    part = '{id: part_1, name: "part 1 (calcium)", container: "5.0 L", containers_in_stock: 2'
    register = register_of(tmp_path, (part, part.replace(", containers_in_stock: 2", "")))
    assert (
        "site_data/house.yml:59: measure this: nutrients.parts[part_1].containers_in_stock: how many containers of part 1 "
        "(calcium) are in stock is not given. Until then nobody is told when it runs short. Count them and write it."
    ) in [str(problem) for problem in register.problems]
    assert register.get("stock_forecast", part="part_1").exact["rows"][0][1] == "2031-05-01"
