"""Which cautions a page shows, where and why: from plain facts of its steps and the published catalogue.

A caution stands directly before the first step of the page that meets its trigger, and again before a later
step only where its word or its slots differ. Before one step the worst comes first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from macros.manual.cautions.cautions_of_step import Shown, met_at
from macros.manual.cautions.incompatible_pairs import page_pairs, pairs_at
from macros.manual.cautions.label_words import LabelLine
from macros.manual.cautions.step_facts import Lift, StepFacts
from macros.page_model.page import CautionView
from macros.published.safety.bands import codes_of, weak_ppe
from macros.published.safety.cautions import Catalogue, catalogue
from macros.published.safety.pairs import HousePair, MetPair
from macros.published.safety.protection import first_aid, in_ppe_order
from macros.published.safety.signal_words import worst_first
from macros.published.safety.substances import Handling, substances

__all__ = [
    "CautionProblem",
    "Handling",
    "HousePair",
    "Lift",
    "PageCautions",
    "Shown",
    "StepCautions",
    "StepFacts",
    "page_cautions",
    "view",
]

MOST_BEFORE_ONE_STEP = 3
"""More boxes than this before one step: the job wants another cut, or a section message (our own rule)."""


class CautionProblem(ValueError):  # noqa: N818 - named for what it tells
    """Slots that the facts leave open. `messages` lists them all."""

    def __init__(self, messages: Iterable[str]) -> None:
        self.messages = tuple(messages)
        super().__init__("\n".join(self.messages))


@dataclass(frozen=True)
class StepCautions:
    """What stands before one step, worst first; `met` lists every caution whose trigger the step meets."""

    step_id: str
    cautions: tuple[Shown, ...]
    met: tuple[Shown, ...]


@dataclass(frozen=True)
class PageCautions:
    """Everything of a page that follows from its cautions."""

    steps: tuple[StepCautions, ...]
    summary: tuple[Shown, ...]
    ppe: tuple[str, ...]
    first_aid: tuple[str, ...]
    flush_point: bool
    flush_because: tuple[str, ...]
    labels: tuple[LabelLine, ...]
    pairs: tuple[MetPair, ...]
    uncovered: tuple[str, ...]
    crowded: tuple[str, ...]

    def before(self, step_id: str) -> tuple[Shown, ...]:
        """What stands before that step; KeyError for a step that is not on the page."""
        return {one.step_id: one.cautions for one in self.steps}[step_id]


def page_cautions(
    steps: Sequence[StepFacts],
    also_on_page: Iterable[Handling | str] = (),
    elsewhere: Iterable[Handling | str] = (),
    house_pairs: Sequence[HousePair] = (),
    unit_style: str = "metric",
) -> PageCautions:
    """The cautions of one page.

    Parameters
    ----------
    steps : facts of its steps, in order
    also_on_page : what its supply list or shelf holds beside what the steps handle
    elsewhere : what other pages of the same job, day, drain line or shelf hold
    house_pairs : pairs the house adds
    unit_style : metric or us, for the numbers in slots

    Raises
    ------
    CautionProblem
        a slot that no fact fills; all of them at once.
    RangeProblem
        a strength outside 0 to 100 %.
    """
    known = catalogue()
    shelf = _things(also_on_page)
    pairs = page_pairs(steps, shelf, _things(elsewhere), house_pairs)
    stage = steps or [StepFacts("", "")]
    found = [met_at(step, here, unit_style) for step, here in zip(stage, pairs_at(stage, pairs), strict=True)]
    _refuse_open_slots(stage, found)
    placed = _placed(stage, found)
    summary = _summary(_all(placed), known)
    handled = [item for step in steps for item in step.strongest]
    flush = [
        item
        for item in handled
        if not first_aid().flush_point.codes.isdisjoint(codes_of(item)) or item.sds_codes is None
    ]
    return PageCautions(
        steps=placed if steps else (),
        summary=summary,
        ppe=in_ppe_order(
            [one for shown in _all(placed) for one in shown.ppe]
            + [one for item in handled for one in weak_ppe(item)]
        ),
        first_aid=tuple(
            one for one in first_aid().items if any(one in shown.first_aid for shown in _all(placed))
        ),
        flush_point=bool(flush),
        flush_because=tuple(dict.fromkeys(_named(item) for item in flush)),
        labels=tuple(dict.fromkeys(shown.label for shown in _all(placed) if shown.label)),
        pairs=pairs,
        uncovered=tuple(
            dict.fromkeys(
                item.shown_name
                for item in handled
                if item.substance in substances() and not substances()[item.substance].cautioned
            )
        ),
        crowded=tuple(step.step_id for step in placed if len(step.cautions) > MOST_BEFORE_ONE_STEP),
    )


def view(shown: Shown) -> CautionView:
    """The caution as the templates get it."""
    return CautionView(
        id=shown.id,
        word=shown.word,
        title=shown.title,
        hazard=shown.hazard,
        consequence=shown.consequence,
        avoidance=shown.avoidance,
        short_hazard=shown.short_hazard,
        short_avoidance=shown.short_avoidance,
        label_line=shown.label.text if shown.label else "",
        not_known=tuple(f"{fact}: not known, measure this" for fact in shown.not_known),
        why=shown.why,
    )


def _placed(stage: Sequence[StepFacts], found: Sequence[tuple[Shown, ...]]) -> tuple[StepCautions, ...]:
    seen: set[object] = set()
    placed = []
    for step, met in zip(stage, found, strict=True):
        new = tuple(one for one in met if one.wording not in seen)
        seen.update(one.wording for one in met)
        placed.append(StepCautions(step.step_id, new, met))
    return tuple(placed)


def _summary(shown: Sequence[Shown], known: Catalogue) -> tuple[Shown, ...]:
    """One of each id, worst first: its worst word, and of these the strongest or heaviest."""
    best: dict[str, Shown] = {}
    for one in shown:
        held = best.get(one.id)
        if held is None or (worst_first(one.word), -one.weight) < (worst_first(held.word), -held.weight):
            best[one.id] = one
    return tuple(sorted(best.values(), key=lambda one: (worst_first(one.word), known[one.id].place_in_file)))


def _refuse_open_slots(stage: Sequence[StepFacts], found: Sequence[tuple[Shown, ...]]) -> None:
    messages = [
        f"step {step.step_id}: {one.id} needs {{{name}}}, and no fact of the step fills it"
        for step, met in zip(stage, found, strict=True)
        for one in met
        for name, value in one.slots
        if value == "{" + name + "}"
    ]
    if messages:
        raise CautionProblem(dict.fromkeys(messages))


def _things(items: Iterable[Handling | str]) -> tuple[Handling, ...]:
    return tuple(Handling(one) if isinstance(one, str) else one for one in items)


def _all(placed: Sequence[StepCautions]) -> list[Shown]:
    return [one for step in placed for one in step.cautions]


def _named(item: Handling) -> str:
    return (
        item.shown_name if item.percent_by_mass is None else f"{item.shown_name} {item.percent_by_mass:g} %"
    )
