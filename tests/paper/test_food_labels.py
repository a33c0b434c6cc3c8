"""Labels of packed food: what each carries, from facts alone, and what is said where a fact is not given."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.amounts import Register
from macros.paper.labels.all_labels import house_labels
from macros.paper.labels.label import LabelView
from macros.published.safety.edible import allergen
from tests.making import HOUSES, made_house, made_register


def food(register: Register) -> dict[str, list[str]]:
    """The rows of each food label as text, blanks as lines, by its name."""
    return {label.name: [label.sub, *_rows(label)] for label in house_labels(register, [], kinds=["food"])}


def _rows(label: LabelView) -> list[str]:
    return [
        " ".join(
            filter(
                None,
                (row.head, row.text, *(f"{blank.head} __ {blank.after}".strip() for blank in row.blanks)),
            )
        )
        for row in label.rows
    ]


@pytest.mark.quick
def test_a_food_label_carries_what_a_kitchen_asks(tmp_path: Path) -> None:
    """House and place, lot, amount, days, warmth, washing, allergen and limit; shelf lives differ by part."""
    house = made_house(
        tmp_path,
        (
            "policies: {",
            'policies: {cold_store: "6 degC", flower_shelf_life: "4 day", leaf_shelf_life: "5 day", ',
        ),
        ("  places: {", '  places: {street_address: "9 Test Lane", '),
        (
            "{id: rocket, botanical: Eruca vesicaria,",
            '{id: rocket, botanical: Eruca vesicaria, storage_temperature: "3 degC",',
        ),
        (
            "{id: viola, botanical: Viola cornuta, part: flower,",
            "{id: viola, botanical: Borago officinalis, part: flower,",
        ),
        ("{botanical: Viola cornuta,", "{botanical: Borago officinalis,"),
        name="fourth",
    )
    labels = food(made_register(house))
    assert list(labels) == ["viola", "rocket", "lettuce"]
    assert labels["rocket"] == [
        "leaves of Eruca vesicaria",
        "Lot __ Amount __ Picked __ Use by __ 5 days after picking",
        "Keep at 3 °C, shut.",
        "Not washed: wash before eating.",
        "Allergen: mustard family: ask the authority whether it is to be declared.",
        "Packed by Test Hall, 9 Test Lane.",
    ]
    assert labels["lettuce"][2:] == [
        "Keep at 6 °C, shut.",
        "Not washed: wash before eating.",
        "Packed by Test Hall, 9 Test Lane.",
    ]
    assert labels["viola"][1].endswith("Use by __ 4 days after picking")
    assert labels["viola"][4].startswith(
        "Eaten: single flowers as a garnish, 20 a day at the most for a grown person; none for anyone pregnant"
    )


def test_what_is_not_given_is_asked_for() -> None:
    labels = food(made_register(HOUSES / "fifth"))
    assert labels["rocket"][1].endswith("Use by __ not known: ask the owner")
    assert labels["rocket"][2] == "Keep at not known: ask the owner, shut."
    assert labels["rocket"][-1] == "Packed by Test Pantry, not known: ask the owner."


FAMILY = "mustard family: ask the authority whether it is to be declared"
# Families by hand, from memory: watercress is Nasturtium, the nasturtium of the garden Tropaeolum, which is no kin.
ALLERGENS = {
    "Brassica juncea": "mustard: to be declared",
    "Sinapis alba": "mustard: to be declared",
    "Brassica rapa subsp. nipposinica": FAMILY,
    "Brassica oleracea": FAMILY,
    "Raphanus sativus": FAMILY,
    "Nasturtium officinale": FAMILY,
    "Tropaeolum majus": "",
    "Apium graveolens": "celery: to be declared",
    "Coriandrum sativum": "",
    "Lupinus albus": "lupin: to be declared",
    "Triticum aestivum": "cereal with gluten: ask the authority whether its young leaf is to be declared",
    "Viola cornuta": "",
    "Lactuca sativa": "",
}


@pytest.mark.parametrize(("botanical", "says"), ALLERGENS.items())
def test_allergens_go_by_botanical_name(botanical: str, says: str) -> None:
    assert allergen(botanical) == says
