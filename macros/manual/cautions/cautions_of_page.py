"""Which cautions a page shows, where and why: from plain facts of its steps and the published catalogue.

A caution stands directly before the first step of the page that meets its trigger, and again before a later step
where its word or its slots differ. One that warns of grave injury stands again in each stretch that one person may
begin (a phase, a piece of a day's plan), and where more of a stock is taken than it stood before. Before one step
the worst comes first.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from macros.manual.cautions.cautions_of_step import cautions_of_step
from macros.manual.cautions.incompatible_pairs import page_pairs
from macros.manual.cautions.step_facts import StepFacts
from macros.page_model.page import PlacedCaution
from macros.published.safety.bands import codes_of, weak_ppe
from macros.published.safety.cautions import cautions
from macros.published.safety.pairs import HousePair, MetPair
from macros.published.safety.protection import first_aid, in_ppe_order
from macros.published.safety.substances import Handling, substances

GRAVE = ("DANGER", "WARNING")
"""Words that stand again before each stretch of the work, but for what is known once for the whole page: pairs, working alone."""


class CautionProblem(ValueError):  # noqa: N818 - named for what it tells
    """Slots that the facts leave open. `messages` lists them all."""

    def __init__(self, messages: Iterable[str]) -> None:
        self.messages = tuple(messages)
        super().__init__("\n".join(self.messages))


@dataclass(frozen=True)
class PageCautions:
    """Everything of a page that follows from its cautions.

    Parameters
    ----------
    facts : of its steps, in order
    before : step id -> what stands before it, worst first
    met : step id -> every caution whose trigger the step meets
    summary : each caution once, worst first, in its worst wording
    ppe, first_aid : ids of what to wear and of the injuries, in list order
    flush_point : flushing water must be near
    pairs : what must never meet, of the page and its job
    uncovered : what is handled and has no caution in the catalogue
    """

    facts: tuple[StepFacts, ...]
    before: Mapping[str, tuple[PlacedCaution, ...]] = field(default_factory=dict)
    met: Mapping[str, tuple[PlacedCaution, ...]] = field(default_factory=dict)
    summary: tuple[PlacedCaution, ...] = ()
    ppe: tuple[str, ...] = ()
    first_aid: tuple[str, ...] = ()
    flush_point: bool = False
    pairs: tuple[MetPair, ...] = ()
    uncovered: tuple[str, ...] = ()


def page_cautions(
    steps: Sequence[StepFacts],
    elsewhere: Sequence[Handling] = (),
    house_pairs: Sequence[HousePair] = (),
    unit_style: str = "metric",
    begins: Collection[str] = (),
    taken: Mapping[str, float] = MappingProxyType({}),
    of_house: Mapping[str, tuple[PlacedCaution, ...]] = MappingProxyType({}),
) -> PageCautions:
    """The cautions of one page.

    Parameters
    ----------
    steps : facts of its steps, in order
    elsewhere : what other pages of the same job, day, drain line or shelf hold
    house_pairs : pairs the house adds
    unit_style : metric or us, for the numbers in slots
    begins : ids of the steps with which a stretch begins
    taken : what a step takes of a stock, by its id [mL]
    of_house : cautions of the house's own, by the id of the step: they join what the step meets

    Raises
    ------
    CautionProblem
        a slot that no fact fills; all of them at once.
    RangeProblem
        a strength outside 0 to 100 %.
    """
    pairs = page_pairs(steps, elsewhere, house_pairs)
    met = {
        step.step_id: cautions_of_step(
            step, tuple(pair for pair in pairs if pair.meets(step.handlings)), unit_style
        )
        for step in steps
    }
    met |= {id_: tuple(sorted((*met[id_], *own), key=lambda one: one.rank)) for id_, own in of_house.items()}
    read, before = _Read(), {}
    for step_id, placed in met.items():
        if step_id in begins:
            read.stretch_begins()
        before[step_id] = read.unread(placed, taken.get(step_id, 0.0))
    _refuse_open_slots(met)
    shown = [one for new in before.values() for one in new]
    handled = [item for step in steps for item in step.strongest]
    return PageCautions(
        facts=tuple(steps),
        before=before,
        met=met,
        summary=_summary(shown),
        ppe=_worn(shown, handled),
        first_aid=_injuries(shown),
        flush_point=any(asks_for_flushing(item) for item in handled),
        pairs=pairs,
        uncovered=_uncovered(handled),
    )


class _Read:
    """What has been read on the way down a page: each wording with the most of a stock it stood before."""

    def __init__(self) -> None:
        self.most: dict[tuple[str, ...], float] = {}
        self.again: set[tuple[str, ...]] = set()
        self.just: set[tuple[str, ...]] = set()

    def stretch_begins(self) -> None:
        """Whoever begins here has read nothing of grave injury but what stands directly before."""
        for wording in self.again - self.just:
            self.most.pop(wording, None)

    def unread(self, placed: Sequence[PlacedCaution], amount: float) -> tuple[PlacedCaution, ...]:
        """What of these is still to be read before a step that takes so much of a stock [mL]; then it counts as read."""
        grave = [one for one in placed if one.word in GRAVE and not one.entry.of_the_whole_page]
        self.again.update(one.wording for one in grave)
        found = [one for one in placed if one.wording not in self.most]
        found += [one for one in grave if one not in found and amount > self.most[one.wording]]
        for one in placed:
            self.most[one.wording] = max(amount, self.most.get(one.wording, 0.0))
        self.just = {one.wording for one in found}
        return tuple(sorted(found, key=lambda one: one.rank))


def asks_for_flushing(item: Handling) -> bool:
    """Whether flushing water must be near; hazard codes that are not known count as burning."""
    return item.sds_codes is None or not first_aid().flush_point.codes.isdisjoint(codes_of(item))


def _worn(shown: Sequence[PlacedCaution], handled: Sequence[Handling]) -> tuple[str, ...]:
    for_weak = [worn for item in handled for worn in weak_ppe(item)]
    return in_ppe_order([*for_weak, *(worn for one in shown for worn in one.ppe)])


def _injuries(shown: Sequence[PlacedCaution]) -> tuple[str, ...]:
    met = {injury for one in shown for injury in one.entry.first_aid}
    return tuple(injury for injury in first_aid().items if injury in met)


def _uncovered(handled: Sequence[Handling]) -> tuple[str, ...]:
    without = [
        item
        for item in handled
        if item.substance in substances() and not substances()[item.substance].cautioned
    ]
    return tuple(dict.fromkeys(item.shown_name for item in without))


def _summary(shown: Sequence[PlacedCaution]) -> tuple[PlacedCaution, ...]:
    """One of each id, worst first: its worst word, and of these the strongest or heaviest."""
    best: dict[str, PlacedCaution] = {}
    for one in sorted(shown, key=lambda one: one.rank):
        best.setdefault(one.id, one)
    return tuple(best.values())


def _asked(slot: str) -> str:
    """The fact that a slot of a caution prints, in words."""
    known = cautions()
    words = {str(name): text for name, text in known.facts.items()}
    return words.get(known.slots[slot].comes_from, slot.replace("_", " "))


def _refuse_open_slots(met: Mapping[str, tuple[PlacedCaution, ...]]) -> None:
    messages = [
        f'step {step_id}: its caution "{one.entry.title}" prints the {_asked(name)}, which this page cannot know. Write '
        "for_each: system at its top, so that the tank is known, or choose an action that moves no water of a tank"
        for step_id, placed in met.items()
        for one in placed
        for name in one.entry.slots
        if any(f"{{{name}}}" in text for text in one.wording)
    ]
    if messages:
        raise CautionProblem(dict.fromkeys(messages))
