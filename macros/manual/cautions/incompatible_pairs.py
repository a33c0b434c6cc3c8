"""Which never-together pairs a page has to show, and at which of its steps."""

from __future__ import annotations

from collections.abc import Sequence

from macros.manual.cautions.step_facts import StepFacts
from macros.published.safety.bands import codes_of
from macros.published.safety.pairs import HousePair, MetPair, pair_rules, pairs_among
from macros.published.safety.substances import Handling


def page_pairs(
    steps: Sequence[StepFacts],
    also_on_page: Sequence[Handling],
    elsewhere: Sequence[Handling],
    house_pairs: Sequence[HousePair],
) -> tuple[MetPair, ...]:
    """The pairs this page shows: at least one side is on the page, the other there or in the same job."""
    handled = [one for step in steps for one in step.handlings]
    here = {*handled, *also_on_page}
    met = pairs_among([*handled, *also_on_page, *elsewhere], house_pairs)
    return tuple(
        pair
        for pair in met
        if (pair.first in here or pair.second in here) and not (pair.own_boxes and _said(pair, handled))
    )


def pairs_at(steps: Sequence[StepFacts], pairs: Sequence[MetPair]) -> tuple[tuple[MetPair, ...], ...]:
    """For each step the pairs of which it handles a side. A pair no step handles stands at the first step."""
    homeless = tuple(
        pair
        for pair in pairs
        if not any(pair.first in step.handlings or pair.second in step.handlings for step in steps)
    )
    return tuple(
        (homeless if index == 0 else ())
        + tuple(pair for pair in pairs if pair.first in step.handlings or pair.second in step.handlings)
        for index, step in enumerate(steps)
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
