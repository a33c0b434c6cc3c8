"""Finds where a condition is met: every way in which it is met, with reasons and with what is not known."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from macros.manual.cautions.step_facts import Lift, StepFacts
from macros.published.safety.actions import action_counts_as
from macros.published.safety.bands import EDGE_TOLERANCE, codes_of
from macros.published.safety.conditions import Condition, Handled, Lifted
from macros.published.safety.pairs import MetPair
from macros.published.safety.substances import Handling


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
    return _FINDERS[condition.kind](condition, scene)


def _all(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    parts = condition.all or ()
    found = matches(parts[0], scene)
    for part in parts[1:]:
        if not found:  # nearly always after the first part
            break
        also = matches(part, scene)
        found = tuple(one.joined(other) for one in found for other in also)
    return found


def _any(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    return tuple([one for part in condition.any or () for one in matches(part, scene)])


def _any_handled(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    wanted = condition.handled or Handled()
    return tuple([one for item in scene.step.strongest for one in _handled(wanted, item)])


def _action_is(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    action = scene.step.action
    met = not action_counts_as(action).isdisjoint(condition.action or ())
    return (Match((f"the action is {action}",)),) if met else ()


def _pair_met(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    return tuple([Match((str(pair),), pair=pair) for pair in scene.pairs if pair.rule == condition.pair])


def _any_lifted(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    return tuple(
        [one for lift in scene.step.lifts if condition.lift for one in _lifted(condition.lift, lift)]
    )


def _fact(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    """What is asked of a fact. One that is not known counts, unless what guards it is not met."""
    fact, asked = condition.fact
    held = scene.step.fact(fact)
    if held is None:
        guard = condition.unknown_counts_with
        counts = guard is None or bool(matches(guard, scene))
        return (Match((f"{fact} is not known",), (fact,)),) if counts else ()
    said = _FACTS[condition.kind](held, asked)
    return (Match((f"{fact} {said}",)),) if said else ()


def _is(held: bool, asked: bool) -> str:
    return f"is {'yes' if asked else 'no'}" if held == asked else ""


def _one_of(held: str | Iterable[str], asked: tuple[str, ...]) -> str:
    among = ({held} if isinstance(held, str) else set(held)).intersection(asked)
    return f"holds {', '.join(sorted(among))}" if among else ""


def _at_least(held: float, limit: float) -> str:
    return f"is {held}, at least {limit:g}" if _reaches(held, limit) else ""


def _at_most(held: float, limit: float) -> str:
    return f"is {held}, at most {limit:g}" if not _reaches(held, limit) or held == limit else ""


def _also_met(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    also = [one for one in condition.caution or () if one in scene.met]
    return (Match((f"{', '.join(also)} is met here",)),) if also else ()


_FACTS: dict[str, Callable[[Any, Any], str]] = {
    "is_": _is,
    "one_of": _one_of,
    "at_least": _at_least,
    "at_most": _at_most,
}
"""By the kind of condition: how the fact meets it, in words; empty where it does not."""

_FINDERS: dict[str, Callable[[Condition, Scene], tuple[Match, ...]]] = {
    "all": _all,
    "any": _any,
    "handled": _any_handled,
    "action": _action_is,
    "pair": _pair_met,
    "lift": _any_lifted,
    "caution": _also_met,
    **dict.fromkeys(_FACTS, _fact),
}
"""By the kind of condition. Every caution is asked at every step: trying the kinds in turn took half of that time."""


def _handled(condition: Handled, item: Handling) -> tuple[Match, ...]:
    if condition.substance and not item.counts_as & condition.substance:
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


def _reaches(value: float, limit: float) -> bool:
    """A value on the edge, or short of it by rounding in the computing alone, reaches it."""
    return value >= limit - EDGE_TOLERANCE


def _once(items: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(items))
