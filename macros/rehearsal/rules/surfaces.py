"""R-06: sanitizer where no plant stands, on what was washed, for its time, and gone before feed and plants."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.units import convert
from macros.rehearsal.model.acts import sanitizer_left, words_differ
from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.finding import Finding, Mend
from macros.rehearsal.model.state import State
from macros.rehearsal.model.steps import RunStep
from macros.rehearsal.model.words import FACES, said
from macros.rehearsal.rules.water import LEAVE_OUT

_OF_LOOP = frozenset({"tray_faces", "loop", "tank_walls"})
_FITTING = ("water", "tray_faces", "plates", "tank_walls", "loop", "parts", "blades")


def where_plants_stand(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-06: no sanitizer or detergent where a crop stands; work and surface fit each other."""
    touches = _OF_LOOP & {*step.does.wet, *step.does.wash} or step.does.pour in ("stock", "detergent")
    if touches and before.words["crop"] == "in":
        what = "sanitizer or detergent goes where plants stand"
        yield Finding("R-06", step, what, "The crop is out before it", (LEAVE_OUT,))
    lacking = words_differ(before, step.needed, of)
    for word in _FITTING:
        if word in lacking and word not in step.does.wet:
            stands, wanted = lacking[word]
            what = f"this needs that {said(word, wanted)}, and here {said(word, (stands,))}"
            yield Finding("R-06", step, what, "Work and surface fit each other")


def on_dirt(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-06: dirt uses a sanitizer up."""
    for face in step.does.wet:
        if before.words[face] == "used":
            wash = Mend("Put a step before it that washes them", ((face, "washed"),))
            what = f"sanitizer goes on {FACES[face]} before they are washed: dirt uses it up"
            yield Finding("R-06", step, what, "Wash first, then sanitize", (wash,))


def too_short(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-06: a surface stays wet for the time of its task before anything takes the sanitizer off."""
    ended: list[str] = [
        face for face in ("tray_faces", "plates", "parts", "blades") if face in step.does.rinse
    ]
    ended += ["loop", "tank_walls"] if step.does.drain else []
    for face in ended:
        if face in before.wet_since:
            task, since = before.wet_since[face]
            needed = of.batches[task].wet if task in of.batches else 0.0
            wet = before.clock - since
            if wet + 1e-9 < needed:
                what = f"{FACES[face]} were wet for {wet:.0f} min; {task.replace('_', ' ')} needs {needed:.0f} min"
                yield Finding("R-06", step, what, "The time on the label is over before the rinse")


def residue_left(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-06: what the last rinse leaves on the trays is under the limit."""
    if "tray_faces" in step.does.rinse and not step.does.flood and after.words["tray_faces"] == "wet":
        rinse = sum(
            convert(amount.rounded, amount.unit, "L") for amount in step.amounts if amount.id == "rinse_trays"
        )
        what = "one rinse leaves too much sanitizer on the trays"
        if rinse:
            strength = max(before.faces.held.values(), default=0.0) / (rinse + before.faces.litres)
            what = f"after one rinse the water off the trays holds about {strength:.0f} mg/L of sanitizer; {of.residue or 0:g} mg/L may stay"
        yield Finding("R-06", step, what, f"These trays need {of.tray_rinses} rinses")


def residue_at_feed(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-06: what meets feed and plants was rinsed until the strip is clean."""
    if not (step.does.pour == "part" or step.action == "replant"):
        return
    left = sanitizer_left(before)
    if of.residue is not None and left > of.residue:
        what = f"tank, trays or tubes still hold {left:.0f} mg/L of sanitizer; {of.residue:g} mg/L may stay"
        yield Finding("R-06", step, what, "Rinse until the strip is clean before feed or plants")
    for face in sorted(_OF_LOOP):
        if before.words[face] in ("wet", "sanitized"):
            rinse_it = Mend("Put a step before it that rinses them", ((face, "rinsed"),))
            what = f"{FACES[face]} carry sanitizer that nobody has rinsed off"
            yield Finding("R-06", step, what, "Rinse before feed or plants", (rinse_it,))
