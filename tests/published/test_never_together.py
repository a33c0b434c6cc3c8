"""Never-together pairs and the names of substances."""

from __future__ import annotations

import itertools

import pytest

from macros.published.safety.cautions import catalogue
from macros.published.safety.conditions import parts_of
from macros.published.safety.pairs import HOUSE, HousePair, pair_rules, pairs_among
from macros.published.safety.substances import Handling, group_of, handling_of, substances_of


def ids(*items: Handling | str, house: tuple[HousePair, ...] = ()) -> set[str]:
    """The rules met among these things."""
    return {one.rule for one in pairs_among(items, house)}


@pytest.mark.parametrize("rule", pair_rules(), ids=lambda one: one.id)
def test_every_member_meets_every_member_of_the_other_side_in_either_order(rule) -> None:  # type: ignore[no-untyped-def]
    for first, second in itertools.product(sorted(rule.a), sorted(rule.b)):
        assert rule.id in ids(first, second)
        assert rule.id in ids(second, first)


def test_the_rules_are_those_of_the_catalogue() -> None:
    assert [one.id for one in pair_rules()] == [
        "PAIR-CL-ACID",
        "PAIR-CL-PEROXIDE",
        "PAIR-PEROXIDE-BASE",
        "PAIR-PEROXIDE-CATALYST",
        "PAIR-PEROXIDE-FUEL",
        "PAIR-PERACETIC-FUEL",
        "PAIR-PEROXIDE-ACETIC",
        "PAIR-PEROXIDE-MINERAL-ACID",
        "PAIR-CL-QUAT",
        "PAIR-UNKNOWN",
        "PAIR-CL-AMMONIA",
        "PAIR-ACID-BASE",
        "PAIR-NUTRIENT-AB",
    ]


def test_the_caution_of_a_pair_names_the_pair_in_its_trigger() -> None:
    for rule in pair_rules():
        caution = catalogue()[rule.caution]
        assert rule.id in [part.pair for part in parts_of(caution.trigger)]


def test_what_may_stand_together() -> None:
    assert ids("phosphoric_acid", "nitric_acid") == set()
    assert ids("hydrogen_peroxide", "hydrogen_peroxide") == set()
    assert ids("phosphoric_acid", "nutrient_concentrate") == set()


def test_a_strength_of_8_makes_fuel_a_pair() -> None:
    # limit "stock of 8 % and above"
    assert ids(Handling("hydrogen_peroxide", 8.0), "alcohol") == {"PAIR-PEROXIDE-FUEL"}
    assert ids(Handling("hydrogen_peroxide", 7.9), "alcohol") == set()
    assert ids(Handling("hydrogen_peroxide", None), "alcohol") == {"PAIR-PEROXIDE-FUEL"}


def test_one_product_at_two_strengths_is_no_pair() -> None:
    feed = [
        Handling(
            "nutrient_concentrate",
            percent,
            "one-part feed",
            also=("calcium_concentrate", "phosphate_concentrate"),
        )
        for percent in (None, 1.0)
    ]
    assert pairs_among(feed) == ()


def test_a_house_adds_pairs_and_removes_none() -> None:
    acid, feed = Handling("phosphoric_acid", 24, "pH-down"), Handling("nutrient_concentrate", name="feed")
    bleach = Handling("sodium_hypochlorite", 4, "bleach")
    added = HousePair(group_of("nutrients"), frozenset({"phosphoric_acid"}), "chemicals.yml:3")
    assert ids(acid, feed, house=(added,)) == {HOUSE}
    assert ids(feed, acid, house=(added,)) == {HOUSE}
    with_bleach = ids(acid, feed, bleach, house=(added,))
    assert with_bleach == {HOUSE, "PAIR-CL-ACID", "PAIR-CL-AMMONIA"}
    (met,) = pairs_among((acid, feed), (added,))
    assert str(met) == "pH-down with feed (chemicals.yml:3)"


@pytest.mark.parametrize(("active", "role", "name", "expected"), [
    ("hydrogen peroxide", "sanitizer", "", ("hydrogen_peroxide",)),
    ("Hydrogen-Peroxide", "", "", ("hydrogen_peroxide",)),
    ("phosphoric acid", "acid", "", ("phosphoric_acid", "ph_down")),
    ("potassium hydroxide", "base", "", ("potassium_hydroxide", "ph_up")),
    ("sodium hypochlorite", "sanitizer", "", ("sodium_hypochlorite",)),
    ("calcium hypochlorite", "", "", ("calcium_hypochlorite",)),
    ("hydrogen peroxide and peracetic acid", "", "", ("peracetic_acid",)),
    ("copper sulfate", "", "", ("copper_salt",)),
    ("formic acid", "acid", "", ("other_acid", "ph_down")),
    ("water glass", "base", "", ("other_base", "ph_up")),
    ("", "nutrient", "part 1 (calcium and iron)",
     ("nutrient_concentrate", "calcium_concentrate", "iron_salt")),
    ("", "nutrient", "part 3 (phosphate and sulfate)",
     ("nutrient_concentrate", "phosphate_concentrate", "sulfate_concentrate")),
    ("moon dust", "", "", ()),
])  # fmt: skip
def test_names(active: str, role: str, name: str, expected: tuple[str, ...]) -> None:
    assert substances_of(active, role, name) == expected


def test_a_chemical_of_a_house() -> None:
    acid = handling_of("formic acid", 60.0, "acid", "pH-down F", None)
    assert acid == Handling("other_acid", 60.0, "pH-down F", None, ("ph_down",))
    assert handling_of("moon dust", 1.0) is None
    assert ids(acid or "", "sodium_hypochlorite") == {"PAIR-CL-ACID"}


def test_wider_kinds_count_one_step_up() -> None:
    # vinegar is acetic acid; potassium silicate is a silicate but no feed with ammonium
    assert "acetic_acid" in Handling("vinegar").counts_as
    assert ids("potassium_silicate", "calcium_concentrate") == {"PAIR-NUTRIENT-AB"}
    assert ids("potassium_silicate", "sodium_hypochlorite") == set()


def test_a_word_that_is_no_group_means_nothing() -> None:
    assert group_of("acids") >= {"vinegar", "nitric_acid"}
    assert group_of("peroxide_stock") == frozenset()
