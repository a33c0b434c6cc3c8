"""What a day's plan must know of a step beside what its page prints."""

from __future__ import annotations

from collections.abc import Sequence

from macros.house import House
from macros.manual.cautions.page_safety import opens_stock
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.procedures.expand_steps import PlannedStep
from macros.page_model.page import AmountView, StepTiming
from macros.published.labour.effects import effect_of


def step_timing(
    step: PlannedStep, facts: StepFacts, house: House, amounts: Sequence[AmountView]
) -> StepTiming:
    """Second person, open stock and measures of a step, and where it is written.

    A load not known counts as one person's: a caution tells it.
    """
    data = step.data
    limit = house.lifting.one_person_limit.to("kg") if house.lifting is not None else None
    heavy = any(
        lift.persons > 1 or (limit is not None and lift.mass_kg is not None and lift.mass_kg > limit)
        for lift in facts.lifts
    )
    return StepTiming(
        step=data.id,
        keys=tuple(step.keys.items()),
        two_people=heavy or data.hands == "2",
        open_stock=opens_stock(step),
        place=data.place("wait") if data.wait is not None else data.place("id"),
        measures=() if _wets(step) else _measures(amounts),
    )


def _wets(step: PlannedStep) -> bool:
    """Whether the step puts on a batch that is made already: its amount is told, not measured."""
    said = step.data.does
    return bool(effect_of(step.data.action).does.wet or (said is not None and said.wet))


def _measures(amounts: Sequence[AmountView]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(filling.tool for amount in amounts for filling in amount.fillings))
