"""Tables of poisons and of food: each whole as it was read, and no way of writing a name leads round a poison."""

from __future__ import annotations

from collections import Counter

import pytest

from macros.ground.yaml_source import read_yaml
from macros.published import published
from macros.published.index.topics import all_published_problems
from macros.published.safety.edible import Edible, PlantRules, edibility, plant_rule
from macros.published.safety.plant_names import PlantNames, plant_words
from macros.published.safety.poisonous import Poisonous, PoisonousPlants, refusal
from tests.making import ROOT
from tests.published_files import replaced, written

POISONOUS = published(PoisonousPlants, "poisonous")
EDIBLE = published(Edible, "edible")


def second_list() -> dict[str, list[str]]:
    """Botanical names of the second list of poisons, each with its sources."""
    read, problems = read_yaml(ROOT / "tests/reference/lists/poisonous_plants.yml", "poisonous_plants.yml")
    assert read is not None, problems
    plants: dict[str, list[str]] = read.data["plants"]
    assert {one for named in plants.values() for one in named} == set(read.data["sources"])
    return plants


def test_every_row_of_the_second_list_stands_in_the_data_under_its_table_and_none_else() -> None:
    named = {(plant_words(name), table) for name, tables in second_list().items() for table in tables}
    held = {(row.words, row.table) for row in POISONOUS.plants if row.table != "memory"}
    assert held == named


# Rows counted by hand in what was read of each table.
@pytest.mark.parametrize(
    ("table", "rows"),
    [("colorado", 27), ("barash", 25), ("missouri", 41), ("saskatchewan", 21), ("illinois", 10)],
)
def test_each_table_of_poisons_has_all_its_rows(table: str, rows: int) -> None:
    assert POISONOUS.tables[table].rows == rows
    assert Counter(row.table for row in POISONOUS.plants)[table] == rows


@pytest.mark.parametrize(
    ("table", "rows"),
    [("nc-hil-8513", 17 + 27), ("minnesota", 20 + 2), ("texas-am", 19), ("iowa-rg-302", 4), ("barash-handout", 43 + 1)],
)  # fmt: skip
def test_each_list_of_food_has_all_its_rows_and_one_more_for_a_row_of_two_plants(
    table: str, rows: int
) -> None:
    assert Counter(row.table for row in EDIBLE.listed)[table] == EDIBLE.references[table].rows == rows


def test_a_row_lost_is_told() -> None:
    row = '  - {table: colorado, botanical: Ricinus communis, name: "castor bean, African coffee tree", danger: "ricin, seeds most (from memory)"}\n'
    with written("poisonous", replaced("poisonous", row, "")):
        told = [str(problem) for problem in all_published_problems()]
    assert any(
        "the rows of colorado has 26, not 27. As many as `rows` says. Count the table again." in one
        for one in told
    ), told


@pytest.mark.parametrize("row", POISONOUS.plants, ids=lambda row: f"{row.table}-{row.botanical or row.genus}")
def test_every_row_is_refused_whatever_the_part_and_says_why(row: Poisonous) -> None:
    name = row.botanical or f"{row.genus} anyspecies"
    for part in ("flower", "leaf", "petal", "root"):
        found = edibility(name, part)
        assert found.standing == "refused", name
        assert found.refused is not None
        assert found.refused.plant.danger
        assert not found.refused.likely


WAYS_ROUND = [
    "digitalis purpurea", "DIGITALIS PURPUREA", "Digitalis  purpurea", "Digitalis × mertonensis", "Digitalis ×mertonensis",
    "Digitalis x mertonensis", "Digitalis xmertonensis", "×Digiplexis 'Illumination'", "Digitalis purpurea 'Foxy'",
    "Digitalis “Foxy”", "'Digitalis' purpurea", "Digitalis purpurea var. alba", "Digitalis-purpurea", "Digitálís purpurea",
    "Digi\u200btalis purpurea", "\uff24igitalis purpurea", "purpurea Digitalis", "Common foxglove", "Digitallis purpurea",
    "Digitals purpurea", "Vinca rosea", "Catharantus roseus", "Azalea indica", "Lamprocapnos spectabilis",
    "Richardia africana", "Pharbitis nil", "Thevetia peruviana", "Consolida ajacis", "Datura arborea",
    "Toxicoscordion venenosum", "Papaver laciniatum", "Solanum dulcamarra", "Brugmansia ×candida", "Wild lily of the valley",
]  # fmt: skip


@pytest.mark.parametrize("name", WAYS_ROUND)
def test_no_writing_of_a_name_leads_round_a_poison(name: str) -> None:
    assert edibility(name, "flower").standing == "refused"


@pytest.mark.parametrize(
    "name", ["D. purpurea", "Digitalia", "D\u0456gitalis purpurea", "Hosta", "H. plantaginea", ""]
)
def test_a_name_that_is_cut_short_or_of_another_alphabet_stands_for_nothing(name: str) -> None:
    assert edibility(name, "flower").standing in ("not a name", "refused")


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("Viola cornuta", "flower"), ("viola cornuta", "petal"), ("Viola × wittrockiana 'Delta'", "flower"),
        ("Borago officinalis", "flower"), ("Calendula officinalis 'Flashback Mix'", "petal"), ("Eruca sativa", "leaf"),
        ("Brassica rapa subsp. chinensis", "leaf"), ("Dianthus chinensis", "petal"), ("Tropaeolum majus", "leaf"),
        ("Artemisia dracunculus", "leaf"), ("Rosmarinus officinalis", "leaf"), ("Ocimum basilicum", "leaf"),
        ("Dendranthema grandiflorum", "petal"), ("Hibiscus rosa-sinensis", "flower"), ("Lactuca sativa", "leaf"),
    ],
)  # fmt: skip
def test_what_a_list_names_is_listed_by_other_names_too(name: str, part: str) -> None:
    assert edibility(name, part).standing == "listed"


@pytest.mark.parametrize(
    ("name", "part", "standing"),
    [
        ("Borago officinalis", "leaf", "disputed"),  # Minnesota lists it, the EU caps its poisons
        ("Calendula officinalis", "flower", "unlisted"),  # the rule of the plant: petals alone
        ("Dianthus chinensis", "flower", "unlisted"),
        ("Viola cornuta", "leaf", "unlisted"),
        ("Centaurea cyanus", "petal", "disputed"),
        (
            "Malus domestica",
            "flower",
            "refused",
        ),  # NC lists it, Missouri calls its seeds a poison: the poison counts
        ("Asclepias syriaca", "flower", "refused"),
        ("Sambucus canadensis", "flower", "refused"),
    ],
)
def test_a_part_or_plant_that_lists_do_not_agree_on(name: str, part: str, standing: str) -> None:
    assert edibility(name, part).standing == standing


def test_no_rule_and_no_other_name_makes_food_of_a_poison() -> None:
    for rule in published(PlantRules, "plant_rules").rules:
        assert refusal(rule.botanical or rule.genus) is None
    for other, listed in published(PlantNames, "plant_names").synonyms.items():
        assert refusal(other) is not None or refusal(listed) is None, other


def test_a_limit_says_what_it_does_and_only_borage_harms_the_liver() -> None:
    rules = published(PlantRules, "plant_rules").rules
    assert all(bool(rule.who) == bool(rule.harm) for rule in rules)
    assert [rule.botanical for rule in rules if "liver" in rule.who + rule.harm] == ["Borago officinalis"]
    borage = plant_rule("Borago officinalis")
    assert borage is not None
    assert "hairy calyx" in borage.pull_off
    assert "pregnant" in borage.who
    pinks = plant_rule("Dianthus chinensis")
    assert pinks is not None
    assert (pinks.pull_off, pinks.who) == ("the bitter white heel of each petal", "")
