"""What a house's own step takes away from the shipped step whose id it has."""

from __future__ import annotations

from collections.abc import Iterator

from macros.manual.procedures.asked_words import readable_words
from macros.manual.procedures.file_format import StepData
from macros.manual.procedures.page_texts import AskedWord

_SAME = ("action", "repeat", "only_with", "only_when", "where")
"""Fields that say what is done, and in which houses and states."""


def weakened(step: StepData, own: StepData) -> Iterator[tuple[str, str]]:
    """Each field of `own` that tells, does or guards less than the shipped `step`, and the words for it."""
    for mark in ("critical", "hold"):
        if getattr(step, mark) and not getattr(own, mark):
            yield mark, f"here it is not marked {mark}: yes"
    yield from _done_otherwise(step, own)
    lost = sorted(_amounts(step) - _amounts(own))
    if lost:
        yield "amount", f"it does not tell {', '.join(lost)}"
    handled = sorted(_handled(step) - _handled(own))
    if handled:
        yield "handles", f"it does not handle {', '.join(chemical for chemical, _ in handled)}"
    if step.until and not own.until:
        yield "until", "it does not say until when"


def _done_otherwise(step: StepData, own: StepData) -> Iterator[tuple[str, str]]:
    for field in _SAME:
        theirs, ours = _as_written(step, field), _as_written(own, field)
        if theirs != ours:
            yield field, f"{field} is {ours or 'not given'} instead of {theirs or 'not given'}"


def _as_written(step: StepData, field: str) -> str:
    value = step.as_written.get(field)
    return "" if value is None else str(value)


def _handled(step: StepData) -> set[tuple[str, str]]:
    return {(one.chemical, one.at) for one in step.handles}


def _amounts(step: StepData) -> set[str]:
    """The ids of all amounts a step shows, beside it or in one of its texts."""
    texts = [step.do, step.expect, step.until, step.reason, step.doer, *step.one_of]
    if step.wait is not None:
        texts += [step.wait.least, step.wait.greatest, step.wait.then, step.wait.missed]
    if step.record is not None:
        texts += [step.record.quantity, step.record.limits]
    asked = {_amount_of(word) for text in texts for word in readable_words(text)}
    return {ask.id for ask in step.amount} | (asked - {""})


def _amount_of(word: AskedWord) -> str:
    return (word.positional[0] or "") if word.name == "amount" and word.positional else ""
