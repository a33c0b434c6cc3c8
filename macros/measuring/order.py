"""The order of sheet and questions: what most pages rest on, then the rest of what counts, then what is only open."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from macros.ground.yaml_source import Path_
from macros.house.records.systems import SIZES, Reservoir
from macros.measuring.facts import Addition, Fact, new_facts
from macros.measuring.open_facts import Open
from macros.measuring.rests_on import REASON_WORDS, RestsOn
from macros.published import published_rows
from macros.published.paper.measuring import MeasuringPlace

FIRST, MOST_FIRST = 25, 30
"""Facts that come first: about so many, and never more. Those on as many pages stay together where that can be."""

Tier = Literal["first", "then", "last"]
_ALL_SIZES = frozenset(size for sizes in SIZES.values() for size in sizes)


@dataclass(frozen=True)
class Item:
    """One question: the fact or the addition, its place of the walk, its part of the order, pages and reason."""

    what: Fact | Addition
    place: MeasuringPlace
    tier: Tier
    pages: int
    reason: str


def places() -> Sequence[MeasuringPlace]:
    """The walk, from `published/paper/measuring.yml`."""
    return tuple(published_rows(MeasuringPlace, "measuring").values())


def ordered(found: Sequence[Open], rests: RestsOn) -> list[Item]:
    """Everything open in the order it is asked: by part of the order, by place, as the records have it.

    What a thing is comes before its other facts, for these hang on it; where its values are from comes behind them.
    """
    weights = {one.what.name: rests.weight(one.what.name) for one in found}
    least = _least_of_first(sorted(weights.values(), reverse=True))
    items: list[Item] = []
    for one in found:
        weight = weights[one.what.name]
        tier, reason = _tier(one, weight, least), _reason(one, weight, rests)
        item = Item(one.what, place_of(one.what.path), tier, weight, reason)
        items += [item, *_inside(item)]
    items.sort(key=_rank)
    items = _named_first(items)
    for item in [one for one in items if one.what.path[-1] == "basis"]:
        items.remove(item)
        items.insert(_behind(items, item), item)
    return items


def _named_first(items: Sequence[Item]) -> list[Item]:
    """What says which thing it is, moved before the first question about that thing, into its part of the order."""
    naming = [item for item in items if names_a_thing(item.what)]
    others = [item for item in items if item not in naming]
    for item in reversed(naming):
        record = item.what.path[:-1]
        at = next((at for at, one in enumerate(others) if one.what.path[: len(record)] == record), None)
        if at is None:
            at = sum(_rank(one) <= _rank(item) for one in others)
            others.insert(at, item)
        else:
            others.insert(at, replace(item, tier=others[at].tier))
    return others


def names_a_thing(what: Fact | Addition) -> bool:
    """Whether a fact says which thing it is, as what is in a bottle."""
    return _pattern(what.path) in {name for place in places() for name in place.naming}


def _rank(item: Item) -> tuple[int, int]:
    walk, tiers = [place.name for place in places()], ("first", "then", "last")
    return tiers.index(item.tier), walk.index(item.place.name)


def _behind(items: Sequence[Item], basis: Item) -> int:
    """The place behind the last fact of a record, in its part of the order and its place of the walk."""
    record = basis.what.path[:-1]
    of_record = [
        at
        for at, item in enumerate(items)
        if (item.tier, item.place) == (basis.tier, basis.place) and item.what.path[: len(record)] == record
    ]
    if of_record:
        return of_record[-1] + 1
    return sum(_rank(item) < _rank(basis) for item in items)


def place_of(path: Path_) -> MeasuringPlace:
    """The place where a fact is measured: that of the longest name it lies below."""
    name = _pattern(path)
    found = [
        (len(head), place)
        for place in places()
        for head in place.facts
        if name == head or re.match(rf"{re.escape(head)}[.\[]", name)
    ]
    if not found:
        return next(place for place in places() if any(_pattern(path[:1]) in head for head in place.facts))
    return max(found, key=lambda one: one[0])[1]


def of_other_shape(fact: Fact, shape: str) -> bool:
    """Whether a fact is a size that a tank of this shape does not have."""
    return fact.record is Reservoir and fact.field in _ALL_SIZES - set(SIZES.get(shape, ()))


def _inside(item: Item) -> Iterator[Item]:
    """What a record that is missing would hold, behind the question whether it is given; one entry of each list in it."""
    if not isinstance(item.what, Addition) or item.what.kind != "record":
        return
    for fact in facts_to_add(item.what):
        yield replace(item, what=fact)
    for inner in lists_in(item.what):
        yield replace(item, what=inner)
        one = replace(inner, name=f"{inner.name}[1]", path=(*inner.path, 0))
        for fact in facts_to_add(one):
            yield replace(item, what=fact)


def facts_to_add(addition: Addition) -> list[Fact]:
    """The facts of what may be added: those that must be given first, where they are from last."""
    inner = [one for one in new_facts(addition) if isinstance(one, Fact)]
    return sorted(inner, key=lambda one: (not one.required, one.field == "basis"))


def lists_in(addition: Addition) -> list[Addition]:
    """The lists of a part that may be added."""
    return [one for one in new_facts(addition) if isinstance(one, Addition) and one.kind == "entry"]


def _least_of_first(weights: Sequence[int]) -> int:
    """The least number of pages by which a fact comes first."""
    if len(weights) <= FIRST:
        return 1
    level = weights[FIRST - 1]
    if sum(weight >= level for weight in weights) <= MOST_FIRST:
        return max(level, 1)
    return level + 1 if any(weight > level for weight in weights) else max(level, 1)


def _tier(one: Open, weight: int, least: int) -> Tier:
    if weight >= least:
        return "first"
    return "then" if weight or one.waiting or one.what.path[-1] == "basis" else "last"


def _reason(one: Open, weight: int, rests: RestsOn) -> str:
    """Why it is measured, in six words at most."""
    if one.why == "to fill in":
        return "Until then sheets say DRAFT"
    name = one.what.name
    if one.waiting:
        words = one.waiting[0].partition("[")[0].replace("_", " ").split()
        return " ".join(["Waits:", *words[: REASON_WORDS - 1]])
    if name in rests.amounts:
        return rests.amounts[name]
    if str(one.what.path[-1]) == "basis":
        return "Says how they are known"
    return (
        "A page prints it"
        if weight
        else "Still the starter's example"
        if one.why == "starter"
        else "Still assumed"
    )


def _pattern(path: Path_) -> str:
    text = ""
    for step in path:
        text += "[]" if isinstance(step, int) else (f".{step}" if text else str(step))
    return text
