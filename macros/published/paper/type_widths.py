"""How wide the characters of the manual's own type are."""

from __future__ import annotations

from typing import Annotated, Literal

from macros.ground.field_types import Mapped, Name, Number
from macros.ground.names import NameOf
from macros.ground.records import Record
from macros.published import published

Weight = Annotated[str, NameOf("weight of the type", lambda: ("regular", "bold"))]


class CharacterWidth(Record):
    """Characters that take so many em."""

    em: Number
    characters: Name


class TypeWidths(Record):
    """`type_widths.yml`; `other` is the width [em] of a character that is not listed."""

    source: Name
    obtained: Literal["measured"]
    other: Number
    weights: Mapped[Weight, tuple[CharacterWidth, ...]]


def type_widths() -> TypeWidths:
    """The widths of both weights."""
    return published(TypeWidths, "type_widths")
