"""Which never-together pairs a page has to show."""

from __future__ import annotations

from collections.abc import Sequence

from macros.manual.cautions.step_facts import StepFacts
from macros.published.safety.bands import codes_of
from macros.published.safety.pairs import HousePair, MetPair, pair_rules, pairs_among
from macros.published.safety.substances import Handling


def page_pairs(
    steps: Sequence[StepFacts], elsewhere: Sequence[Handling], house_pairs: Sequence[HousePair]
) -> tuple[MetPair, ...]:
    """The pairs this page shows: it handles at least one side, the other too or another page of the same job."""
    handled = [one for step in steps for one in step.handlings]
    return tuple(
        pair
        for pair in pairs_among([*handled, *elsewhere], house_pairs)
        if pair.meets(handled) and not (pair.own_boxes and _said(pair, handled))
    )


def _said(pair: MetPair, handled: Sequence[Handling]) -> bool:
    """Whether the acid and base boxes of the page say it already, or neither stock is strong enough to spit.

    Source: the pair gives "heat and spatter between concentrates"; a concentrate has hazard codes.
    """
    if not (_is_concentrate(pair.first) or _is_concentrate(pair.second)):
        return True
    (rule,) = (one for one in pair_rules() if one.id == pair.rule)
    return any(_is_concentrate(one) and one.counts_as & (rule.a | rule.b) for one in handled)


def _is_concentrate(item: Handling) -> bool:
    return bool(codes_of(item)) or item.sds_codes is None
