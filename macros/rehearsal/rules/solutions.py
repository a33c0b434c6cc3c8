"""R-05, R-07, R-08, R-09: what is poured into what, with which measure, out of which batch."""

from __future__ import annotations

from collections.abc import Iterator

from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.finding import Finding, Mend
from macros.rehearsal.model.state import State
from macros.rehearsal.model.steps import RunStep
from macros.rehearsal.model.words import SLACK, litres
from macros.rehearsal.rules.water import LEAVE_OUT


def poured_in(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-05: what is poured meets enough water, and it moves."""
    what = step.does.pour
    if what is None or what == "detergent":
        return
    level = "first_line" if what == "stock" else "refill_mark"
    least = of.levels.get(level, of.dead)
    if before.tank.litres < least - SLACK:
        fill = Mend("Fill the tank before it", (("fill", "first_line" if what == "stock" else "first_mark"),))
        told = f"it is poured into {litres(before.tank.litres)} of water; it needs {litres(least)}"
        yield Finding(
            "R-05", step, told, "Most of the water stands in the tank before anything is poured in", (fill,)
        )
    if not (after.air_moves or step.does.stir or before.trays.litres):
        told = "it is poured into water that stands still: it sinks and lies on the floor of the tank"
        allowed = "Water moves while something is poured: bubbles, or a paddle"
        yield Finding("R-05", step, told, allowed, (Mend("Stir while it is poured", stir=True),))


def one_after_another(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-05: one part is mixed in before the next, and pH comes after the feed."""
    what = step.does.pour
    if before.unmixed and what == "part" and before.unmixed[0] != step.part:
        told = "it is poured on the part before it, which nothing has stirred in"
        stir = Mend("Put a step before it that stirs", (("stir", "yes"),))
        yield Finding("R-05", step, told, "Each part is mixed in before the next", (stir,))
    if what in ("acid", "base") and before.tank.strength("feed") == 0:
        told = "pH is set before the feed is in: the feed is acid too and moves it again"
        yield Finding("R-05", step, told, "Feed first, pH last")


def batch_at_hand(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-07: a batch that is used was made, has enough left and lives."""
    facts = of.batches.get(step.task)
    if facts is None or not (step.does.wet or step.does.dump or step.does.sample) or step.does.flood:
        return
    name, batch = step.task.replace("_", " "), before.batches.get(step.task)
    if batch is None:
        told = f"the batch for {name} was not made before it"
        yield Finding("R-07", step, told, "A batch is made and proved first", (LEAVE_OUT,))
        return
    age = before.clock - batch.made_at
    if step.does.wet and age > facts.life:
        told = f"the batch for {name} is {age:.0f} min old here and dead after {facts.life:.0f} min"
        yield Finding("R-07", step, told, "A dead batch is thrown away and made anew")
    if "tray_faces" in step.does.wet and batch.litres <= 1e-9:
        told = (
            f"nothing is left of the {litres(facts.litres)} of {name}: every face was wetted with it already"
        )
        yield Finding("R-07", step, told, "A batch holds what all its uses take", (LEAVE_OUT,))


def same_measure(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-08: a measure that held another liquid is rinsed before the next."""
    held = dict(before.measures)
    for tool, liquid in step.groups:
        last = held.get(tool, liquid)
        if last not in (liquid, "water"):
            rinse = Mend("Put a step before it that rinses the measure", rinse=True)
            told = f"{tool} measures {liquid} and last held {last}"
            yield Finding("R-08", step, told, "A measure is rinsed between two liquids", (rinse,))
        held[tool] = liquid


def measured_sample(before: State, after: State, step: RunStep, of: Equipment) -> Iterator[Finding]:
    """R-09: a strip is read in a sample that a measure of the house can measure."""
    reads = step.action == "test_strip" and any(amount.id == "strip_band" for amount in step.amounts)
    facts = of.batches.get(step.task)
    if reads and facts is not None and facts.thinned_for_strip and step.task not in before.sampled:
        told = "a strip is read in a dilution that no step measures with a tool of the house"
        yield Finding("R-09", step, told, "A sample is measured with a tool that has its mark")
