"""R-03: no hand where the current is."""

from __future__ import annotations

from collections.abc import Iterator

from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.finding import Finding, Mend
from macros.rehearsal.model.state import State
from macros.rehearsal.model.steps import RunStep
from macros.rehearsal.rules.water import UNPLUG

_WHERE = {"tank": "the tank", "trays": "a tray", "joint": "a joint"}
_AND_BACK = Mend(
    f"{UNPLUG.text}, and one at the end of the page that plugs it in again",
    (("pump", "out"),),
    (("pump", "in"),),
)


def hands_in_current(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-03: the pump is unplugged before a hand goes into tray, tank or joint."""
    if step.does.hands_in and before.pump_live and after.pump_live:
        places = " and ".join(_WHERE[one] for one in step.does.hands_in)
        timer = ", on AUTO: a flood can start at any minute" if before.words["timer"] == "auto" else ""
        what = f"hands go into {places} while the pump is plugged in{timer}"
        yield Finding("R-03", step, what, "A pump is unplugged before a hand goes in", (UNPLUG, _AND_BACK))


def wet_under_lamps(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-03: lamps are unplugged before water is sprayed or brushed under them."""
    if "lamps" in step.needed and not before.is_so("lamps", step.needed["lamps"], of):
        out = Mend("Put a step before it that unplugs the lamps", (("lamps", "out"),))
        back = Mend(
            f"{out.text}, and one at the end of the page that plugs them in",
            (("lamps", "out"),),
            (("lamps", "in"),),
        )
        what = "wet work stands under lamps that are plugged in"
        yield Finding(
            "R-03",
            step,
            what,
            "Lamps are unplugged before water is sprayed or brushed under them",
            (out, back),
        )
