"""What must not be, one module a subject; each rule looks at the room before and after one step.

What you may touch here: when something is refused, its sentence with the numbers, and the mends that may be tried.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.finding import Finding
from macros.rehearsal.model.state import State
from macros.rehearsal.model.steps import RunStep
from macros.rehearsal.rules.crop import food_in_gloves, plants_drowned, plants_dry
from macros.rehearsal.rules.current import hands_in_current, wet_under_lamps
from macros.rehearsal.rules.solutions import (
    batch_at_hand,
    measured_sample,
    one_after_another,
    poured_in,
    same_measure,
)
from macros.rehearsal.rules.surfaces import (
    on_dirt,
    residue_at_feed,
    residue_left,
    too_short,
    where_plants_stand,
)
from macros.rehearsal.rules.water import (
    drained_dry,
    filled_too_far,
    let_in_and_out,
    no_named_way,
    pump_without_water,
    seen,
    state_needed,
)

RULES: tuple[Callable[[State, State, RunStep, Equipment], Iterator[Finding]], ...] = (
    filled_too_far, pump_without_water, hands_in_current, wet_under_lamps, let_in_and_out, drained_dry, state_needed, seen,
    poured_in, one_after_another, where_plants_stand, on_dirt, too_short, residue_left, residue_at_feed, batch_at_hand, same_measure, measured_sample,
    plants_dry, plants_drowned, food_in_gloves, no_named_way,
)  # fmt: skip
"""Every rule that looks at one step. R-12 looks at the end of a run, R-14 and R-15 at a page."""
