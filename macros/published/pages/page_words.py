"""Words a procedure may name although a house need not have what they stand for."""

from __future__ import annotations

from pydantic import Field

from macros.ground.field_types import Identifier, Name
from macros.ground.records import Record
from macros.published import published


class PageWords(Record):
    """The file `page_words.yml`; its head says what each list is for."""

    of: dict[str, tuple[Identifier, ...]] = Field(default_factory=dict)
    lifted: tuple[Name, ...]
    where: tuple[Name, ...]


def page_words() -> PageWords:
    """The published words, each known for every house."""
    words: PageWords = published(PageWords, "page_words")
    return words
