"""The wall cards: what each is called, what it needs of a house, and the pages its figures come from."""

from __future__ import annotations

from typing import Annotated, Literal

from macros.ground.field_types import Count, Mapped, Name, Text
from macros.ground.records import Record
from macros.published import published
from macros.published.elsewhere import Elsewhere
from macros.published.keys import filled_with
from macros.published.work.jobs import AmountId, DocumentId, SanitizingTask

FactPath = Annotated[str, Elsewhere("fact of a house")]
"""A fact by its path, as `sanitizing.rinse`."""


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

    cards: Mapped[Annotated[str, Elsewhere("wall card")], CardKind]
    call_words: tuple[Annotated[Text, filled_with("street_address")], ...]
    task_names: Mapped[SanitizingTask, Name]


def card_words() -> Cards:
    """All that is published on wall cards."""
    return published(Cards, "cards")
