"""Finds where a condition is met: every way in which it is met, with reasons and with what is not known."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from macros.manual.caution_facts import Lift, StepFacts
from macros.published.actions import action_counts_as
from macros.published.bands import EDGE_TOLERANCE, codes_of
from macros.published.conditions import (
    ActionIs,
    All,
    AlsoMet,
    AnyOf,
    Bound,
    Condition,
    FactIs,
    Handled,
    Lifted,
    OneOf,
    PairMet,
)
from macros.published.pairs import MetPair
from macros.published.substances import Handling


@dataclass(frozen=True)
class Match:
    """One way in which a condition is met. `unknown` names facts that were not known and counted as met."""

    because: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    handling: Handling | None = None
    lift: Lift | None = None
    pair: MetPair | None = None

    def joined(self, other: Match) -> Match:
        """Both together; what the first found stays."""
        return Match(
            _once((*self.because, *other.because)),
            _once((*self.unknown, *other.unknown)),
            self.handling or other.handling,
            self.lift or other.lift,
            self.pair or other.pair,
        )


@dataclass(frozen=True)
class Scene:
    """A step, the pairs that are met at it, and the cautions already found there."""

    step: StepFacts
    pairs: tuple[MetPair, ...] = ()
    met: frozenset[str] = frozenset()

    def narrowed(self, match: Match) -> Scene:
        """The scene of one match: only the lift or substance it is about."""
        handlings = (match.handling,) if match.handling else self.step.handlings
        lifts = (match.lift,) if match.lift else self.step.lifts
        return replace(self, step=replace(self.step, handlings=handlings, lifts=lifts))


def matches(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    """Every way in which the condition is met at the step; empty when it is not met.

    A fact that is not known gives a match that lists it in `unknown`. Whether that counts is for the caller:
    it does for injury, it does not for a NOTICE.
    """
    match condition:
        case All(parts):
            found: tuple[Match, ...] = (Match(),)
            for part in parts:
                found = tuple(one.joined(other) for one in found for other in matches(part, scene))
                if not found:
                    break
            return found
        case AnyOf(parts):
            return tuple(one for part in parts for one in matches(part, scene))
        case Handled():
            return tuple(one for item in scene.step.strongest for one in _handled(condition, item))
        case ActionIs(actions):
            met = action_counts_as(scene.step.action) & set(actions)
            return (Match((f"the action is {scene.step.action}",)),) if met else ()
        case PairMet(rule):
            return tuple(Match((str(pair),), pair=pair) for pair in scene.pairs if pair.rule == rule)
        case Lifted():
            return tuple(one for lift in scene.step.lifts for one in _lifted(condition, lift))
        case FactIs(fact, value):
            return _known_or_not(
                fact,
                scene.step.fact(fact),
                scene,
                None,
                lambda held: held == value,
                f"{fact} is {'yes' if value else 'no'}",
            )
        case OneOf(fact, values, guard):
            return _known_or_not(
                fact,
                scene.step.fact(fact),
                scene,
                guard,
                lambda held: bool(_words(held) & set(values)),
                f"{fact} holds {', '.join(sorted(_words(scene.step.fact(fact)) & set(values)))}",
            )
        case Bound(fact, limit, at_least, guard):
            return _known_or_not(
                fact,
                scene.step.fact(fact),
                scene,
                guard,
                lambda held: (
                    _reaches(held, limit) if at_least else not _reaches(held, limit) or held == limit
                ),
                f"{fact} is {scene.step.fact(fact)}, at {'least' if at_least else 'most'} {limit:g}",
            )
        case AlsoMet(cautions):
            also = [one for one in cautions if one in scene.met]
            return (Match((f"{', '.join(also)} is met here",)),) if also else ()


def _handled(condition: Handled, item: Handling) -> tuple[Match, ...]:
    if condition.substances and not item.counts_as & condition.substances:
        return ()
    percent = item.percent_by_mass
    unknown: list[str] = []
    if percent is None:
        # a strength that is not known counts as the strongest, so never as "below"
        if condition.percent_below is not None:
            return ()
        if condition.percent_min is not None or condition.band_codes_any:
            unknown.append("handled_strength")
    elif not _in_range(condition, percent):
        return ()
    if condition.sds_codes_none and (
        item.sds_codes is None or condition.sds_codes_none & set(item.sds_codes)
    ):
        return ()  # not known: the stricter caution is shown already
    if condition.sds_codes_any:
        if item.sds_codes is None:
            unknown.append("sds_codes")
        elif not condition.sds_codes_any & set(item.sds_codes):
            return ()
    if condition.band_codes_any and not condition.band_codes_any & set(codes_of(item)):
        return ()
    return (Match((_said(condition, item),), tuple(unknown), handling=item),)


def _in_range(condition: Handled, percent: float) -> bool:
    lower, upper = condition.percent_min, condition.percent_below
    return (lower is None or _reaches(percent, lower)) and (upper is None or not _reaches(percent, upper))


def _said(condition: Handled, item: Handling) -> str:
    text = item.shown_name
    if item.percent_by_mass is not None:
        text += f" {item.percent_by_mass:g} %"
    if condition.percent_min is not None:
        text += f", {condition.percent_min:g} % or more"
    if condition.percent_below is not None:
        text += f" and under {condition.percent_below:g} %"
    return f"{text} is handled"


def _lifted(condition: Lifted, lift: Lift) -> tuple[Match, ...]:
    unknown: list[str] = []
    if lift.mass_kg is None:
        unknown.append("lift_mass_kg")
    elif not _reaches(lift.mass_kg, condition.mass_kg_min):
        return ()
    for wanted, held, fact in (
        (condition.above_shoulder, lift.above_shoulder, "lift_above_shoulder"),
        (condition.from_below_knee, lift.from_below_knee, "lift_from_below_knee"),
    ):
        if wanted and held is None:
            unknown.append(fact)
        elif wanted and not held:
            return ()
    how = (
        " above the shoulder"
        if condition.above_shoulder
        else " from below the knee"
        if condition.from_below_knee
        else ""
    )
    mass = "a load" if lift.mass_kg is None else f"{lift.mass_kg:g} kg"
    return (Match((f"{mass} lifted{how}, {condition.mass_kg_min:g} kg or more",), tuple(unknown), lift=lift),)


def _known_or_not(
    fact: str, held: Any, scene: Scene, guard: Condition | None, test: Callable[[Any], bool], because: str
) -> tuple[Match, ...]:
    if held is None:
        counts = guard is None or bool(matches(guard, scene))
        return (Match((f"{fact} is not known",), (fact,)),) if counts else ()
    return (Match((because,)),) if test(held) else ()


def _words(held: Any) -> set[str]:
    if held is None:
        return set()
    return {held} if isinstance(held, str) else set(held)


def _reaches(value: float, limit: float) -> bool:
    """A value on the edge, or short of it by rounding in the computing alone, reaches it."""
    return value >= limit - EDGE_TOLERANCE


def _once(items: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(items))
