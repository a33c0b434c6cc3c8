"""A rack planted on several days: every set has its own days, what rests on all of them takes the safe side."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

from macros.amounts import Register, compute_amounts
from macros.house import load_house
from macros.site.site import Site
from tests.making import made_house, made_register, made_site

LETTUCE = "    - {variety: lettuce, cup_plates: [M-2-L], plants: 4}\n"
SETS = (
    f"{LETTUCE}    - {{variety: rocket, cup_plates: [M-1-R], plants: 6, planting_day: 2031-06-24}}\n"
    "    - {variety: viola, cup_plates: [K-2-L], plants: 4, planting_day: 2031-06-17}\n"
)
"""Racks K and M are planted on Tuesday 2031-06-10; the house sows on Mondays."""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    trays = ("nursery: {trays: 3}", "nursery: {trays: 4}")
    return made_site(made_house(tmp_path_factory.mktemp("sets"), (LETTUCE, SETS), trays, name="fourth"))


@pytest.fixture(scope="module")
def register(site: Site) -> Register:
    return site.register


def text(source: str) -> str:
    return unescape(re.sub(r"\s+", " ", re.sub("<[^>]*>", " ", source)))


@pytest.mark.parametrize(
    ("id_", "days"),
    [
        (
            "sow_date",
            ["2031-05-26", "2031-06-09"],
        ),  # 15 days before each planting day: 12 to 19, nearest the middle
        ("dome_off", ["2031-05-29", "2031-06-13"]),  # with lettuce after 3 days; alone after its own 4
        ("window_opens", ["2031-06-07", "2031-06-21"]),
        ("window_closes", ["2031-06-14", "2031-06-28"]),
        ("harvest_first", ["2031-06-27", "2031-07-11"]),  # 30 days, promised 2 later
        ("harvest_last", ["2031-07-09", "2031-07-23"]),
    ],
)
def test_each_set_has_its_days(tmp_path: Path, id_: str, days: list[str]) -> None:
    layout = ("  sheet_2: [rocket]\n  sheet_3: [lettuce]", "  sheet_2: [rocket, lettuce]")
    register = made_register(
        made_house(tmp_path, (LETTUCE, SETS), layout, ("look_alike_group: rosette}\n  - {id: lettuce", "look_alike_group: none}\n  - {id: lettuce"), name="fourth")
    )  # fmt: skip
    assert [amount.value for amount in register.of_id(id_, variety="rocket")] == days
    assert {"planting": "2031-06-24", "variety": "rocket"} in [dict(a.of) for a in register.of_id(id_)]
    assert register.get(id_, variety="lettuce").of == (("variety", "lettuce"),)  # one day needs no name


def test_what_rests_on_several_days_takes_the_safe_side_and_says_so(register: Register) -> None:
    """M: 14 rocket at 50 mL, 4 lettuce at 60 mL, 0.2 L from open water. Violas: the smaller set of 8 and 4, 6 flowers, 0.85."""
    young = register.get("water_use_day", system="M", growth_stage="young")
    assert young.exact == pytest.approx(14 * 0.050 + 4 * 0.060 + 0.2)
    assert young.assumed[0].endswith("stand at several sizes: each plant counts as full-grown")
    flowers = register.get("expected_harvest", variety="viola")
    assert flowers.exact == pytest.approx(4 * 6 * 0.85)
    assert (
        "its 2 sets are picked at different times: the smallest, 4 plants, is counted on" in flowers.assumed
    )
    first = register.get("planting_day", system="M")
    assert first.value == "2031-06-10"
    assert (
        first.working
        == "the first day counts, on which the clean rack is planted; later sets: 6 rocket on 2031-06-24"
    )


def test_weeks_and_things_count_each_set_on_its_days(register: Register) -> None:
    """Rocket: 60 g a plant over 14 days, 0.85 of it. The first set is picked to 07-09, the second from 07-11: 6 and 3 days of
    the week of 07-07 with 8 and 6 plants."""
    rows = {row[0]: row[2] for row in register.get("promise_weeks").exact["rows"]}
    a_day = 60 / 14 * 0.85
    assert rows["2031-07-07"] == sum(int(n * a_day * days / 10) * 10 for n, days in ((8, 3), (6, 3)))
    cups = [row[1:4] for row in register.get("plan_use").exact["rows"] if row[0] == "cups"]
    assert cups[:3] == [
        ["2031-06-10", "2031-06-16", 20],
        ["2031-06-17", "2031-06-23", 24],
        ["2031-06-24", "2031-07-09", 30],
    ]


def test_pages_and_calendar_tell_each_set(site: Site) -> None:
    replant, sets = (text(site.pages[f"p/sop-{name}-m.md"]) for name in ("13", "14"))
    assert "2031-06-10 for the plan in hand. Later sets by SOP-14: 6 rocket on 2031-06-24." in replant
    assert "Tray M-1: 8 rocket; 6 rocket planted 2031-06-24" in replant
    assert "Place the cups by the map, later sets left out." in replant
    assert "M-1-R, from 24 Jun" in replant
    assert "as the map, without sets of a later day" in replant
    assert "On the planting day of a later set: 6 rocket on 2031-06-24. Its plugs are the spare" in sets
    sown = text(site.pages["p/sop-11.md"])
    assert "rocket planted 2031-06-24 2031-06-09 one of its own 12 plugs" in sown
    calendar = text(site.pages["reference/calendar.md"])
    assert "Replant system M (8 rocket, 4 lettuce) M SOP-13-M" in calendar
    assert "2031-06-24 Tuesday Plant the next set of system M: 6 rocket M SOP-14-M" in calendar
    assert "First harvest promised: rocket planted 2031-06-24" in calendar
    reckoner = text(site.pages["reckon/reckoner-m.md"])
    assert "Not here, for it is planted in several sets: rocket. Look at the crop plan." in reckoner
    plain = text(site.pages["p/sop-18.md"])
    assert "rocket planted 2031-06-10 2031-06-27 2031-07-09" in plain
    assert "lettuce 2031-07-07 2031-07-19" in plain


def test_a_set_before_the_first_day_is_refused(tmp_path: Path) -> None:
    early = SETS.replace("2031-06-24", "2031-06-03")
    house, problems = load_house(made_house(tmp_path, (LETTUCE, early), name="fourth"))
    assert house is not None, problems
    assert house.house.as_of is not None
    register = compute_amounts(house, house.house.as_of, house.house.place("as_of"))
    found = [str(one).partition(": ")[2] for one in register.problems if "E20" in str(one)]
    assert found == [
        "crop_plan.blocks[3].planting_day: rocket is planted on 2031-06-03, before 2031-06-10, the planting day of its system. "
        "planting_day of a system is its first. Write 2031-06-03 as planting_day of system M and 2031-06-10 at its other "
        "blocks. [E20]"
    ]
