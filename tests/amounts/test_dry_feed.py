"""Dry feed: weighed in grams on the house's own scale, wherever a liquid part would be poured. Sums by hand."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from macros.amounts import Register, compute_amounts
from macros.house import load_house
from tests.house.test_sanitizers import told
from tests.making import made_house, made_register

BAG = (
    'name: "part 1 (calcium)", container: "{}", containers_in_stock: 2, price_per_container: "25.00 EUR", {}'
)
BOTTLE = BAG.format("5.0 L", 'ec_per_ml_per_l: "0.40 mS/cm"')
DRY = BAG.format("1 kg", 'ec_per_g_per_l: "1.1 mS/cm"')
LIQUID_RATE, DRY_RATE = '{part_1: "1.5 mL/L", part_2: "1.5 mL/L"}', '{part_1: "0.5 g/L", part_2: "1.5 mL/L"}'
METERS = "meters:\n"
SCALE = 'scales: [{name: "powder scale", capacity: "100 g", mark: "0.1 g"}]\nmeters:\n'
MIXED = ((BOTTLE, DRY), (LIQUID_RATE, DRY_RATE), (METERS, SCALE))
"""Changes of the fifth house: one part dry, the other liquid."""


@pytest.fixture(scope="module")
def mixed(tmp_path_factory: pytest.TempPathFactory) -> Register:
    """The fifth house with one part dry; its tank holds 50 x 40 x 30 cm, 60 L."""
    return made_register(made_house(tmp_path_factory.mktemp("mixed"), *MIXED, name="fifth"))


def test_a_full_dose_is_weighed_and_the_liquid_beside_it_poured(mixed: Register) -> None:
    dry, liquid = (mixed.get("dose_full", part=part) for part in ("part_1", "part_2"))
    assert (dry.printed, dry.tool, dry.exact_unit) == ("30.0 g", "powder scale", "g")  # 60 L x 0.5 g/L
    assert (liquid.printed, liquid.tool) == ("90 mL", "cylinder 100 mL")
    assert dry.working == "60 L x 0.5 g/L = 30 g"


def test_tables_weigh_the_dry_part_and_pour_the_other(mixed: Register) -> None:
    table = mixed.get("topup_table").exact
    assert [one["unit"] for one in table["columns"]] == ["L", "g", "mL", "g", "mL"]
    assert [20.0, 5.0, None, 10.0, 30.0] in [
        [*row[:2], None, *row[3:]] for row in table["rows"]
    ]  # half, then full
    raised = mixed.get("ec_raise").exact
    assert [one["unit"] for one in raised["columns"]] == ["mS/cm", "g", "mL"]
    read, grams, _ = raised["rows"][1]
    # 1.35 mS/cm is the target; a full dose adds 0.5 x 1.1 + 1.5 x 0.3 = 1.0 mS/cm; rounded down to the mark of 0.1 g
    assert grams == pytest.approx(math.floor(30 * (1.35 - read) / 1.0 * 10 + 1e-6) / 10)


def test_a_bag_is_ordered_by_its_weight(mixed: Register) -> None:
    order = mixed.get("reorder_point", part="part_1")
    assert order.unit == "g"
    lasts = re.search(
        r"\) g/day x 10 days x 1.25 = .* g\na container of 1000 g lasts ([\d.]+) days", order.working
    )
    assert lasts is not None
    assert order.exact == pytest.approx(1000 / float(lasts[1]) * 10 * 1.25, rel=0.01)
    forecast = mixed.get("stock_forecast", part="part_1")
    assert "held 2 kg" in forecast.working


def test_a_us_house_weighs_in_grams_a_gallon(tmp_path: Path) -> None:
    house = made_house(
        tmp_path,
        ('ec_per_ml_per_l: "0.42 mS/cm"', 'ec_per_g_per_l: "1.1 mS/cm"'),
        ('ec_per_ml_per_l: "0.33 mS/cm"', 'ec_per_g_per_l: "0.9 mS/cm"'),
        ('{grow_a: "5 mL/gal", grow_b: "5 mL/gal"}', '{grow_a: "2 g/gal", grow_b: "1.6 g/gal"}'),
        (METERS, SCALE),
        name="second",
    )
    dose = made_register(house).get("dose_full", system="N", part="grow_a")
    ounces = made_register(
        made_house(
            tmp_path / "ounces",
            ('ec_per_ml_per_l: "0.42 mS/cm"', 'ec_per_g_per_l: "1.1 mS/cm"'),
            ('{grow_a: "5 mL/gal", grow_b: "5 mL/gal"}', '{grow_a: "2 g/gal", grow_b: "5 mL/gal"}'),
            (METERS, SCALE.replace("100 g", "5 lb").replace("0.1 g", "0.05 oz_wt")),
            name="second",
        )
    ).get("dose_full", system="N", part="grow_a")
    assert ounces.printed == "1.75 oz"  # 49.37 g are 1.741 oz
    assert ounces.working.endswith("x 2 g/gal = 1.7414 oz")
    gallons = math.pi / 4 * 22**2 * 15 / 231  # a round tank of 22 in, filled to 15 in
    assert dose.exact == pytest.approx(gallons * 2)
    assert dose.printed == "49.4 g"
    assert re.fullmatch(r"24\.68\d? gal x 2 g/gal = 49\.3\d+ g", dose.working)


REFUSED = [
    (
        ((LIQUID_RATE, DRY_RATE), (METERS, SCALE)),
        [
            '44: nutrients.parts[part_1].ec_per_ml_per_l: part_1 is dry feed, weighed by its rate, and ec_per_ml_per_l is that of the '
            "other kind. ec_per_g_per_l goes with it. Stir 1 g into 1 L of your water and write the EC it adds as ec_per_g_per_l.",
            '44: nutrients.parts[part_1].container: "5.0 L" is a volume, and part 1 (calcium) is dry feed. A bag is told by its weight. '
            'Write it as "1 kg" or "2 lb".',
        ],
    ),
    (
        ((BOTTLE, DRY), (LIQUID_RATE, DRY_RATE)),
        [
            "44: nutrients.parts[part_1].id: part 1 (calcium) is dry feed, and the house has no scale. A powder is weighed in grams, "
            'never measured in mL. Write one under scales, with its capacity and its mark, as "0.1 g". [E24]'
        ],
    ),
    (
        ((BOTTLE, DRY), (LIQUID_RATE, DRY_RATE.replace("0.5 g/L", "50 g/L")), (METERS, SCALE)),
        [
            '47: nutrients.stages.leafy.rates.part_1: "50 g/L" of leafy is no rate of a dry feed. Above 0 to 5 g/L. Copy it from the '
            "label."
        ],
    ),
    (
        ((LIQUID_RATE, LIQUID_RATE.replace("1.5 mL/L", "0.6 lb/us_gal", 1)),),
        [
            '47: nutrients.stages.leafy.rates.part_1: "0.6 lb/us_gal" is a density, not a mass of dry feed a volume of water. Allowed is a '
            'mass of dry feed a volume of water in g/L or g/us_gal. Write it as for example "0.6 g/L". [E01]'
        ],
    ),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "messages"), REFUSED)
def test_what_does_not_go_with_dry_feed(
    tmp_path: Path, changes: tuple[tuple[str, str], ...], messages: list[str]
) -> None:
    assert told(made_house(tmp_path, *changes, name="fifth")) == messages


def test_a_dose_of_many_fillings_gives_one_warning(tmp_path: Path) -> None:
    """90 mL of each part with 7 mL at a time are 13 fillings."""
    tool = '"cylinder 100 mL", capacity: "100 mL", mark: "1 mL", smallest_use: "20 mL"'
    small = '"syringe 7 mL", capacity: "7 mL", mark: "0.5 mL", smallest_use: "2 mL"'
    told_ = [
        str(one)
        for one in made_register(made_house(tmp_path, (tool, small), name="fifth")).problems
        if one.severity == "warning" and "part_1" in one.key
    ]
    assert len(told_) == 1
    assert told_[0].endswith(
        "Full dose, part 1 (calcium): 90 mL take 13 fillings of 'syringe 7 mL'. Over 10 are easily miscounted (our own choice). "
        "Buy a cylinder or jug that holds 9 mL or more, with marks of 9 mL or finer."
    )


def test_a_scale_too_coarse_is_refused_with_the_cure(tmp_path: Path) -> None:
    changes = ((BOTTLE, DRY), (LIQUID_RATE, DRY_RATE), (METERS, SCALE.replace("0.1 g", "5 g")))
    house, _ = load_house(made_house(tmp_path, *changes, name="fifth"))
    assert house is not None
    assert house.house.as_of is not None
    found = [
        str(one) for one in compute_amounts(house, house.house.as_of, house.house.place("as_of")).problems
    ]
    assert any(
        "Full dose, part 1 (calcium): 30 g to measure: smallest usable tool is 'powder scale' (from 5 g; half a mark is 2.5 g = 8% "
        "of the dose, limit 5%). Buy one with marks of 3 g or finer that holds 60 g, or dissolve it once into a stock and write "
        "its rate in mL of that. [E24]" in one
        for one in found
    ), found
