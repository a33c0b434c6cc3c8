"""E16: what a house lists as food, tried both ways with and without references."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from macros.ground.records import build_record
from macros.ground.yaml_source import Source
from macros.house.records.house import House
from macros.house.rules.edible_plants import check_edible
from tests.facts import source_of

TWO = ["kunkel", "mansfeld"]


def told(**entry: Any) -> list[str]:
    """What is said of the house `fourth` with this in place of its viola, in the list and among the varieties."""
    source = source_of("fourth")
    data = copy.deepcopy(source.data)
    data["edible_list"]["entries"][0] = {"parts": ["flower"], **entry}
    data["varieties"][0]["botanical"] = entry["botanical"]
    house, problems = build_record(House, Source(data=data, places=source.places, file=source.file))
    assert house is not None, problems
    return [str(problem) for problem in check_edible(house)]


POISONOUS = [
    "Ricinus communis", "Nicotiana alata", "Lantana camara", "Lobelia erinus", "Zantedeschia aethiopica",
    "Achillea millefolium", "Physalis alkekengi", "Phoradendron leucarpum", "Zigadenus elegans", "Catharanthus roseus",
    "Aconitum napellus", "Digitalis lutea", "Nerium oleander", "Convallaria majalis", "Delphinium elatum",
    "Brugmansia suaveolens", "Helleborus niger", "Ipomoea tricolor", "Vinca minor", "Atropa belladonna",
]  # fmt: skip
"""Of the tables, and ten of them the ones that once passed."""

UNLISTED = [
    "Hosta plantaginea", "Begonia x semperflorens-cultorum", "Phlox paniculata", "Campanula portenschlagiana",
    "Clitoria ternatea", "Perilla frutescens", "Cosmos sulphureus", "Dahlia pinnata", "Oenothera biennis",
    "Hesperis matronalis", "Lobularia maritima", "Malva sylvestris", "Trifolium pratense", "Sedum spectabile",
    "Acmella oleracea", "Galium odoratum", "Verbena hastata", "Mertensia maritima", "Pisum sativum", "Celosia argentea",
]  # fmt: skip


@pytest.mark.parametrize("name", POISONOUS)
@pytest.mark.parametrize("part", ["flower", "leaf"])
def test_a_poisonous_plant_passes_never(name: str, part: str) -> None:
    for references in ([], TWO):
        (line,) = told(botanical=name, parts=[part], references=references, caution="checked twice")
        assert f"{name} is poisonous: " in line
        assert line.endswith("no reference and no text beside it lets it pass. [E16]")


@pytest.mark.parametrize("name", UNLISTED)
def test_an_unlisted_plant_passes_with_two_references_and_no_fewer(name: str) -> None:
    part = "root"  # a part no list here names
    for references in ([], TWO[:1], TWO[:1] * 2, ["a book of mine", "kunkel"]):
        assert any(
            "2 different references must name it" in line
            for line in told(botanical=name, parts=[part], references=references)
        ), references
    assert told(botanical=name, parts=[part], references=TWO) == []


@pytest.mark.parametrize(
    ("name", "part"),
    [("Viola cornuta", "flower"), ("Borago officinalis", "flower"), ("Tropaeolum majus", "leaf"), ("Eruca sativa", "leaf"), ("Rosa rugosa", "petal")],
)  # fmt: skip
def test_known_food_passes_with_nothing_beside_it(name: str, part: str) -> None:
    assert told(botanical=name, parts=[part]) == []


WORDS = {
    "poisonous": (
        {"botanical": "Digitalis purpurea", "references": TWO},
        "edible_list.entries[Digitalis purpurea].botanical: Digitalis purpurea is poisonous: foxglove; heart poison, all parts "
        "(from memory). It stands in: Colorado State University Extension, Fact Sheet 7.237 Edible Flowers, 9/13 rev. 10/20, "
        "table 1. Take it out of the house: no reference and no text beside it lets it pass. [E16]",
    ),
    "nearly a poison": (
        {"botanical": "Digitallis purpurea", "references": TWO},
        "Digitallis purpurea reads as Digitalis, foxglove, which is poisonous: heart poison, all parts (from memory). It "
        "stands in: University of Illinois Extension, slides on edible flowers, Pretty but Poisonous. Is it another plant? "
        "Write genus and species as on the seed packet, without a cultivar. Else take it out of the house. [E16]",
    ),
    "unlisted": (
        {"botanical": "Hosta plantaginea"},
        "edible_list.entries[Hosta plantaginea].references: flower of Hosta plantaginea as food stands on no list known here. "
        "2 different references must name it, out of nc-hil-8513, minnesota, texas-am, ",
    ),
    "one reference": (
        {"botanical": "Hosta plantaginea", "references": ["kunkel"]},
        "flower of Hosta plantaginea as food stands on no list known here; beside it stands kunkel. 2 different",
    ),
    "what to do": (
        {"botanical": "Hosta plantaginea"},
        "Read it there and write both ids, as `references: [kunkel, mansfeld]`, or plan another. [E16]",
    ),
    "disputed": (
        {"botanical": "Centaurea cyanus", "parts": ["petal"]},
        "petal of Centaurea cyanus as food is disputed (listed by NC HIL-8513; R. Creasy, magazine article, Feb 1990, advises "
        "against it). 2 different references must name it",
    ),
    "not a name": (
        {"botanical": "H. plantaginea", "references": TWO},
        'edible_list.entries[H. plantaginea].botanical: "H. plantaginea" is no botanical name that can be looked up. Genus and '
        "species, both written out, in Latin letters. Write it as the seed packet does: Viola cornuta. [E16]",
    ),
    "reference not known": (
        {"botanical": "Hosta plantaginea", "references": ["kunkle", "mansfeld"]},
        "edible_list.entries[Hosta plantaginea].references: kunkle is no reference of the known list. There are nc-hil-8513, ",
    ),
}


@pytest.mark.parametrize("case", WORDS)
def test_the_words(case: str) -> None:
    entry, words = WORDS[case]
    assert any(words in line for line in told(**entry)), told(**entry)


def test_a_variety_that_is_poisonous_is_told_where_no_list_names_it() -> None:
    source = source_of("fourth")
    data = copy.deepcopy(source.data)
    data["varieties"][0]["botanical"] = "Nerium oleander"
    house, _ = build_record(House, Source(data=data, places=source.places, file=source.file))
    assert house is not None
    (line,) = (str(problem) for problem in check_edible(house))
    assert "varieties[viola].botanical: Nerium oleander is poisonous: oleander" in line
