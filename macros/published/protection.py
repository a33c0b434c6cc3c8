"""Protective equipment and first aid: the one text of each."""

from __future__ import annotations

import string
from collections.abc import Iterable, Mapping

from macros.published import load


def ppe_text(ppe_id: str) -> str:
    """What the equipment is, by type; KeyError for an unknown id."""
    return str(load("ppe")["items"][ppe_id])


def ppe_short(ppe_id: str) -> str:
    """What the equipment is in two or three words; KeyError for an unknown id."""
    return str(load("ppe")["short"][ppe_id])


def ppe_ids() -> tuple[str, ...]:
    """Every id, in the order in which they are listed on a page."""
    return tuple(load("ppe")["items"])


def ppe_id(written: str) -> str | None:
    """The id for what a house wrote (an id of ours or a known other name); None when it is neither."""
    known = load("ppe")
    return written if written in known["items"] else known["aliases"].get(written)


def in_ppe_order(ids: Iterable[str]) -> tuple[str, ...]:
    """The ids, each once, in list order. Goggles stay on the list beside the face shield worn over them."""
    wanted = set(ids)
    return tuple(one for one in ppe_ids() if one in wanted)


def first_aid_ids() -> tuple[str, ...]:
    """Every id, in the order in which they are listed on a page."""
    return tuple(load("first_aid")["items"])


def first_aid_text(first_aid_id: str, places: Mapping[str, str]) -> tuple[str, str]:
    """Title and text for one kind of injury.

    Parameters
    ----------
    places : fills {poison_centre}, {emergency_number} and {breaker_place}

    Raises
    ------
    KeyError
        a place that the text needs is not given; the key is its name.
    """
    entry = load("first_aid")["items"][first_aid_id]
    return str(entry["title"]), fill(entry["text"], places)


def first_aid_rule(first_aid_id: str) -> str:
    """The first sentence of one kind of injury; no slot may stand in it."""
    return str(load("first_aid")["items"][first_aid_id]["text"]).partition(". ")[0].removesuffix(".") + "."


def follow_line(places: Mapping[str, str]) -> str:
    """The closing line of every first-aid block: label and safety data sheet, and whom to call."""
    return fill(load("first_aid")["follow"], places)


def flush_point_text() -> str:
    """What is asked of the flushing water when anything handled burns or damages eyes."""
    return str(load("first_aid")["flush_point"]["text"])


def slots_in(text: str) -> tuple[str, ...]:
    """The names in {braces}, each once, in order."""
    return tuple(dict.fromkeys(name for _, name, _, _ in string.Formatter().parse(text) if name))


def fill(text: str, values: Mapping[str, str]) -> str:
    """The text with its slots filled. KeyError names a slot that has no value or an empty one."""
    for name in slots_in(text):
        if not values.get(name):
            raise KeyError(name)
    return text.format(**{name: values[name] for name in slots_in(text)})
