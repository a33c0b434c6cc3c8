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

    @property
    def about(self) -> tuple[object, ...]:
        """What it was met with."""
        return self.handling, self.lift, self.pair

    @property
    def weight(self) -> float:
        """How heavy [kg] or strong [%]; 0 where that is not known."""
        return (self.lift.mass_kg if self.lift else self.handling and self.handling.percent_by_mass) or 0.0

    def joined(self, other: Match) -> Match:
        """Both together; what the first found stays."""
        return Match(
            tuple(dict.fromkeys((*self.because, *other.because))),
            tuple(dict.fromkeys((*self.unknown, *other.unknown))),
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
    return (Match((f"the action is {_plain(action)}",)),) if met else ()


def _plain(name: str) -> str:
    """A name of ours as words: `work_in_standing_water` is read by people who never saw the files."""
    return name.replace("_", " ")


def _pair_met(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    return tuple([Match((str(pair),), pair=pair) for pair in scene.pairs if pair.rule == condition.pair])


def _any_lifted(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    return tuple(
        [one for lift in scene.step.lifts if condition.lift for one in _lifted(condition.lift, lift)]
    )


def _fact(condition: Condition, scene: Scene) -> tuple[Match, ...]:
    """What is asked of a fact. One that is not known counts, unless what guards it is not met."""
    fact, asked = condition.fact
    held = getattr(scene.step, fact)
    if held is None:
        guard = condition.unknown_counts_with
        counts = guard is None or bool(matches(guard, scene))
        return (Match((f"{_plain(fact)} is not known",), (fact,)),) if counts else ()
    said = _FACTS[condition.kind](held, asked)
    return (Match((f"{_plain(fact)} {said}",)),) if said else ()


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
    strength, sheet = _strength_met(condition, item), _sheet_met(condition, item)
    if strength is None or sheet is None:
        return ()
    if condition.band_codes_any and condition.band_codes_any.isdisjoint(codes_of(item)):
        return ()
    return (Match((_said(condition, item),), strength + sheet, handling=item),)


def _strength_met(condition: Handled, item: Handling) -> tuple[str, ...] | None:
    """None where it is not met, else what is not known: that counts as the strongest, so never as "below"."""
    percent, lower, upper = item.percent_by_mass, condition.percent_min, condition.percent_below
    if percent is not None:
        too_weak = lower is not None and not _reaches(percent, lower)
        return None if too_weak or (upper is not None and _reaches(percent, upper)) else ()
    if upper is not None:
        return None
    asked = lower is not None or condition.band_codes_any
    return ("handled_strength",) if asked else ()


def _sheet_met(condition: Handled, item: Handling) -> tuple[str, ...] | None:
    """None where the codes of the safety data sheet do not meet it, else what is not known."""
    if item.sds_codes is None:  # what asks for none of them has a stricter caution, which is shown then
        return None if condition.sds_codes_none else ("sds_codes",) if condition.sds_codes_any else ()
    missing = condition.sds_codes_any and condition.sds_codes_any.isdisjoint(item.sds_codes)
    return None if missing or not condition.sds_codes_none.isdisjoint(item.sds_codes) else ()


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
    unknown = [] if lift.mass_kg is not None else ["lift_mass_kg"]
    if lift.mass_kg is not None and not _reaches(lift.mass_kg, condition.mass_kg_min):
        return ()
    how = ""
    for where, words in (
        ("above_shoulder", "above the shoulder"),
        ("from_below_knee", "from below the knee"),
    ):
        if getattr(condition, where):
            held = getattr(lift, where)
            if held is False:
                return ()
            unknown += [f"lift_{where}"] if held is None else []
            how = how or f" {words}"
    mass = "a load" if lift.mass_kg is None else f"{lift.mass_kg:g} kg"
    return (Match((f"{mass} lifted{how}, {condition.mass_kg_min:g} kg or more",), tuple(unknown), lift=lift),)


def _reaches(value: float, limit: float) -> bool:
    """A value on the edge, or short of it by rounding in the computing alone, reaches it."""
    return value >= limit - EDGE_TOLERANCE
