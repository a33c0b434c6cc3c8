"""What the crop plan takes day by day against what is owned: counted by hand on a calendar, told by its words.

The fourth house sows viola on 2031-05-19, rocket and lettuce on 05-26, all planted on 06-10. Domes come off on 05-27,
05-30 and 05-29. Tray K-1 has 32 holes for 8 violas, M-1 and M-2 have 64 for 8 rocket and 4 lettuce. Last harvests:
rocket 07-09, lettuce 07-19, viola 08-27.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from macros.amounts import Register, compute_amounts
from macros.calculations.crop.occupancy import Stretch, Use, overbooked, stretches
from macros.ground.problems import RangeProblem
from macros.house import load_house
from tests.making import HOUSES, made_house, made_register

DAYS_OF_M = "{system: M, cleanout_day: 2031-04-30, planting_day: 2031-06-10}"
BUY = "Stock is never short on the day."
ALL = "(sheet 1, sheet 2, sheet 3)"


def told(folder: Path, old: str, new: str) -> list[str]:
    """What the amounts of the fourth house say after a change."""
    house, problems = load_house(made_house(folder, (old, new), name="fourth"))
    assert house is not None, problems
    assert house.house.as_of is not None
    register = compute_amounts(house, house.house.as_of, house.house.place("as_of"))
    return [str(problem) for problem in register.problems]


def owned(thing: str, count: int) -> tuple[str, str]:
    """The line of a thing in the inventory, and the same with another count."""
    text = (HOUSES / "fourth" / "site_data" / "house.yml").read_text(encoding="utf-8")
    (line,) = [line for line in text.splitlines() if f"{{thing: {thing}," in line]
    return line, f"{line.rpartition('count: ')[0]}count: {count}}}"


def at(begins: str) -> str:
    """The file of the house and the number of its one line that begins so."""
    text = (HOUSES / "fourth" / "site_data" / "house.yml").read_text(encoding="utf-8")
    (number,) = [number for number, line in enumerate(text.splitlines(), 1) if line.startswith(begins)]
    return f"site_data/house.yml:{number}"


CASES = {
    "nursery trays, one short": (
        ("nursery: {trays: 3}", "nursery: {trays: 2}"),
        f"{at('nursery:')}: nursery.trays: up to 3 nursery trays are in use at once from 2031-05-30 to 2031-06-09 "
        f"{ALL}, owned: 2. A tray holds one sheet of plugs. Give one rack other days under crop_plan.other_systems, or "
        "set up 1 more before 2031-05-30. [E34]",
    ),
    "nursery trays, two short over a longer time": (
        ("nursery: {trays: 3}", "nursery: {trays: 1}"),
        f"{at('nursery:')}: nursery.trays: up to 3 nursery trays are in use at once from 2031-05-29 to 2031-06-09 "
        f"{ALL}, owned: 1. A tray holds one sheet of plugs. Give one rack other days under crop_plan.other_systems, or "
        "set up 2 more before 2031-05-29. [E34]",
    ),
    "domes on the one day they overlap": (
        owned("dome", 2),
        f"{at('  - {thing: dome,')}: warning: inventory[1].count: up to 3 domes are in use at once on 2031-05-26 "
        f"{ALL}, owned: 2. {BUY} Have 1 more before 2031-05-26, or plan less. [W12]",
    ),
    "plug sheets are used up": (
        owned("plug sheet", 1),
        f"{at('  - {thing: plug sheet,')}: warning: inventory[0].count: up to 3 plug sheets are in use at once from 2031-05-26 to "
        f"2031-06-10 {ALL}, owned: 1. {BUY} Have 2 more before 2031-05-26, or plan less. [W12]",
    ),
    "cups of both racks": (
        owned("cups", 19),
        f"{at('  - {thing: cups,')}: warning: inventory[2].count: up to 20 cups are in use at once from 2031-06-10 to "
        f"2031-07-09 (system K, system M), owned: 19. {BUY} Have 1 more before 2031-06-10, or plan less. [W12]",
    ),
    "hole covers from planting": (
        owned("hole covers", 75),  # 32 - 8 + 64 - 12 = 76, and 84 once the rocket is gone
        f"{at('  - {thing: hole covers,')}: warning: inventory[3].count: up to 84 hole covers are in use at once from 2031-06-10 to "
        f"2031-07-19 (system K, system M), owned: 75. {BUY} Have 9 more before 2031-06-10, or plan less. [W12]",
    ),
    "hole covers once the first crop is gone": (
        owned("hole covers", 76),
        f"{at('  - {thing: hole covers,')}: warning: inventory[3].count: up to 84 hole covers are in use at once from 2031-07-10 to "
        f"2031-07-19 (system K, system M), owned: 76. {BUY} Have 8 more before 2031-07-10, or plan less. [W12]",
    ),
    "a rack replanted with no cleanout, on days of its own": (
        (DAYS_OF_M, "{system: M, planting_day: 2031-06-10}"),
        f"{at('  other_systems:')}: warning: crop_plan.other_systems[0].planting_day: system M is planted on 2031-06-10 and "
        "the plan has no cleanout of it before. A rack is cleaned out between two crops. Write its cleanout_day. [W12]",
    ),
    "a rack replanted with no cleanout, on the day of the plan": (
        (f"  other_systems: [{DAYS_OF_M}]\n", ""),
        f"{at('  planting_day:')}: warning: crop_plan.planting_day: system M is planted on 2031-06-10 and the plan has no "
        "cleanout of it before. A rack is cleaned out between two crops. Give system M its cleanout_day under "
        "crop_plan.other_systems. [W12]",
    ),
    "a rack planted before its cleanout": (
        (DAYS_OF_M, "{system: M, cleanout_day: 2031-06-11, planting_day: 2031-06-10}"),
        f"{at('  other_systems:')}: crop_plan.other_systems[0].planting_day: planting_day 2031-06-10 is before cleanout_day "
        "2031-06-11. Clean first, then plant. Mend one of the dates. [E20]",
    ),
    "domes nobody counted": (
        (owned("dome", 3)[0], "  - {thing: dome, kept_at: shelf}"),
        f"{at('  - {thing: dome,')}: measure this: inventory[1].count: how many domes the house has is not given; the plan "
        "takes 3 on 2031-05-26. Until then nobody is told when they run short. Count them and write it under inventory, as "
        "dome.",
    ),
    "a nursery nobody described": (
        ("nursery: {trays: 3}\n", ""),
        "site_data/house.yml:1: measure this: nursery: how many nursery trays the house has is not given; the plan takes 3 "
        "on 2031-05-30. Until then nobody is told when they run short. Count them and write it under nursery, as trays.",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=str)
def test_what_is_overbooked_is_told_with_days_and_counts(tmp_path: Path, case: str) -> None:
    (old, new), message = CASES[case]
    assert message in told(tmp_path, old, new)


def test_what_is_owned_to_the_piece_is_not_told(tmp_path: Path) -> None:
    """Exactly 84 covers, 20 cups, 3 sheets, domes and trays: nothing to say."""
    old, new = owned("hole covers", 84)
    assert told(tmp_path, old, new) == []


def test_a_rack_planted_a_fortnight_later_needs_fewer_trays(tmp_path: Path) -> None:
    """Rocket and lettuce sown on 06-09 reach the nursery on 06-13 and 06-12, after the violas left it on 06-10."""
    later = DAYS_OF_M.replace("2031-06-10", "2031-06-24")
    house = made_house(
        tmp_path, (DAYS_OF_M, later), ("nursery: {trays: 3}", "nursery: {trays: 2}"), name="fourth"
    )
    register = made_register(house)
    assert register.get("planting_day", system="M").value == "2031-06-24"
    assert register.get("sow_date", variety="rocket").value == "2031-06-09"
    assert trays(register) == [
        ["nursery trays", "2031-05-27", "2031-06-09", 1, 2],
        ["nursery trays", "2031-06-12", "2031-06-12", 1, 2],
        ["nursery trays", "2031-06-13", "2031-06-23", 2, 2],
    ]


def trays(register: Register) -> list[list[str | int]]:
    rows: list[list[str | int]] = register.get("plan_use").exact["rows"]
    return [row for row in rows if row[0] == "nursery trays"]


def test_days_that_have_passed_are_not_told(tmp_path: Path) -> None:
    """On 2031-06-09 the trays of that day are short, on 06-10 nobody can mend them any more."""
    house, _ = load_house(made_house(tmp_path, ("nursery: {trays: 3}", "nursery: {trays: 2}"), name="fourth"))
    assert house is not None
    place = house.house.place("as_of")
    last, after = (compute_amounts(house, date(2031, 6, day), place) for day in (9, 10))
    assert [p.code for p in last.problems if p.key == "nursery.trays"] == ["E34"]
    assert [p.code for p in after.problems if p.key == "nursery.trays"] == []


# ---------------------------------------------------------------- the counting


def june(day: int) -> date:
    return date(2031, 6, day)


def test_stretches_by_hand() -> None:
    """Two from the 1st to the 4th, three more from the 3rd to the 6th: 2, 5, 3."""
    uses = [Use(june(1), june(5), 2), Use(june(3), june(7), 3)]
    found = stretches(uses)
    assert found == [Stretch(june(1), june(2), 2), Stretch(june(3), june(4), 5), Stretch(june(5), june(6), 3)]
    assert overbooked(found, 2) == [Stretch(june(3), june(6), 5)]
    assert overbooked(found, 5) == []


def test_a_thing_given_back_may_be_taken_on_the_same_day() -> None:
    assert stretches([Use(june(1), june(3), 1), Use(june(3), june(5), 1)]) == [Stretch(june(1), june(4), 1)]


def test_days_without_a_use_part_two_runs() -> None:
    found = stretches([Use(june(1), june(2), 4), Use(june(8), june(9), 4)])
    assert overbooked(found, 3) == [Stretch(june(1), june(1), 4), Stretch(june(8), june(8), 4)]


def test_a_use_that_ends_before_it_begins_is_refused() -> None:
    with pytest.raises(RangeProblem, match="a use counts 0 or more and ends after it begins"):
        stretches([Use(june(2), june(1), 1)])
    with pytest.raises(RangeProblem, match="nobody owns less than 0"):
        overbooked([], -1)
