"""Plants that are refused as food whatever a house says, row by row as each table names them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from pydantic import model_validator

from macros.ground.field_types import Count, Mapped, Name, Text
from macros.ground.records import Record, mistake
from macros.published import published
from macros.published.names import PoisonTable
from macros.published.safety.plant_names import Plant, Words, names_of, plant_words

_NEARLY = 0.88
"""How alike a misspelt name is (difflib ratio): a letter too many or too few in eight. Our own default."""


class CountedTable(Record):
    """A table, what of it was read, and how many rows of it stand in the file."""

    text: Text
    read: Text
    rows: Count


class Poisonous(Plant):
    """A row of a table: its plant, common names, and what of it is dangerous."""

    table: PoisonTable
    name: Name
    danger: Text


class PoisonousPlants(Record):
    """The file."""

    tables: Mapped[Name, CountedTable]
    plants: tuple[Poisonous, ...]

    @model_validator(mode="after")
    def _whole(self) -> PoisonousPlants:
        check_counts(Counter(plant.table for plant in self.plants), self.tables)
        return self


@dataclass(frozen=True)
class Refusal:
    """Why a plant is refused: the row, where it stands, and whether the name only may mean that row."""

    plant: Poisonous
    table: str
    likely: bool = False


def check_counts(found: Counter[str], tables: Mapping[str, CountedTable]) -> None:
    """Each table has as many rows as it says; a row lost would be a poison lost. Raises a mistake of the file."""
    wrong = [
        f"{id_} has {found[id_]}, not {one.rows}" for id_, one in tables.items() if found[id_] != one.rows
    ]
    if wrong:
        raise mistake(f"the rows of {', '.join(wrong)}", "As many as `rows` says", "Count the table again")


@cache
def refusal(botanical: str) -> Refusal | None:
    """The first row that is for this plant, by its name as written or by another name of it."""
    file = published(PoisonousPlants, "poisonous")
    found = next((plant for plant in file.plants if plant.is_of(botanical)), None)
    return Refusal(found, file.tables[found.table].text) if found else None


@cache
def likely_refusal(botanical: str) -> Refusal | None:
    """The row that this may mean: its words in another order, its common name, or its name but for a letter or two.

    Asked only of what stands on no list of food: tarragon is Artemisia dracunculus, and Dracunculus is a poison.
    """
    file = published(PoisonousPlants, "poisonous")
    rows = {" ".join(plant.words): plant for plant in reversed(file.plants)}
    for words in names_of(botanical):
        near = _nearest(words, rows)
        found = next((plant for plant in file.plants if _means(plant, words)), rows.get(near))
        if found is not None:
            return Refusal(found, file.tables[found.table].text, likely=True)
    return None


def _means(plant: Poisonous, words: Words) -> bool:
    if set(plant.words) <= set(words):
        return True
    text = f" {' '.join(words)} "
    return any(f" {' '.join(plant_words(name))} " in text for name in plant.name.split(","))


def _nearest(words: Words, rows: Collection[str]) -> str:
    """The row whose name is nearest to the genus, or to genus and species; none is empty."""
    for length in (1, 2):
        near = get_close_matches(" ".join(words[:length]), rows, 1, _NEARLY)
        if near:
            return near[0]
    return ""
