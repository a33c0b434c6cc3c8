"""What is typed of a part that is added: one more entry of a list, or a record that was not there."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from macros.ground.yaml_source import Path_
from macros.house.files.write_fact import Value
from macros.measuring.facts import Addition, Fact, is_list
from macros.measuring.order import facts_to_add
from macros.measuring.state import State
from macros.measuring.talk import Talk

_NAME = r"[A-Za-z][A-Za-z0-9_ -]{0,39}"


@dataclass(frozen=True)
class Added:
    """The facts that were typed, which are written together, and those of the same part that may wait."""

    facts: dict[Path_, Value | None]
    later: Sequence[Fact]


def typed_addition(addition: Addition, now: State, talk: Talk) -> Added | None:
    """Ask for what a part must have; where it need have nothing, for the first of it that is known.

    Returns
    -------
    None where it was given up.

    Raises
    ------
    Stop, Undo
        that was asked for.
    """
    path = _path_of_new(addition, now, talk)
    if path is None:
        return None
    if addition.kind == "named value":
        name = f"{addition.name}.{path[-1]}"
        inner = [
            Fact(path, name, addition.record, str(path[-1]), addition.annotation, True, is_list(addition))
        ]
    else:
        name = addition.name if addition.kind == "record" else f"{addition.name}[{path[-1]}]"
        inner = facts_to_add(replace(addition, path=path, name=name))
    needed = [fact for fact in inner if fact.required]
    return _needed(needed, inner, talk) if needed else _first_known(inner, talk)


def _needed(needed: Sequence[Fact], inner: Sequence[Fact], talk: Talk) -> Added | None:
    facts: dict[Path_, Value | None] = {}
    for fact in needed:
        talk.tell_fact(fact, "")
        typed = talk.value_or_none(fact, is_needed=bool(facts))
        if typed is None:
            return None
        facts[fact.path] = typed
    return Added(facts, [fact for fact in inner if not fact.required])


def _first_known(inner: Sequence[Fact], talk: Talk) -> Added | None:
    for at, fact in enumerate(inner):
        talk.tell_fact(fact, "")
        typed = talk.value_or_none(fact)
        if typed is not None:
            return Added({fact.path: typed}, inner[at + 1 :])
    return None


def _path_of_new(addition: Addition, now: State, talk: Talk) -> Path_ | None:
    """Where the new part will stand; what stands in a mapping is asked for its name."""
    if addition.kind == "record":
        return addition.path
    if addition.kind == "entry":
        depth = len(addition.path)
        return (
            *addition.path,
            len({one.path[depth] for one in now.facts.values() if one.path[:depth] == addition.path}),
        )
    while (name := talk.command(f"  Name of the {addition.words}:")) != "":
        if re.fullmatch(_NAME, name):
            return (*addition.path, name)
        talk.say("  A name is letters, digits, - and _, a letter first, at most 40.")
    return None
