"""Documents that the published values name, and the ways a value was obtained."""

from __future__ import annotations

from collections.abc import Mapping

from macros.ground.field_types import Mapped, Text
from macros.ground.records import Record
from macros.published import published
from macros.published.names import Way


class Document(Record):
    """A document: `year` is one of print, or says that none was given; `where` the part, or the page it was met on."""

    title: Text
    issuer: Text
    year: Text
    where: Text
    obtained: Way


class Documents(Record):
    """The file: what each way of obtaining means, and each document by the name that source lines call it."""

    ways: Mapped[Text, Text]
    documents: Mapped[Text, Document]


def documents() -> Mapping[str, Document]:
    """Every document by the name that source lines call it."""
    return published(Documents, "documents").documents


def ways() -> Mapping[str, str]:
    """What each way of obtaining means."""
    return published(Documents, "documents").ways
