"""Tries each advice before it is printed: the page with it must be free of what it mends, and no worse."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from macros.published.labour.effects import Does, RoomWords
from macros.rehearsal.model.finding import Finding, Mend
from macros.rehearsal.model.steps import RunStep

Again = Callable[[Sequence[RunStep]], Sequence[Finding]]
"""Runs changed steps from the same starts and returns what is refused then."""


def advice(finding: Finding, steps: Sequence[RunStep], all_of: Sequence[Finding], again: Again) -> str:
    """The first mend that holds when it is followed; else where to look."""
    same = {one.same for one in all_of}
    for mend in finding.mends:
        found = {one.same for one in again(mended(steps, finding.step, mend))}
        if finding.same not in found and len(found - same) == 0:
            return mend.text
    return f"`trayside rehearse {finding.step.page}` shows how the room stands before and after it"


def mended(steps: Sequence[RunStep], at: RunStep, mend: Mend) -> list[RunStep]:
    """The steps with the mend at the step it is for."""
    changed: list[RunStep] = []
    for step in steps:
        if step is not at:
            changed.append(step)
            continue
        if mend.before or mend.rinse:
            changed.append(_new(step, mend.before, "rinse" if mend.rinse else "wait"))
        if mend.stir:
            step = replace(step, does=step.does.model_copy(update={"stir": True}))
        changed += [] if mend.drop else [step]
    if mend.at_end:
        changed.append(_new(steps[-1], mend.at_end, "wait"))
    return changed


def _new(beside: RunStep, words: Sequence[tuple[str, str]], action: str) -> RunStep:
    """A step beside another that does no more than these words."""
    one = {"fill", "flood"}
    said: dict[str, object] = {
        word: True if value == "yes" else value if word in one else (value,) for word, value in words
    }
    return replace(
        beside, id=f"{beside.id}, beside it", action=action, does=Does().model_copy(update=said), needs=RoomWords(),
        amounts=(), groups=(), minutes=1.0, waits=0.0, gear=frozenset(), food=False, task="", part="", not_said=(),
    )  # fmt: skip
