"""R-01, R-02, R-04, R-13: water that comes back, that the pump needs, that can move, and where it goes."""

from __future__ import annotations

from collections.abc import Iterator

from macros.rehearsal.model.acts import words_differ
from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.finding import Finding, Mend
from macros.rehearsal.model.state import State
from macros.rehearsal.model.steps import RunStep
from macros.rehearsal.model.words import FACES, SLACK, litres, said

UNPLUG = Mend("Put a step before it that unplugs the pump", (("pump", "out"),))
FILL = Mend("Fill the tank to its mark before it", (("fill", "fill_mark"),))
LEAVE_OUT = Mend("Leave the step out", drop=True)
DRAIN = Mend("Drain the tank before it", (("valve", "open"), ("drain", "yes")), (("valve", "shut"),))
MOST_TO_MOP = 2.0
"""[L] Over the heel; our own figure."""
_DOWN = (("pump", "out"), ("flood", "down"))
RUN_BACK = Mend("Put a step before it that unplugs the pump and lets the trays run back", _DOWN)
RUN_BACK_AND_PLUG = Mend(
    f"{RUN_BACK.text}, and one at the end of the page that plugs it in again", _DOWN, (("pump", "in"),)
)


def filled_too_far(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-01: all water of the loop comes back at any moment, for power fails in any minute."""
    if step.does.fill is None:
        return
    up_now = after.trays.litres
    comes = after.tank.litres + (up_now or (of.draw - of.held if after.pump_live else 0.0))
    limit, name = (of.levels["fill_mark"], "fill mark") if up_now and comes <= of.brim else (of.brim, "brim")
    if comes <= limit + SLACK:
        return
    stand = "stand on the trays" if up_now else "may stand on the trays, for the pump is plugged in"
    yield Finding(
        "R-01",
        step,
        f"the tank is filled to {litres(after.tank.litres)} while {litres(comes - after.tank.litres)} {stand}: when they come "
        f"back, {litres(comes)} are in a tank that holds {litres(limit)} at its {name}",
        "A tank is filled with its trays drained and its pump unplugged",
        (RUN_BACK, RUN_BACK_AND_PLUG),
    )


def pump_without_water(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-02: at the top of a flood the pump still stands in its least water; plugged in it stands in water at all."""
    need = of.dead + of.draw
    starts = not before.pump_live or before.words["timer"] != "auto"
    if step.does.flood in ("once", "up", "timer"):
        left = max(0.0, after.all_water - of.draw)
        if left < of.dead - SLACK:
            yield Finding(
                "R-02",
                step,
                f"a flood takes {litres(of.draw)} out of {litres(after.all_water)}: {litres(left)} are left where the pump needs "
                f"{litres(of.dead)}, so the trays never fill and the pump runs dry",
                f"A flood needs {litres(need)} in the tank",
                (FILL,),
            )
    elif after.pump_live and not before.pump_live and after.all_water < of.dead:
        yield Finding(
            "R-02",
            step,
            f"the pump is plugged in while {litres(after.all_water)} are in the tank; it needs {litres(of.dead)}",
            "A pump is plugged in under water",
            (FILL, LEAVE_OUT),
        )
    elif (
        floods_by_itself(after)
        and after.all_water < need - SLACK
        and (starts or before.all_water >= need - SLACK)
    ):
        yield Finding(
            "R-02",
            step,
            f"the pump stays plugged into its timer over {litres(after.all_water)}: a flood takes {litres(of.draw)} and the pump "
            f"needs {litres(of.dead)}",
            f"A pump on its timer needs {litres(need)} in the tank",
            (UNPLUG, FILL),
        )


def floods_by_itself(state: State) -> bool:
    """Whether the timer may start a flood in the next minute."""
    return state.pump_live and state.words["timer"] == "auto" and not state.trays.litres


def let_in_and_out(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-04: a tank is filled with its drain shut, from below the mark, to a mark the house has."""
    level = step.does.fill
    if level is None:
        return
    if after.words["valve"] == "open":
        shut = Mend("Put a step before it that shuts the drain", (("valve", "shut"),))
        what = "water is let in while the drain of the tank is open: it runs straight out"
        yield Finding("R-04", step, what, "The drain is shut before the tank is filled", (shut,))
    if level not in of.levels:
        what = f"the tank is to be filled to the {level.replace('_', ' ')}, which is not worked out for this house"
        yield Finding("R-04", step, what, "A tank is filled to a mark it has", (LEAVE_OUT,))
    elif before.tank.litres > of.levels[level] + SLACK + of.held:
        what = f"the tank is to be filled to {litres(of.levels[level])}, and {litres(before.tank.litres)} stand in it already"
        yield Finding("R-04", step, what, "A tank is filled from below its mark", (LEAVE_OUT,))


def drained_dry(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-04: only a tank with water in it runs out, and only a heel is mopped out."""
    if step.does.mop and before.tank.litres > of.heel + MOST_TO_MOP:
        what = f"{litres(before.tank.litres)} are to be mopped out by hand"
        yield Finding("R-04", step, what, "A tank is drained before its heel is mopped", (DRAIN,))
    if step.does.drain and before.tank.litres + before.trays.litres <= of.heel + SLACK:
        what = f"a tank with {litres(before.tank.litres)} in it is to be drained: nothing flows"
        yield Finding("R-04", step, what, "A tank is drained that holds more than its heel", (LEAVE_OUT,))


_OF_OTHERS = frozenset(
    {"crop", "water", "tray_faces", "plates", "tank_walls", "loop", "parts", "blades", "lamps"}
)
"""Words whose lack other rules tell."""


def state_needed(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-04: plugs, valve, lid and trays stand as the work needs them."""
    for word, (stands, wanted) in words_differ(before, step.needed, of).items():
        if word in _OF_OTHERS or word in step.makes or (word == "pump" and step.does.hands_in):
            continue
        what = f"this needs that {said(word, wanted)}, and here {said(word, (stands,))}"
        if word == "trays":
            what = f"this needs drained trays, and {litres(before.trays.litres)} stand in them"
            mends: tuple[Mend, ...] = (RUN_BACK, RUN_BACK_AND_PLUG)
        else:
            mends = (
                Mend(f"Put a step before it after which {said(word, wanted[:1])}", ((word, wanted[0]),)),
            )
        yield Finding("R-04", step, what, "A step begins in the state its work needs", mends)


def seen(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-04: what a step is to see can be seen then."""
    possible = {
        "bubbles": (after.air_moves, "the air pump or its stones are out"),
        "flow": (step.does.drain or step.does.flush, "nothing is open"),
        "flood": (after.pump_live or step.does.flood is not None, "the pump is unplugged"),
    }
    for one in step.does.sees:
        can, why = possible[one]
        if not can:
            yield Finding(
                "R-04",
                step,
                f"it is to see {one}, and {why}",
                "What is to be seen can be seen then",
                (LEAVE_OUT,),
            )


def no_named_way(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-13: wash and rinse water of trays and walls runs through the tank, and out of it only while its drain is open."""
    faces = [face for face in (*step.does.wash, *step.does.rinse) if face in ("tray_faces", "tank_walls")]
    if faces and after.words["valve"] == "shut" and step.does.flood is None:
        out = Mend("Put a step before it that opens the drain", (("valve", "open"),))
        back = Mend(
            f"{out.text}, and one at the end of the page that shuts it",
            (("valve", "open"),),
            (("valve", "shut"),),
        )
        what = f"the water from {FACES[faces[0]]} runs into the tank, whose drain is shut, and stands there"
        yield Finding("R-13", step, what, "Wash and rinse water goes a named way out", (out, back))
