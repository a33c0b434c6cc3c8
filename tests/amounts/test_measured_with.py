"""Every amount of water or of a batch names what measures it: marked tools of the right liquid, the tank's scale, or minutes of the tap."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from macros.amounts import Amount, compute_amounts
from macros.calculations.water import volumes
from macros.ground.units import convert
from macros.house import load_house
from macros.house.records.systems import SIZES
from tests.amounts.test_sanitizing import register_with
from tests.facts import EVERY_HOUSE, register_of, source_of
from tests.making import made_house, made_register

WATERS = (
    "batch_spray", "batch_soak", "batch_tool_dip", "water_for_batch", "loop_volume", "rinse_volume", "rinse_trays",
    "rinse_parts", "quench_water", "strip_sample", "strip_made_up",
)  # fmt: skip
TAP = re.compile(r"tap open (?:(\d+) min)?(?: ?(\d+) s)?")


@pytest.mark.parametrize("name", EVERY_HOUSE)
def test_each_names_a_thing_that_can_measure_it(name: str) -> None:
    register = register_of(source_of(name))
    tools = {tool.name: tool for tool in register.house.measuring_tools}
    for amount in (amount for id_ in WATERS for amount in register.of_id(id_)):
        if amount.tool.startswith("tap"):
            flow = register.house.water_source.flow_at_tap
            assert flow is not None
            minutes, seconds = (int(part or 0) for part in TAP.fullmatch(amount.tool).groups())  # type: ignore[union-attr]
            run = (minutes + seconds / 60) * flow.to("L/min")
            assert 0 <= run - litres(amount) <= 5 / 60 * flow.to("L/min") + 1e-6, amount.key
            continue
        owned = [tools[one] for one in amount.tools]
        assert owned, amount.key
        if amount.pours:
            assert sum(
                convert(pour.volume, pour.unit, amount.unit) for pour in amount.pours
            ) == pytest.approx(amount.rounded)
        elif "level" not in owned[0].for_:
            assert litres(amount) <= owned[0].capacity.to("L") * (1 + 1e-9), amount.key
        if amount.id == "water_for_batch":
            assert not any("sanitizer" in tool.for_ for tool in owned), amount.key


def litres(amount: Amount) -> float:
    return convert(amount.rounded, amount.unit, "L")


@pytest.mark.parametrize("name", EVERY_HOUSE)
def test_what_is_read_on_the_tank_scale_prints_the_litres_of_its_mark(name: str) -> None:
    """The litres between the mark and what is printed are less than one step of print."""
    register = register_of(source_of(name))
    found = 0
    for id_ in ("loop_volume", "rinse_volume", "water_for_batch", "heel_limit", "fill_first"):
        for amount in register.of_id(id_):
            mark = re.search(r" at ([\d.]+) (cm|in)$", amount.tool)
            if mark is None:
                continue
            tank = register.house.system(dict(amount.of)["system"]).reservoir
            sizes = [getattr(tank, size).to("m") for size in SIZES[tank.shape]]
            there = volumes.volume_to_height(
                volumes.solid(tank.shape, sizes), convert(float(mark[1]), mark[2], "m")
            )
            step = convert(amount.rounding.step or 0, amount.unit, "L")
            assert abs(litres(amount) - there) < step, amount.key
            found += 1
    assert found >= (2 if name == "first" else 5)


def test_without_a_measured_tap_water_is_counted_in_buckets(tmp_path: Path) -> None:
    """5 L of a bucket in one pour; 15 L in two, and 22.5 L in three; the rinses in all need a flow."""
    register = register_with(tmp_path, ('flow_at_tap: "8 L/min", ', ""))
    assert register.get("rinse_trays", system="K").tool == "bucket 10 L"
    assert register.get("rinse_parts", system="K").tool == "bucket 10 L: 10.0 + 5.0"
    assert (
        register.get("quench_water", system="K", task="parts_soak").tool == "bucket 10 L: 10.0 + 10.0 + 2.5"
    )


def test_at_the_tap_it_is_minutes(tmp_path: Path) -> None:
    """5 L at 8 L/min are 37.5 s, up to 40; 15 L are 1 min 52.5 s; 0.5 L are poured: too short to time."""
    register = register_with(tmp_path)
    assert register.get("rinse_trays", system="K").tool == "tap open 40 s"
    assert register.get("rinse_parts", system="K").tool == "tap open 1 min 55 s"
    assert register.get("quench_water", system="K", task="loop_circulate").tool == "water jug 1 L"
    # as minutes of the tap: 0.5 L are a part of one, 22.5 L at 8 L/min 2.8, up to 3
    assert register.get("quench_time", system="K", task="loop_circulate").printed == "1 min"
    assert register.get("quench_time", system="K", task="parts_soak").printed == "3 min"


def test_a_batch_that_may_go_down_as_it_is_asks_for_no_water(tmp_path: Path) -> None:
    """The loop holds 0.301 % w/v; from a limit of 0.5 % on nothing is poured, with a measured tap or without."""
    limit = ('dilute_peroxide_below: "0.3 % w/v"', 'dilute_peroxide_below: "0.5 % w/v"')
    for number, more in enumerate(((), (('flow_at_tap: "8 L/min", ', ""),))):
        register = register_with(tmp_path / str(number), limit, *more)
        water = register.get("quench_water", system="K", task="loop_circulate")
        assert (water.printed, water.tool) == ("0 L", "nothing to pour")


def test_e24_no_measure_for_the_water(tmp_path: Path) -> None:
    jug = 'name: "water jug 1 L", capacity: "1 L", mark: "20 mL", smallest_use: "100 mL", for: [water]'
    house, problems = load_house(
        made_house(tmp_path, (jug, jug.replace("[water]", "[nutrients]")), name="third")
    )
    assert house is not None, problems
    assert house.house.as_of is not None
    found = compute_amounts(house, house.house.as_of, house.house.place("as_of"))
    assert (
        "water_for_batch (K, tray_spray): Water first, tray spray: 0.74 L to measure: smallest usable tool is 'bucket 10 L' "
        "(from 2 L; half a mark is 0.25 L = 34% of the dose, limit 5%). Buy one with marks of 0.074 L or finer that holds "
        "1.5 L. [E24]"
    ) in [str(problem).partition(": ")[2] for problem in found.problems]


def test_a_house_that_rinses_nothing_is_given_no_count(tmp_path: Path) -> None:
    register = register_with(tmp_path, ("rinse: yes", "rinse: no"))
    for id_ in ("rinse_count", "rinse_count_trays", "rinse_count_parts", "rinse_total", "disposal_volume"):
        assert register.of_id(id_) == []
    parts = register_with(
        tmp_path / "b",
        (
            'wet_time: "10 min", batch_life: "4 h", rinse: yes',
            'wet_time: "10 min", batch_life: "4 h", rinse: no',
        ),
    )
    assert parts.of_id("rinse_count_trays") == []
    assert parts.get("rinse_total", system="K").exact == 120  # by hand: 2 x 15 + 3 x 30


def test_a_rinse_over_the_fill_mark_is_not_given(tmp_path: Path) -> None:
    """2 trays of 0.80 x 0.40 x 0.080 m and the tubes draw 51.7 L; with the pump's 10 L that is 61.7 of 60 L."""
    deep = (
        'flood_depth: "0.030 m",\n            overflow_head_allowed: "0.020 m", ',
        'flood_depth: "0.080 m",\n            ',
    )
    walls = ('wall_height: "0.09 m"', 'wall_height: "0.12 m"')
    register = register_with(tmp_path, deep, walls)
    assert register.of_id("rinse_volume") == []
    assert {problem.code for problem in register.problems} >= {"E11"}


def test_the_least_on_time_is_never_over_the_one_that_is_set(tmp_path: Path) -> None:
    """Trays full after some 2 min, set to 4 min: under our hold of 5 min, warned of; pages then tell one time."""
    house, _ = load_house(
        made_house(tmp_path, ('on_time_set: "8 min"', 'on_time_set: "4 min"'), name="fifth")
    )
    assert house is not None
    assert house.house.as_of is not None
    register = compute_amounts(house, house.house.as_of, house.house.place("as_of"))
    assert register.get("pump_on_time", system="K").printed == "4 min"
    assert [one.severity for one in register.problems if "on_time_set" in one.key] == ["warning"]


def test_what_one_jug_pours_is_told_in_its_marks() -> None:
    """141 fl oz are 1.1015625 gal, which no jug is marked in."""
    poured = register_of(source_of("second")).get("quench_water", system="N", task="tray_spray")
    assert (poured.printed, poured.tool) == ("141 fl oz", "water jug 32 fl oz: 4 x 32 + 13 fl oz")


def test_a_batch_is_measured_in_the_tools_of_the_sanitizer(tmp_path: Path) -> None:
    """A US house with a metric jug for bleach: its batch never stands in the jug for water."""
    tools = ('"bleach jug 32 fl oz", capacity: "32 fl_oz", mark: "1 fl_oz", smallest_use: "8 fl_oz"',
             '"bleach jug 1 L", capacity: "1 L", mark: "10 mL", smallest_use: "100 mL"')  # fmt: skip
    register = made_register(made_house(tmp_path, tools, name="second"))
    batch = register.get("batch_spray", system="N")
    assert batch.tools == ("bleach jug 1 L", "bleach cylinder 100 mL")
    assert batch.unit == "L"
