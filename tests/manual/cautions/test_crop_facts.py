"""What a step says of its plants: limits on who eats them and the worst seed, of its variety or of its system."""

from __future__ import annotations

from typing import Any

import pytest

from macros.manual.cautions.crop_facts import crop_facts
from tests.facts import register_of, source_of

PETALS = "petals only, not for children"


def asked(
    change: dict[str, Any], system: str = "", variety: str = ""
) -> tuple[dict[str, Any], dict[str, str]]:
    """Of the house `fourth`: viola in system K, rocket and lettuce in M, no limits, untreated seed; but for `change`."""
    source = source_of("fourth")
    for words, value in change.items():
        *way, last = (int(word) if word.isdigit() else word for word in words.split("."))
        holder: Any = source.data
        for step in way:
            holder = holder[step]
        holder[last] = value
    return crop_facts(register_of(source).house, system, variety)


LIMIT = {"edible_list.entries.0.caution": PETALS}


@pytest.mark.parametrize(("system", "variety"), [("K", ""), ("", "viola"), ("", "")])
def test_a_limit_is_told_where_its_plant_may_be_meant(system: str, variety: str) -> None:
    facts, slots = asked(LIMIT, system, variety)
    assert facts["species_has_caution"] is True
    assert slots == {
        "species_caution": f"Viola: {PETALS}",
        "species_harm": "Viola: what it does is not known here; ask who wrote the limit",
    }


@pytest.mark.parametrize(("system", "variety"), [("M", ""), ("", "rocket"), ("K", "lettuce")])
def test_a_limit_is_not_told_of_other_plants(system: str, variety: str) -> None:
    assert asked(LIMIT, system, variety) == (
        {"species_has_caution": False, "seed_treatment": "untreated"},
        {},
    )


def test_several_limits_name_every_plant() -> None:
    both = {**LIMIT, "edible_list.entries.2.caution": "young leaves only"}
    _, slots = asked(both)
    assert slots["species_caution"] == f"Viola: {PETALS}. Lettuce: young leaves only"


def test_what_one_plant_does_is_said_of_no_other_and_the_house_can_only_add_to_a_published_limit() -> None:
    three = {
        "varieties.0.botanical": "Borago officinalis",
        "varieties.0.id": "borage",
        "varieties.1.botanical": "Calendula officinalis",
        "varieties.1.id": "calendula",
        "varieties.1.part": "petal",
        "edible_list.entries": [
            {"botanical": "Borago officinalis", "parts": ["flower"], "caution": "no microgreens"},
            {"botanical": "Calendula officinalis", "parts": ["petal"]},
            {"botanical": "Lactuca sativa", "parts": ["leaf"]},
        ],
        **{part: [] for part in ("crop_plan.blocks", "seed_lots")},
        "crop_plan.weekly_demand": {},
        "sow_layout": {},
    }
    facts, slots = asked(three)
    assert facts["species_has_caution"] is True
    borage, calendula = slots["species_harm"].split(". Calendula: ")
    assert borage.startswith("Borage: liver poisons")
    assert "liver" not in calendula
    assert "liver" not in slots["species_caution"].split("Calendula: ")[1]
    assert "small children or anyone with a liver disease; no microgreens. " in slots["species_caution"]


def test_a_published_limit_stands_where_the_house_has_no_list() -> None:
    facts, slots = asked({"edible_list": None, "varieties.0.botanical": "Borago officinalis"}, "K")
    assert facts["species_has_caution"] is True
    assert "pregnant" in slots["species_caution"]


def test_without_a_list_limits_are_not_known_and_off_the_list_there_are_none() -> None:
    assert asked({"edible_list": None})[0]["species_has_caution"] is None
    other = {"edible_list.entries.0.botanical": "Viola tricolor"}
    assert asked(other, "K")[0]["species_has_caution"] is False


SECOND_LOT = {"id": "viola-2", "variety": "viola", "germination": 0.8}


@pytest.mark.parametrize("worse", ["treated", "unknown"])
def test_the_worst_seed_on_file_counts(worse: str) -> None:
    lots = [*source_of("fourth").data["seed_lots"], {**SECOND_LOT, "treatment": worse}]
    change = {"seed_lots": lots}
    assert asked(change, variety="viola")[0]["seed_treatment"] == worse
    assert asked(change)[0]["seed_treatment"] == worse
    assert asked(change, variety="rocket")[0]["seed_treatment"] == "untreated"


@pytest.mark.parametrize(("said", "counts"), [("treated", "treated"), (None, "unknown")])
def test_without_a_lot_the_variety_counts_and_nothing_said_is_unknown(said: str | None, counts: str) -> None:
    change = {"seed_lots": [], "varieties.0.seed_treatment": said}
    assert asked(change, "K")[0]["seed_treatment"] == counts
