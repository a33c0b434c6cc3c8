"""What must never meet: the published pairs, those a house adds, and the pairs among given things."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product
from typing import Annotated

from pydantic import AfterValidator

from macros.ground.field_types import Flag, Identifier, Number, Text
from macros.ground.records import Record
from macros.published import published
from macros.published.names import CautionId, Substance, distinct
from macros.published.safety.bands import EDGE_TOLERANCE
from macros.published.safety.substances import Handling

HOUSE = "HOUSE"
"""Rule id of every pair that a house adds."""


class Limit(Record):
    """A pair counts only where one of these is at least this strong [% w/w]."""

    substance: frozenset[Substance]
    percent_min: Number


class PairRule(Record):
    """One published pair: any of `a` with any of `b`."""

    id: Identifier
    a: frozenset[Substance]
    b: frozenset[Substance]
    gives: Text
    caution: CautionId
    own_boxes: Flag = False
    at: Limit | None = None
    obtained: Text


class Pairs(Record):
    """The file, its pairs in file order."""

    pairs: Annotated[tuple[PairRule, ...], AfterValidator(distinct)]
    house_pair_caution: CautionId


@dataclass(frozen=True)
class HousePair:
    """A pair that a house adds with `never_with`: substance ids of both sides, and where it stands."""

    a: frozenset[str]
    b: frozenset[str]
    where: str = ""


@dataclass(frozen=True)
class MetPair:
    """Two things that must not meet and are both there."""

    rule: str
    first: Handling
    second: Handling
    gives: str
    caution: str
    own_boxes: bool = False
    where: str = ""

    def meets(self, handled: Sequence[Handling]) -> bool:
        """Whether one side is among what is handled."""
        return self.first in handled or self.second in handled

    def __str__(self) -> str:
        what = f": {self.gives}" if self.gives else f" ({self.where})" if self.where else ""
        return f"{self.first.shown_name} with {self.second.shown_name}{what}"


def pair_rules() -> tuple[PairRule, ...]:
    """The published pairs, in file order."""
    return published(Pairs, "pairs").pairs


def pairs_among(
    items: Iterable[Handling | str], house_pairs: Sequence[HousePair] = ()
) -> tuple[MetPair, ...]:
    """Every pair among the things of one page, job, shelf, drain line or measuring tool.

    A house can add pairs and never takes one away. A house pair is left out where a published pair already
    speaks for the same two things. A strength that is not known counts as strong enough.
    """
    things = tuple(dict.fromkeys(Handling(one) if isinstance(one, str) else one for one in items))
    met = [pair for rule in pair_rules() for pair in _of_rule(rule, things)]
    spoken = {frozenset((pair.first, pair.second)) for pair in met}
    for pair in house_pairs:
        for first, second in combinations(things, 2):
            both = frozenset((first, second))
            if both not in spoken and not _same_product(first, second) and _house_meets(pair, first, second):
                spoken.add(both)
                caution = published(Pairs, "pairs").house_pair_caution
                met.append(MetPair(HOUSE, first, second, "", caution, where=pair.where))
    return tuple(met)


def _of_rule(rule: PairRule, things: Sequence[Handling]) -> Iterator[MetPair]:
    strong = [one for one in things if _strong_enough(rule, one)]
    for first, second in product(strong, strong):
        if first.counts_as & rule.a and second.counts_as & rule.b and not _same_product(first, second):
            yield MetPair(rule.id, first, second, rule.gives, rule.caution, rule.own_boxes)


def partners_of(item: Handling, house_pairs: Sequence[HousePair] = ()) -> frozenset[str]:
    """Ids of every substance that must not meet this one at its strength, in the house or not."""
    found: set[str] = set()
    for rule in pair_rules():
        for own, other in ((rule.a, rule.b), (rule.b, rule.a)):
            if item.counts_as & own and _strong_enough(rule, item):
                found |= other
    for pair in house_pairs:
        for own, other in ((pair.a, pair.b), (pair.b, pair.a)):
            if item.counts_as & own:
                found |= other
    return frozenset(found)


def _strong_enough(rule: PairRule, item: Handling) -> bool:
    percent = item.percent_by_mass
    if rule.at is None or percent is None or not item.counts_as & rule.at.substance:
        return True
    return percent >= rule.at.percent_min - EDGE_TOLERANCE


def _house_meets(pair: HousePair, first: Handling, second: Handling) -> bool:
    return any(
        one.counts_as & pair.a and other.counts_as & pair.b
        for one, other in ((first, second), (second, first))
    )


def _same_product(first: Handling, second: Handling) -> bool:
    """One product at two strengths meets itself all day."""
    return (first.substance, first.name) == (second.substance, second.name)
