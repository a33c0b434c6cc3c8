"""Botanical names as people write them, brought to the words they are compared by; other names of one plant."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import cache

from pydantic import model_validator

from macros.ground.field_types import Mapped, Name
from macros.ground.records import Record, mistake
from macros.published import published

Words = tuple[str, ...]

_NO_NAME = frozenset({"x", "var", "subsp", "ssp", "f", "cv", "sp", "spp", "species", "group"})
"""Signs of a hybrid and words of rank: they name no plant."""
_HYBRID = re.compile(r"x(?=[bcdfghjklmnpqrstvwz])")
"""The sign of a hybrid grown onto a name; no Latin word begins with x and one of these."""


class PlantNames(Record):
    """The file."""

    synonyms: Mapped[Name, Name]


class Plant(Record):
    """A species, or every species of a genus."""

    botanical: Name = ""
    genus: Name = ""

    @property
    def words(self) -> Words:
        """Its name in the words it is compared by."""
        return plant_words(self.botanical or self.genus)

    def is_of(self, botanical: str) -> bool:
        """Whether the entry is for this species: the name begins with its words, as written or by the name on the lists."""
        return any(said[: len(self.words)] == self.words for said in names_of(botanical))

    @model_validator(mode="after")
    def _one_name(self) -> Plant:
        if bool(self.botanical) == bool(self.genus):
            raise mistake("not one name stands here", "Either botanical or genus", "Write one of the two")
        return self


def is_latin(text: str) -> bool:
    """Whether every letter is a Latin one: a letter of another alphabet that looks the same would hide a name."""
    return all(letter.isascii() for letter in _plain(text) if letter.isalpha())


@cache
def plant_words(text: str) -> Words:
    """The words of a name in small letters, without accents, quotes of a cultivar, hybrid signs and words of rank."""
    found = re.findall(r"[a-z]+", re.sub(r"['\"`´‘’“”]", "", _plain(text).lower()))
    return tuple(_HYBRID.sub("", word) for word in found if word not in _NO_NAME)


@cache
def names_of(text: str) -> tuple[Words, ...]:
    """The name as written, and by the name on the lists where it is another of the same plant."""
    said = plant_words(text)
    for other, listed in _synonyms().items():
        if said[: len(other)] == other:
            return said, (*listed, *said[len(other) :])
    return (said,)


@cache
def _synonyms() -> Mapping[Words, Words]:
    """Other names first by their length, so that a species goes before its genus."""
    rows = {plant_words(k): plant_words(v) for k, v in published(PlantNames, "plant_names").synonyms.items()}
    return dict(sorted(rows.items(), key=lambda row: -len(row[0])))


def _plain(text: str) -> str:
    """Without accents and unseen characters; × is an x that stands alone."""
    split = unicodedata.normalize("NFKD", text.replace("×", " x "))
    return "".join(one for one in split if unicodedata.category(one) not in ("Mn", "Cf"))
