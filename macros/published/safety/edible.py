"""What published lists say of eating a part of a plant, by botanical name and never by a common one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from pydantic import model_validator

from macros.ground.field_types import Mapped, Name, Text
from macros.ground.records import Record
from macros.published import published
from macros.published.names import EdibleReference, Way
from macros.published.safety.plant_names import Plant, is_latin, plant_words
from macros.published.safety.poisonous import CountedTable, Refusal, check_counts, likely_refusal, refusal

Standing = Literal["listed", "disputed", "unlisted", "refused", "not a name"]
Part = Literal["flower", "petal", "leaf", "bud", "stem", "seed"]

REFERENCES_NEEDED = 2
"""How many references must name a plant that no list here names."""


@dataclass(frozen=True)
class Edibility:
    """The standing of a species and part, and who says so. `unlisted`: no list known here names the part."""

    standing: Standing
    source: str = ""
    refused: Refusal | None = None


class Reference(CountedTable):
    """A list a house may name, and how it was obtained."""

    obtained: Way


class Listed(Plant):
    """A row of a list: parts that it calls food."""

    table: EdibleReference
    name: Name
    parts: tuple[Part, ...]


class Disputed(Plant):
    """Sources disagree on it, or on these parts of it."""

    parts: tuple[Part, ...] = ()
    source: Text


class Edible(Record):
    """The file."""

    references: Mapped[Name, Reference]
    listed: tuple[Listed, ...]
    disputed: tuple[Disputed, ...]

    @model_validator(mode="after")
    def _whole(self) -> Edible:
        check_counts(Counter(row.table for row in self.listed), self.references)
        return self


class PlantRule(Plant):
    """How a species is eaten: its parts, what is pulled off them, who is not served, what it does to them."""

    serve: tuple[Part, ...]
    pull_off: Text = ""
    who: Text = ""
    harm: Text = ""
    source: Text


class Allergen(Record):
    """A kind of allergen as a label says it, and the plants that are of it: species, or every one of a genus."""

    says: Text
    plants: tuple[Name, ...]
    source: Text

    def is_of(self, botanical: str) -> bool:
        """Whether one of its plants is this species."""
        names = [Plant(genus=name) for name in self.plants]
        return any(plant.is_of(botanical) for plant in names)


class PlantRules(Record):
    """The file."""

    allergens: tuple[Allergen, ...]
    rules: tuple[PlantRule, ...]


def references() -> Mapping[str, Reference]:
    """The lists a house may name beside a plant, by their ids."""
    return published(Edible, "edible").references


@cache
def plant_rule(botanical: str) -> PlantRule | None:
    """How this species is eaten; None where nothing is known here."""
    rules = published(PlantRules, "plant_rules").rules
    return next((rule for rule in rules if rule.is_of(botanical)), None)


def allergen(botanical: str) -> str:
    """What a label says of a species' allergen; empty where no row names it, which is no proof that there is none."""
    kinds = published(PlantRules, "plant_rules").allergens
    return next((kind.says for kind in kinds if kind.is_of(botanical)), "")


def edibility(botanical: str, part: str) -> Edibility:
    """What is known of eating `part` of the species `botanical` (genus, species, subspecies). What is poisonous goes first."""
    refused = refusal(botanical)
    if refused is not None:
        return Edibility("refused", refused=refused)
    if not is_latin(botanical):
        return Edibility("not a name")
    found = _on_a_list(botanical, part)
    if found is not None:
        return found
    likely = likely_refusal(botanical)
    if likely is not None:
        return Edibility("refused", refused=likely)
    return Edibility("unlisted" if _is_whole(botanical) else "not a name")


def _on_a_list(botanical: str, part: str) -> Edibility | None:
    """What the lists of food say of it, a dispute before a listing; None where none names the part."""
    data = published(Edible, "edible")
    for disputed in data.disputed:
        if disputed.is_of(botanical) and part in (disputed.parts or (part,)):
            return Edibility("disputed", disputed.source)
    for listed in data.listed:
        if listed.is_of(botanical) and _names(listed.parts, part) and _is_served(botanical, part):
            return Edibility("listed", data.references[listed.table].text)
    return None


def _names(parts: tuple[Part, ...], part: str) -> bool:
    """Whether a row names the part; who eats the flower eats its petals."""
    return part in parts or (part == "petal" and "flower" in parts)


def _is_served(botanical: str, part: str) -> bool:
    rule = plant_rule(botanical)
    return rule is None or _names(rule.serve, part)


def _is_whole(botanical: str) -> bool:
    """Whether genus and species stand there, neither cut to a letter."""
    words = plant_words(botanical)
    return len(words) > 1 and all(len(word) > 1 for word in words[:2])
