"""The one published list of actions that a step may have."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from macros.published import load


@dataclass(frozen=True)
class Action:
    """An action: its meaning, the verbs its sentences may begin with, the wider actions it is a case of."""

    id: str
    meaning: str
    verbs: tuple[str, ...]
    counts_as: frozenset[str]


@cache
def actions() -> dict[str, Action]:
    """Every action by its id. `counts_as` holds the action itself and, through all steps, its wider ones."""
    entries = load("actions")["actions"]
    return {
        one: Action(one, entry["meaning"], tuple(entry["verbs"]), _wider(one, entries))
        for one, entry in entries.items()
    }


def action_counts_as(action: str) -> frozenset[str]:
    """The actions under which a trigger finds it; an action that is not listed counts as itself alone."""
    found = actions().get(action)
    return found.counts_as if found else frozenset((action,))


def _wider(action: str, entries: dict[str, dict[str, list[str]]]) -> frozenset[str]:
    found = {action}
    for wider in entries[action].get("counts_as", ()):
        found |= _wider(wider, entries)
    return frozenset(found)
