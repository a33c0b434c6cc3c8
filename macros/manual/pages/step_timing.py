"""What a day's plan must know of a step beside what its page prints."""

from __future__ import annotations

from macros.house import House
from macros.manual.cautions.page_safety import opens_stock
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.procedures.expand_steps import PlannedStep
from macros.page_model.page import StepTiming


def step_timing(step: PlannedStep, facts: StepFacts, house: House) -> StepTiming:
    """Second person and open stock of a step, and where it is written. A load not known counts as one person's: a caution tells it."""
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
    )
