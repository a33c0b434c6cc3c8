"""How often things are due where a house says nothing, as published."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from macros.ground.field_types import Identifier, Mapped, Text
from macros.ground.records import Record
from macros.published import published
from macros.published.names import FactPath, RhythmText


class PublishedRhythm(Record):
    """What is due and how often; `fact`, or the meter `meter` measures with, is where a house says it already."""

    task: Text
    text: RhythmText
    fact: FactPath | None = None
    meter: Literal["ph", "ec"] | None = None


class Frequencies(Record):
    """`frequencies.yml`."""

    source: Text
    obtained: Text
    frequencies: Mapped[Identifier, PublishedRhythm]


def published_rhythms() -> Mapping[str, PublishedRhythm]:
    """Every rhythm by its name, in the order of the published list."""
    return published(Frequencies, "frequencies").frequencies
