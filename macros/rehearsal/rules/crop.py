"""R-10, R-11: floods and gaps that plants stand, and hands that touch food."""

from __future__ import annotations

from collections.abc import Iterator

from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.finding import Finding, Mend
from macros.rehearsal.model.state import State
from macros.rehearsal.model.steps import RunStep
from macros.rehearsal.rules.water import RUN_BACK

CHEMICAL_GLOVES = "gloves_chem"


def plants_dry(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-10: no gap between floods longer than the thirstiest full-grown plant stands."""
    dry, dried = after.clock - before.last_flood, before.clock - before.last_flood
    if before.words["crop"] != "in" or of.stands_dry is None or after.last_flood >= after.clock:
        return
    if dry > of.stands_dry >= dried:
        what = f"by the end of this step the plants have stood {dry:.0f} min without a flood; the thirstiest stand {of.stands_dry:.0f} min"
        yield Finding("R-10", step, what, "The pump floods again before that")


def plants_drowned(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-10: no flood longer than the house allows with plants in it."""
    if (
        before.words["crop"] != "in"
        or of.longest_flood is None
        or before.up_since is None
        or not after.trays.litres
    ):
        return
    wet = after.clock - before.up_since
    if wet > of.longest_flood >= before.clock - before.up_since:
        what = f"the trays stand flooded for {wet:.0f} min; this house allows {of.longest_flood:.0f} min with plants"
        yield Finding("R-10", step, what, "A flood ends before that", (RUN_BACK,))


def food_in_gloves(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-11: food is not touched in gloves that touched a chemical."""
    if step.food and CHEMICAL_GLOVES in before.gear:
        off = Mend("Put a step before it that takes the gloves off", (("gear_off", "yes"),))
        what = "food is touched in the gloves that handled a chemical"
        yield Finding("R-11", step, what, "Gloves off and hands washed before food", (off,))
