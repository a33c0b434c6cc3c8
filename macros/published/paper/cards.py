"""The wall cards: what each is called, what it needs of a house, and the pages its figures come from."""

from __future__ import annotations

from typing import Annotated, Literal

from macros.ground.field_types import Count, Mapped, Name, Text
from macros.ground.names import gaps
from macros.ground.records import Record
from macros.published import published
from macros.published.names import AmountId, CardName, DocumentId, FactPath, SanitizingTask


class CardNeed(Record):
    """An amount or a fact without which a house has no such card, and the words that say so."""

    amount: AmountId = ""
    fact: FactPath = ""
    without: Text


class CardKind(Record):
    """A wall card; `rules` stand on it as they are."""

    number: Count
    title: Name
    each: Literal["room", "system"]
    pages: tuple[DocumentId, ...]
    lead: Text
    needs: tuple[CardNeed, ...]
    rules: tuple[Text, ...]


class Cards(Record):
    """`cards.yml`."""

    cards: Mapped[CardName, CardKind]
    call_words: tuple[Annotated[Text, gaps("street_address")], ...]
    task_names: Mapped[SanitizingTask, Name]


def card_words() -> Cards:
    """All that is published on wall cards."""
    return published(Cards, "cards")
