"""The one published list of actions that a step may have."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from macros.ground.field_types import Identifier, Mapped, Name, Text
from macros.ground.records import Record
from macros.published import names, published


class Action(Record):
    """An action: its meaning, the verbs its sentences may begin with, the wider actions it is also a case of."""

    meaning: Text
    verbs: tuple[Name, ...]
    counts_as: tuple[names.Action, ...] = ()


class Actions(Record):
    """The file: every action by its id."""

    source: Text
    obtained: Text
    actions: Mapped[Identifier, Action]


def actions() -> Mapping[str, Action]:
    """Every action by its id."""
    return published(Actions, "actions").actions


@cache
def action_counts_as(action: str) -> frozenset[str]:
    """The actions under which a trigger finds it, itself and through all steps its wider ones; itself alone where it is
    not listed."""
    found: dict[str, None] = {}
    waiting = [action]
    while waiting:
        one = waiting.pop()
        if one not in found:
            found[one] = None
            waiting += actions()[one].counts_as if one in actions() else ()
    return frozenset(found)
