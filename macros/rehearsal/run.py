"""Runs the steps of a page, one after another, and keeps how the room stands after each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from macros.published.labour.effects import RoomWords
from macros.rehearsal.model.acts import done, words_differ
from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.finding import Finding
from macros.rehearsal.model.state import Batch, State, Water
from macros.rehearsal.model.steps import RunStep
from macros.rehearsal.model.words import said as said_word
from macros.rehearsal.rules import RULES

IN_USE: Mapping[str, tuple[str, ...]] = {
    "pump": ("in",), "air": ("in",), "lamps": ("in",), "fan": ("in",), "dehumidifier": ("in",), "timer": ("auto",),
    "breaker": ("on",), "valve": ("shut",),
    "lid": ("shut",), "stones": ("in",), "bungs": ("out",), "crop": ("in",), "tank": ("fill_mark", "refill_mark"),
    "water": ("feed",), "tray_faces": ("used",), "plates": ("used",), "tank_walls": ("used",), "loop": ("used",), "parts": ("used",),
    "blades": ("used",), "trays": ("drained",),
}  # fmt: skip
"""A system that grows plants: what a page starts from where it says nothing else. The level is anywhere between the
marks, so both ends are run."""

PUT_BACK = (
    "pump",
    "air",
    "lamps",
    "fan",
    "dehumidifier",
    "timer",
    "breaker",
    "valve",
    "lid",
    "stones",
    "bungs",
)
"""What a page puts back, or says at its end how it is left."""


@dataclass(frozen=True)
class Moment:
    """A step and how the room stands after it."""

    step: RunStep
    after: State


@dataclass(frozen=True)
class Run:
    """One run from one start: the start, a moment for each step, and what is refused."""

    start: State
    moments: tuple[Moment, ...]
    findings: tuple[Finding, ...]

    @property
    def end(self) -> State:
        """How the room stands at the end."""
        return self.moments[-1].after if self.moments else self.start


def starts(said: RoomWords | None, of: Equipment) -> Iterator[State]:
    """Every start a page allows: what it does not say stands as in use."""
    told = said.said() if said else {}
    words = {**IN_USE, **told}
    if "water" not in told:
        words["water"] = _water_said(words)
    words |= {
        word: ("off" if word == "timer" else "rinsed" if word == "plates" else "out",)
        for word in words
        if of.lacks(word)
    }
    words["tank"] = tuple(level for level in words["tank"] if level in of.levels) or ("fill_mark",)
    for values in product(*words.values()):
        yield _start(dict(zip(words, values, strict=True)), of)


def _water_said(words: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """What the tank holds where the page does not say it."""
    if words["tank"] == ("empty",):
        return ("none",)
    return IN_USE["water"] if "in" in words["crop"] else ("plain",)


def _start(words: dict[str, str], of: Equipment) -> State:
    litres = of.levels[words["tank"]]
    held = {"feed": {"feed": litres * FEED}, "sanitizer": {}}.get(words["water"], {})
    made = {name: Batch(batch.litres, 0.0) for name, batch in of.batches.items()}
    kept = {word: value for word, value in words.items() if word not in ("tank", "water", "trays")}
    return State(
        words=kept,
        tank=Water(litres, held),
        held_up=Water(
            of.held, {name: amount / litres * of.held for name, amount in held.items()} if litres else {}
        ),
        batches=made,
    )


FEED = 4.0
"""[mL/L] Feed in a tank in use, as far as a run needs it to know feed from water; our own figure."""


def run(steps: Sequence[RunStep], start: State, of: Equipment, ends_in: RoomWords | None = None) -> Run:
    """The steps from a start. A batch a page makes itself is not at hand before it."""
    made_here = {step.task for step in steps if step.does.make or step.does.pour == "stock"}
    state = replace(
        start, batches={name: one for name, one in start.batches.items() if name not in made_here}
    )
    first, moments, findings = state, [], []
    for step in steps:
        if step.only_when is not None and words_differ(state, step.only_when.said(), of):
            moments.append(Moment(step, state))
            continue
        after = done(state, step, of)
        findings += [found for rule in RULES for found in rule(state, after, step, of)]
        moments.append(Moment(step, after))
        state = after
    if steps:
        findings += _end(first, state, steps[-1], ends_in, of)
    return Run(first, tuple(moments), tuple(findings))


def _end(
    start: State, end: State, last: RunStep, ends_in: RoomWords | None, of: Equipment
) -> Iterator[Finding]:
    """R-12: the page ends as it says, and puts back what it says nothing of."""
    said = ends_in.said() if ends_in else {}
    yield from _not_as_said(end, ends_in, last, of) if ends_in else ()
    for word in PUT_BACK:
        if word not in said and not of.lacks(word) and end.words[word] != start.words[word]:
            yield Finding("R-12", last, f"at the end {said_word(word, (end.words[word],))}: nobody changes it back, and the page does not say so",
                          "What a page takes out, opens or unplugs it puts back, or says so in ends_in", ())  # fmt: skip
    if end.trays.litres and "trays" not in said:
        yield Finding(
            "R-12",
            last,
            f"at the end {end.trays.litres:.1f} L still stand on the trays",
            "A page ends with its trays drained",
            (),
        )


def _not_as_said(end: State, ends_in: RoomWords, last: RunStep, of: Equipment) -> Iterator[Finding]:
    for word, (stands, wanted) in words_differ(end, ends_in.said(), of).items():
        if not of.lacks(word):
            what = (
                f"at the end {said_word(word, (stands,))}, and the page says that {said_word(word, wanted)}"
            )
            yield Finding("R-12", last, what, "A page ends as it says")
