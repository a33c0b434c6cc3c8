"""How a change of an issued item is judged, by the kind of what changed."""

from __future__ import annotations

from macros.ground.field_types import Flag, Mapped, Name
from macros.ground.records import Record
from macros.published import published
from macros.published.names import DifferenceName


class JudgedKind(Record):
    """What a difference of a kind is, in words, and whether people are briefed anew after it."""

    why: Name
    retrain: Flag


class JudgementWords(Record):
    """`judgement.yml`; the words are looked for in what changed."""

    kinds: Mapped[DifferenceName, JudgedKind]
    turning_words: tuple[Name, ...]
    number_words: tuple[Name, ...]


def judgement_words() -> JudgementWords:
    """What changes are judged by."""
    return published(JudgementWords, "judgement")
