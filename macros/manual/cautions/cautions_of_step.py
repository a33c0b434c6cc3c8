"""The cautions before one step: each with its word, its filled texts, its reasons, and what is not known."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from macros.manual.cautions.label_words import label_line
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.cautions.triggers import Match, Scene, matches
from macros.manual.cautions.wording import filled, spoken_of
from macros.page_model.page import PlacedCaution
from macros.published.safety.cautions import Caution, catalogue, cautions
from macros.published.safety.pairs import MetPair
from macros.published.safety.protection import in_ppe_order
from macros.published.safety.signal_words import is_injury, worst_first


@lru_cache(maxsize=4096)
def cautions_of_step(
    step: StepFacts, pairs: tuple[MetPair, ...], unit_style: str
) -> tuple[PlacedCaution, ...]:
    """Every caution the step meets, worst first; those that rest on others are asked when the others are known.

    Found once for all steps alike in all but their name: most steps of a page, and of the pages of several systems.
    """
    met: list[PlacedCaution] = []
    for rests_on_others in (False, True):
        scene = Scene(step, pairs, frozenset(one.id for one in met))
        for caution in catalogue().values():
            if caution.rests_on_others == rests_on_others:
                met += _placed_here(caution, scene, unit_style)
    return tuple(sorted(met, key=lambda one: one.rank))


def _placed_here(caution: Caution, scene: Scene, unit_style: str) -> list[PlacedCaution]:
    """The caution once for each wording in which the step meets it."""
    by_wording: dict[object, PlacedCaution] = {}
    for match in _counting(matches(caution.trigger, scene), caution.word):
        placed = _placed(caution, match, scene, unit_style)
        same = by_wording.get(placed.wording)
        by_wording[placed.wording] = _merged(same, placed) if same else placed
    return list(by_wording.values())


def _counting(found: tuple[Match, ...], word: str) -> list[Match]:
    """What counts: known matches, else those with unknown facts, and these for injury alone."""
    known = [one for one in found if not one.unknown]
    if len(known) == len(found) or not is_injury(word):
        return known
    about = {one.about for one in known}
    return [one for one in found if not one.unknown or one.about not in about]


def _placed(caution: Caution, match: Match, scene: Scene, unit_style: str) -> PlacedCaution:
    narrowed = scene.narrowed(match) if caution.escalate or caution.ppe_extra else scene
    word, why, unknown = _escalated(caution, match, narrowed)
    texts, open_facts = filled(caution, match, scene.step, unit_style)
    item, names = spoken_of(caution, match), cautions().facts
    extra = [worn for one in caution.ppe_extra if matches(one.when, narrowed) for worn in one.add]
    return PlacedCaution(
        caution,
        word,
        *texts,
        label_line=label_line(item) if item and item.counts_as & caution.label else "",
        not_known=tuple(names[fact] for fact in dict.fromkeys([*unknown, *open_facts])),  # type: ignore[index]
        why=tuple(dict.fromkeys(why)),
        ppe=in_ppe_order([*caution.ppe, *extra]),
        weight=match.weight,
    )


def _escalated(caution: Caution, match: Match, scene: Scene) -> tuple[str, list[str], list[str]]:
    """The word, raised where that is met; why; and the facts that were not known."""
    word, why, unknown = caution.word, [*match.because], [*match.unknown]
    for escalation in caution.escalate:
        raised = _counting(matches(escalation.when, scene), escalation.word)
        if raised and worst_first(escalation.word) < worst_first(word):
            surest = min(raised, key=lambda one: len(one.unknown))
            word = escalation.word
            why += [*surest.because, escalation.why]
            unknown += surest.unknown
    return word, why, unknown


def _merged(first: PlacedCaution, second: PlacedCaution) -> PlacedCaution:
    """Two matches of one wording: all reasons; what is not known only if neither match knew."""
    unknown = first.not_known + second.not_known if first.not_known and second.not_known else ()
    return replace(
        first,
        why=tuple(dict.fromkeys(first.why + second.why)),
        not_known=tuple(dict.fromkeys(unknown)),
        ppe=in_ppe_order(first.ppe + second.ppe),
    )
