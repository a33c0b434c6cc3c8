"""Sanitizing amounts of a house made for the test, worked by hand; refusals by their words; the whole round trip."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from macros.amounts import Register, compute_amounts
from macros.amounts.sanitizer import sanitizing, strength
from macros.amounts.water import flooding, reservoir
from macros.ground.problems import DataProblems, Place
from macros.ground.units import Quantity, Strength, convert
from macros.house import House, load_house
from tests.making import HOUSES, made_house, made_site


@cache
def third() -> House:
    house, problems = load_house(HOUSES / "third")
    assert problems == []
    assert house is not None
    return house


@cache
def register() -> Register:
    house = third()
    assert house.house.as_of is not None
    return compute_amounts(house, house.house.as_of, house.house.place("as_of"))


@pytest.mark.parametrize(
    ("id_", "of", "exact", "printed"),
    [
        # by hand: 10 % w/w x 10 x 1.035 g/mL = 103.5 g/L, opened on the day of use
        ("stock_strength_now", {"chemical": "perox"}, 103.5, "103.5 g/L"),
        # 2 x (0.80 x 0.40 + 2 x 1.20 x 0.09) = 1.072 m2, up to 0.05
        ("area_trays", {"system": "K"}, 1.072, "1.1 m²"),
        # 1.072 x 0.2 x 1.2 = 0.25728 L, up to 0.05
        ("batch_spray", {"system": "K", "task": "tray_spray"}, 0.25728, "0.3 L"),
        # 0.3 L x 30 / 103.5 = 86.957 mL, up to the 1 mL mark
        ("stock_for_batch", {"system": "K", "task": "tray_spray"}, 86.9565, "87 mL"),
        # 87/1000 x 103.5 / 0.3 = 30.015 g/L
        ("strength_made", {"system": "K", "task": "tray_spray"}, 3.0015, "3.002 % w/v"),
        # 100 x 0.06 / 0.6 - 100 x 0.006 = 9.4 L, up to 0.5
        ("batch_soak", {"system": "K", "task": "parts_soak"}, 9.4, "9.5 L"),
        # 9.5 x 10 / 103.5 = 917.87 mL, up to the 10 mL mark of the jug
        ("stock_for_batch", {"system": "K", "task": "parts_soak"}, 917.874, "920 mL"),
        # 2 x 9.6 + 0.5 = 19.7 L; (10 + 19.7) x 1.1 = 32.67 L, up to 0.5
        ("loop_volume", {"system": "K", "task": "loop_circulate"}, 32.67, "33 L"),
        # 1 x 30 / 103.5
        ("stock_for_batch", {"system": "K", "task": "tool_dip"}, 289.855, "290 mL"),
        # 87 + 920 + 290 + 960
        ("stock_total", {"system": "K", "chemical": "perox"}, 2257.0, "2260 mL"),
        # held 1.5 + 0.5 + 2 x 0.3 = 2.6 L; ln(3011/5)/ln(17.6/2.6) = 3.35
        ("rinse_count", {"system": "K"}, 4, "4 rinses"),
        # 9.5 x (1.00232/0.3 - 1) = 22.24 L, from the strength really made
        ("quench_water", {"system": "K", "task": "parts_soak"}, 22.240, "22.5 L"),
        # 40 - 19.7 - 10
        ("draw_margin_at_refill", {"system": "K"}, 10.3, "10.3 L"),
    ],
)  # fmt: skip
def test_worked_by_hand(id_: str, of: dict[str, str], exact: float, printed: str) -> None:
    amount = register().get(id_, **of)
    assert amount.exact == pytest.approx(exact, rel=1e-4)
    assert amount.printed == printed


def told(tmp_path: Path, *changes: tuple[str, str]) -> list[str]:
    with pytest.raises(DataProblems) as found:
        made_site(made_house(tmp_path, *changes, name="third"))
    return [str(problem) for problem in found.value.problems]


TARGET = 'tray_spray: {chemical: perox, target: "3.0 % w/v", ceiling: "4.0 % w/v"'


def test_e06_stock_too_weak_names_task_and_both_strengths(tmp_path: Path) -> None:
    lines = told(
        tmp_path,
        ('strength: "10 % w/w", density: "1.035 g/mL"', 'strength: "2 % w/w", density: "1.006 g/mL"'),
    )
    assert len(lines) == 2
    assert (
        "site_data/house.yml:81: sanitizing.tasks.tray_spray.target: task tray_spray wants 3.0 % w/v (30 g/L) but perox is now "
        "20.1 g/L after 0.0 months open. It cannot be made by diluting. Use new stock, or a lower target the label allows. "
        "[E06]"
    ) in lines


def test_e07_past_its_date(tmp_path: Path) -> None:
    lines = told(
        tmp_path,
        ("opened: 2031-05-01, expires: 2032-01-01", "opened: 2031-01-01, expires: 2031-04-20"),
    )
    assert set(lines) == {
        "site_data/house.yml:46: chemicals[perox].expires: perox expires 2031-04-20; it is used on 2031-05-01. No batch is made "
        "from it. Use new stock. [E07]"
    }


def test_e07_below_its_discard_fraction(tmp_path: Path) -> None:
    lines = told(tmp_path, ("opened: 2031-05-01, expires", "opened: 2029-01-01, expires"))
    assert any(
        "perox has lost more than its discard fraction of 0.85 allows. No batch is made from it." in x
        for x in lines
    )


def test_e08_over_the_ceiling_after_rounding(tmp_path: Path) -> None:
    lines = told(tmp_path, (TARGET, TARGET.replace("4.0", "3.0")))
    assert (
        "site_data/house.yml:81: sanitizing.tasks.tray_spray.ceiling: system K: after rounding up to the 1 mL mark the made "
        "strength of tray_spray is 3.0015 % w/v. The ceiling is 3.0 % w/v. Own a finer tool, or make a larger batch. [E08]"
    ) in lines


def test_e09_not_enough_stock(tmp_path: Path) -> None:
    lines = told(tmp_path, ("containers_in_stock: 4", "containers_in_stock: 2"))
    assert (
        "site_data/house.yml:46: chemicals[perox].containers_in_stock: a cleanout of system K needs 2.26 L of perox; on the "
        "shelf: 2 containers of 1 L. Stock is never short on the day. Buy 1 more before the day. [E09]"
    ) in lines


def test_e11_flood_too_big_gives_both_ways_out(tmp_path: Path) -> None:
    file = made_house(tmp_path, name="second") / "site_data" / "house.yml"
    file.write_text(file.read_text(encoding="utf-8").replace("staggered", "simultaneous"), encoding="utf-8")
    with pytest.raises(DataProblems) as found:
        made_site(file.parents[1])
    line = str(found.value.problems[0])
    assert "system N: 4 trays flood together and take 54.04 L; at the refill mark the tank holds" in line
    assert "Raise the refill mark to" in line
    assert "or set flood_order: staggered with one shelf at a time (14.22 L). [E11]" in line


def test_e16_part_not_listed_and_species_not_listed_and_treated_seed(tmp_path: Path) -> None:
    lines = told(
        tmp_path,
        ("botanical: Viola cornuta, part: flower", "botanical: Viola cornuta, part: leaf"),
        ("{botanical: Eruca vesicaria, parts: [leaf]}", "{botanical: Eruca sativa, parts: [leaf]}"),
        (
            'germination: 0.9, survival: 0.9, seed_treatment: untreated, spacing: "170 mm", look_alike_group: rosette',
            'germination: 0.9, survival: 0.9, seed_treatment: treated, spacing: "170 mm", look_alike_group: rosette',
        ),
    )
    text = "\n".join(lines)
    listed = "the edible_list checked by owner on 2031-01-10"
    assert f"viola is planned as Viola cornuta, part leaf. {listed} allows: flower." in text
    assert (
        f"rocket is planned as Eruca vesicaria, part leaf. Eruca vesicaria has no entry in {listed}." in text
    )
    assert (
        "seed of lettuce: seed_treatment treated. Treated seed is not sown for eating. Buy untreated seed. [E16]"
        in text
    )


def test_e17_look_alikes_on_one_shelf(tmp_path: Path) -> None:
    lines = told(tmp_path, ("cup_plates: [M-2-L]", "cup_plates: [M-1-R]"))
    assert (
        "rocket and lettuce share look_alike_group rosette and both stand on shelf M-1. Look-alikes stand on different "
        "shelves. Move one of them. [E17]"
    ) in lines[0]


def test_e18_too_many_plants(tmp_path: Path) -> None:
    lines = told(tmp_path, ("cup_plates: [M-2-L], plants: 4", "cup_plates: [M-2-L], plants: 5"))
    assert (
        "M-2-L: 5 lettuce at 170 mm. the 4 x 4 half takes 4. Plant fewer, or give them another half. [E18]"
        in lines[0]
    )


def test_e24_no_tool_for_the_stock(tmp_path: Path) -> None:
    lines = told(
        tmp_path,
        (
            '{name: "red cylinder 100 mL", capacity: "100 mL", mark: "1 mL", smallest_use: "20 mL"',
            '{name: "red cylinder 100 mL", capacity: "100 mL", mark: "10 mL", smallest_use: "20 mL"',
        ),
    )
    assert any(
        "87 mL to measure: smallest usable tool is 'red cylinder 100 mL'" in line and "[E24]" in line
        for line in lines
    )


def test_maps_hold_the_plan_and_keep_their_distance() -> None:
    for amount in register().all():
        if amount.id != "planting_map":
            continue
        holes = amount.exact["holes"]
        spacing = {v.id: v.spacing.to("mm") for v in third().varieties}
        for n, (row, column, name) in enumerate(holes):
            for other_row, other_column, other in holes[n + 1 :]:
                if other == name:
                    apart = ((row - other_row) ** 2 + (column - other_column) ** 2) ** 0.5 * amount.exact[
                        "pitch_mm"
                    ]
                    assert apart >= spacing[name] - 1e-6
    planned = {tuple(b.cup_plates): b.plants for b in third().crop_plan.blocks}  # type: ignore[union-attr]
    assert sum(planned.values()) == sum(
        len(a.exact["holes"]) for a in register().all() if a.id == "planting_map"
    )


# ------------------------------------------------------------------ the round trip


def changed_house(
    percent: float, density: float, target: float, dimensions: tuple[float, float], count: int
) -> House:
    """The third house with another stock, target and trays; records are copied, nothing is parsed again."""
    house = third()
    stock = house.chemical("perox").model_copy(
        update={
            "strength": Strength(percent, "w/w", f"{percent} % w/w"),
            "density": Quantity(density, "g/mL", f"{density} g/mL"),
            "containers_in_stock": 9000,
        }
    )
    assert house.sanitizing is not None
    tasks = {
        name: task.model_copy(
            update={
                "target": Strength(target, "w/v", f"{target} % w/v"),
                "ceiling": Strength(target * 1.5, "w/v", f"{target * 1.5} % w/v"),
            }
        )
        for name, task in house.sanitizing.tasks.items()
        if name != "loop_circulate"
    }
    systems = tuple(
        system.model_copy(
            update={
                "trays": system.trays.model_copy(
                    update={
                        "count": count,
                        "inside_length": Quantity(dimensions[0], "m", ""),
                        "inside_width": Quantity(dimensions[1], "m", ""),
                    }
                )
            }
        )
        for system in house.systems[:1]
    )
    chemicals = (stock, *(c for c in house.chemicals if c.id != "perox"))
    return house.model_copy(
        update={
            "chemicals": chemicals,
            "systems": systems,
            "sanitizing": house.sanitizing.model_copy(update={"tasks": tasks}),
        }
    )


def litres(printed: str) -> float:
    """What a person reads off the sheet, in litres."""
    match = re.fullmatch(r"([\d.]+) (mL|L)", printed)
    assert match, printed
    return convert(float(match.group(1)), match.group(2), "L")


@settings(max_examples=1000, deadline=None)
@given(
    st.floats(4, 49),
    st.floats(0.2, 3.5),
    st.tuples(st.floats(0.3, 2.5), st.floats(0.3, 1.5)),
    st.integers(1, 6),
    st.integers(0, 300),
)
def test_strength_made_again_from_what_is_printed(
    percent: float, target: float, dimensions: tuple[float, float], count: int, days: int
) -> None:
    """From stock, batch and the label alone: never under the target, never over the ceiling, as the sheet says."""
    density = (998.204 + 3.67286 * percent + 3.26622e-3 * percent**2 + 4.75395e-5 * percent**3) / 1000
    house = changed_house(percent, density, target, dimensions, count)
    found = Register(house, house.chemical("perox").opened, Place("x", 1), house.chemical("perox").opened)  # type: ignore[arg-type]
    for topic in (strength, reservoir, flooding, sanitizing):
        topic.fill(found)
    assert house.sanitizing is not None
    refused = {problem.code for problem in found.problems}
    assert refused <= {"E06", "E08", "E11", "E24"}
    for amount in found.all():
        if amount.id != "stock_for_batch" or "E08" in refused:
            continue
        of = dict(amount.of)
        volume_id = sanitizing.volume_id(house.sanitizing.tasks[of["task"]])
        stock, batch = litres(amount.printed), litres(found.get(volume_id, **of).printed)
        made = stock * percent * 10 * density / batch
        assert made >= target * 10 * (1 - 1e-6)
        assert made <= target * 15 * (1 + 1e-6)
        printed = found.get("strength_made", **of).printed
        assert float(printed.split()[0]) == pytest.approx(made / 10, abs=0.0006)
