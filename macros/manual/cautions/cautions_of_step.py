"""One caution as it stands before one step: its word, its filled texts, its reasons, what is not known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import cast

from macros.manual.cautions.label_words import LabelLine, label_line
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.cautions.triggers import Match, Scene, matches
from macros.manual.cautions.wording import filled_text, spoken_of
from macros.published.safety.cautions import Caution, catalogue, cautions
from macros.published.safety.pairs import MetPair
from macros.published.safety.protection import in_ppe_order
from macros.published.safety.signal_words import is_injury, worst_first


@dataclass(frozen=True)
class Shown:
    """One caution before one step: its word after escalation, its filled texts, and why it is there."""

    id: str
    word: str
    title: str
    hazard: str
    consequence: str
    avoidance: str
    short_hazard: str
    short_avoidance: str
    slots: tuple[tuple[str, str], ...]
    not_known: tuple[str, ...]
    why: tuple[str, ...]
    ppe: tuple[str, ...]
    first_aid: tuple[str, ...]
    label: LabelLine | None
    weight: float = 0.0

    @property
    def wording(self) -> tuple[str, str, tuple[tuple[str, str], ...]]:
        """What the reader can tell apart: two of the same wording are one caution."""
        return self.id, self.word, self.slots


def met_at(step: StepFacts, pairs: tuple[MetPair, ...], unit_style: str) -> tuple[Shown, ...]:
    """Every caution the step meets, worst first. Those that rest on others come after them."""
    return _met_alike(step.content, pairs, unit_style)


@lru_cache(maxsize=4096)
def _met_alike(content: tuple[object, ...], pairs: tuple[MetPair, ...], unit_style: str) -> tuple[Shown, ...]:
    """Found once for all steps of the same content: most steps of a page, and of the pages of several systems."""
    step, known = StepFacts.of_content(content), catalogue()
    scene = Scene(step, pairs)
    met = [
        one
        for caution in known.values()
        if not caution.rests_on_others
        for one in _shown(caution, scene, unit_style)
    ]
    scene = Scene(step, pairs, frozenset(one.id for one in met))
    met += [
        one
        for caution in known.values()
        if caution.rests_on_others
        for one in _shown(caution, scene, unit_style)
    ]
    return tuple(
        sorted(met, key=lambda one: (worst_first(one.word), known[one.id].place_in_file, -one.weight))
    )


def _shown(caution: Caution, scene: Scene, unit_style: str) -> list[Shown]:
    found = matches(caution.trigger, scene)
    if not found:  # nearly all cautions at nearly all steps
        return []
    by_wording: dict[object, Shown] = {}
    for match in _counting(found, caution.word):
        shown = _one(caution, match, scene, unit_style)
        same = by_wording.get(shown.wording)
        by_wording[shown.wording] = _merged(same, shown) if same else shown
    return list(by_wording.values())


def _counting(found: tuple[Match, ...], word: str) -> list[Match]:
    """What counts: known matches, else those with unknown facts, and these for injury alone."""
    injury = is_injury(word)
    about = {(one.handling, one.lift, one.pair) for one in found if not one.unknown}
    return [
        one
        for one in found
        if not one.unknown or (injury and (one.handling, one.lift, one.pair) not in about)
    ]


def _one(caution: Caution, match: Match, scene: Scene, unit_style: str) -> Shown:
    narrowed = scene.narrowed(match) if caution.escalate or caution.ppe_extra else scene
    word, why, unknown = caution.word, list(match.because), list(match.unknown)
    for escalation in caution.escalate:
        raised = sorted(
            _counting(matches(escalation.when, narrowed), escalation.word), key=lambda one: len(one.unknown)
        )
        if raised and worst_first(escalation.word) < worst_first(word):
            word = escalation.word
            why += [*raised[0].because, escalation.why]
            unknown += raised[0].unknown
    text = filled_text(caution, match, scene.step, unit_style)
    extra = [item for one in caution.ppe_extra if matches(one.when, narrowed) for item in one.add]
    return Shown(
        caution.id,
        word,
        caution.title,
        text.hazard,
        text.consequence,
        text.avoidance,
        caution.short_hazard,
        caution.short_avoidance,
        text.slots,
        _labels([*unknown, *text.unknown]),
        tuple(dict.fromkeys(why)),
        in_ppe_order([*caution.ppe, *extra]),
        caution.first_aid,
        _label(caution, match),
        _weight(match),
    )


def _labels(facts: Iterable[str]) -> tuple[str, ...]:
    named = cast(Mapping[str, str], cautions().facts)
    return tuple(named[fact] for fact in dict.fromkeys(facts))


def _label(caution: Caution, match: Match) -> LabelLine | None:
    item = match.handling or (spoken_of(caution, match.pair) if match.pair else None)
    return label_line(item) if item and item.counts_as & caution.label else None


def _weight(match: Match) -> float:
    """How strong or heavy, to pick the one wording of a summary."""
    if match.lift:
        return match.lift.mass_kg or 0.0
    return (match.handling.percent_by_mass or 0.0) if match.handling else 0.0


def _merged(first: Shown, second: Shown) -> Shown:
    """Two matches of one wording: all reasons; what is not known only if neither match knew."""
    unknown = () if not (first.not_known and second.not_known) else first.not_known + second.not_known
    return replace(
        first,
        why=tuple(dict.fromkeys(first.why + second.why)),
        not_known=tuple(dict.fromkeys(unknown)),
        ppe=in_ppe_order(first.ppe + second.ppe),
    )
