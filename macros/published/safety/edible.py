"""What published lists say of eating a part of a plant, by botanical name and never by a common one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pydantic import model_validator

from macros.ground.field_types import Name, Text
from macros.ground.records import Record, mistake
from macros.published import published

Standing = Literal["listed", "disputed", "unlisted", "refused"]


@dataclass(frozen=True)
class Edibility:
    """The standing of a species and part, and who says so. `unlisted`: no published list known here names the part."""

    standing: Standing
    source: str


class Plant(Record):
    """A species, or every species of a genus; which parts are listed, who says so, and the name of what is refused."""

    botanical: Name = ""
    genus: Name = ""

    def is_of(self, botanical: str) -> bool:
        """Whether the entry is for this species: its first words, or its genus."""
        wanted = (self.botanical or self.genus).lower().split()
        return botanical.lower().split()[: len(wanted)] == wanted

    @model_validator(mode="after")
    def _one_name(self) -> Plant:
        if bool(self.botanical) == bool(self.genus):
            raise mistake("not one name stands here", "Either botanical or genus", "Write one of the two")
        return self


class Listed(Plant):
    """Parts that a published list calls edible."""

    parts: tuple[Literal["flower", "petal", "leaf"], ...]
    source: Text


class Disputed(Plant):
    """Sources disagree on it."""

    source: Text


class Refused(Plant):
    """Poisonous, whatever a house says."""

    name: Name


class Edible(Record):
    """The file."""

    listed: tuple[Listed, ...]
    disputed: tuple[Disputed, ...]
    refused: tuple[Refused, ...]
    refused_source: Text


def edibility(botanical: str, part: str) -> Edibility:
    """What is known of eating `part` of the species `botanical` (genus, species, subspecies)."""
    data = published(Edible, "edible")
    for refused in data.refused:
        if refused.is_of(botanical):
            return Edibility("refused", f"{refused.name} is poisonous: {data.refused_source}")
    for disputed in data.disputed:
        if disputed.is_of(botanical):
            return Edibility("disputed", disputed.source)
    for listed in data.listed:
        if listed.is_of(botanical) and part in listed.parts:
            return Edibility("listed", listed.source)
    return Edibility("unlisted", "")
