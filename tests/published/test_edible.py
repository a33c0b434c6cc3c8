"""What is refused as poisonous: a misspelt name would fail to the unsafe side, so each stands in a second list as well."""

from __future__ import annotations

import pytest

from macros.ground.yaml_source import read_yaml
from macros.published import published
from macros.published.safety.edible import Edible, Refused, edibility
from tests.making import ROOT

MEMORY = {"Caltha palustris"}
"""In none of the lists that were found; from memory: poisonous raw, of the buttercup family."""

REFUSED = published(Edible, "edible").refused


def poisonous() -> list[str]:
    """Botanical names of the second list, each with its sources."""
    read, problems = read_yaml(ROOT / "tests/reference/lists/poisonous_plants.yml", "poisonous_plants.yml")
    assert read is not None, problems
    assert {one for named in read.data["plants"].values() for one in named} == set(read.data["sources"])
    return [name.replace("spp.", "").strip() for name in read.data["plants"]]


@pytest.mark.parametrize("plant", REFUSED, ids=lambda plant: plant.botanical or plant.genus)
def test_each_refused_name_stands_in_a_second_list(plant: Refused) -> None:
    name = plant.botanical or plant.genus
    assert name in MEMORY or any(plant.is_of(one) for one in poisonous()), f"{name} is in no list"


def test_every_species_of_a_refused_genus_is_refused_whatever_the_part() -> None:
    for name in poisonous():
        if any(plant.genus == name for plant in REFUSED):
            assert edibility(f"{name} species", "flower").standing == "refused", name


def test_no_refused_plant_is_listed_as_edible() -> None:
    for plant in published(Edible, "edible").listed:
        assert not any(one.is_of(plant.botanical or plant.genus) for one in REFUSED), plant
