"""The sentence of a step: a condition may stand first, then a verb of its action."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.manual.procedures.file_format import StepData
from macros.published.safety.actions import actions


def condition_of(sentence: str) -> str:
    """`If pH is outside its band` of a step that is done only then; empty for a step that is always done."""
    return sentence.partition(", ")[0] if sentence.startswith("If ") else ""


def wrong_verb(step: StepData, sentence: str) -> Iterator[Problem]:
    """A step begins with a verb of its action; a condition may stand before it."""
    action = actions().get(step.action)
    if not sentence or action is None:
        return
    order = sentence.partition(", ")[2] if sentence.startswith(("If ", "When ")) else sentence
    verb = order.split(" ")[0].rstrip(".,")
    if verb.lower() not in {known.lower() for known in action.verbs}:
        yield Problem(
            step.place("do"),
            step.key("do"),
            f'the step begins with "{verb}"',
            f"A step of the action {step.action} begins with one of: {', '.join(action.verbs)}",
            "Put the verb first, or choose the action that fits",
        )
