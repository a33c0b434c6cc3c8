"""Protective equipment and first aid: the one text of each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import partial
from typing import Annotated

from macros.ground.field_types import Count, Identifier, Mapped, Name, Text
from macros.ground.names import gaps, slots_in
from macros.ground.records import Record
from macros.published import published
from macros.published.names import Equipment, HazardCode, complete, declared

PlacedText = Annotated[Text, gaps("poison_centre", "emergency_number", "breaker_place")]


class ProtectiveEquipment(Record):
    """The file: what each item is, by type; the same in two or three words; other names a house may write."""

    source: Text
    obtained: Text
    items: Mapped[Identifier, Text]
    short: Annotated[Mapped[Equipment, Name], complete(partial(declared, "ppe", "items"))]
    aliases: Mapped[Identifier, Equipment]


class Injury(Record):
    """One kind of injury and what to do."""

    title: Name
    text: PlacedText
    source: Text
    obtained: Text


class FlushPoint(Record):
    """What is asked of flushing water near by, and for which codes (29 CFR 1910.151(c): corrosive to eyes or body)."""

    codes: frozenset[HazardCode]
    reach_s: Count
    flow_min: Count
    text: Text
    source: Text
    obtained: Text


class HurtPage(Record):
    """The page for who is hurt: its title, the word on its button, three lines to act by before anything is read."""

    title: Name
    button: Name
    lines: tuple[PlacedText, ...]
    source: Text
    obtained: Text


class FirstAid(Record):
    """The file. `follow` closes every block: label and safety data sheet, and whom to call."""

    page: HurtPage
    follow: PlacedText
    items: Mapped[Identifier, Injury]
    flush_point: FlushPoint


def equipment() -> ProtectiveEquipment:
    """Every item, in the order in which they are listed on a page."""
    return published(ProtectiveEquipment, "ppe")


def first_aid() -> FirstAid:
    """Every kind of injury, in the order in which they are listed on a page."""
    return published(FirstAid, "first_aid")


def ppe_id(written: str) -> str | None:
    """The id for what a house wrote (an id of ours or a known other name); None when it is neither."""
    return written if written in equipment().items else equipment().aliases.get(written)


def in_ppe_order(ids: Iterable[str]) -> tuple[str, ...]:
    """The ids, each once, in list order. Goggles stay on the list beside the face shield worn over them."""
    wanted = set(ids)
    return tuple(one for one in equipment().items if one in wanted)


def first_aid_text(kind: str, places: Mapping[str, str]) -> tuple[str, str]:
    """Title and text for one kind of injury.

    Parameters
    ----------
    places : fills {poison_centre}, {emergency_number} and {breaker_place}

    Raises
    ------
    KeyError
        a place that the text needs is not given; the key is its name.
    """
    entry = first_aid().items[kind]
    return entry.title, fill(entry.text, places)


def first_aid_rule(kind: str) -> str:
    """The first sentence of one kind of injury; no slot may stand in it."""
    return first_aid().items[kind].text.partition(". ")[0].removesuffix(".") + "."


def fill(text: str, values: Mapping[str, str]) -> str:
    """The text with its slots filled. KeyError names a slot that has no value or an empty one."""
    for name in slots_in(text):
        if not values.get(name):
            raise KeyError(name)
    return text.format(**{name: values[name] for name in slots_in(text)})
