"""Rules on pages that have a checklist: an item is short enough to be read aloud, and says what must be seen."""

from __future__ import annotations

import re
from collections.abc import Iterator

from macros.manual.procedures.file_format import StepData
from macros.manual.procedures.page_texts import Written
from macros.manual.requirements.judge import Finding, Subject, finding_at, rule
from macros.published.pages.words import language

MOST_WORDS = 10
"""Words of one item: read aloud at one breath. The figure is our own (A Checklist for Checklists asks for brevity)."""


def says_nothing(answer: str) -> bool:
    """Whether an answer tells no state and no value: "OK", "done", "checked".

    Source of the rule: Degani and Wiener, NASA CR-177549, 1990, guideline 1; the list of words is our own.
    """
    words = re.findall(r"[a-z]+", answer.lower())
    empty = language().answers_that_say_nothing
    return not re.search(r"\d", answer) and all(word in empty for word in words)


def _listed(subject: Subject) -> list[StepData]:
    """The steps that stand on a checklist; none where the page has none."""
    data = subject.data
    if data.checklist is None and data.job != "cleanout":
        return []
    return [step for step in data.steps if step.critical or step.hold or step.easily_missed]


def _words(one: Written) -> int:
    return len(one.sentence.split())


@rule("L-18")
def items_can_be_read_aloud(subject: Subject) -> Iterator[Finding]:
    """`short`, else `do`, in ten words; each word of the house counts as one."""
    for step in _listed(subject):
        field = "short" if step.short else "do"
        one = next((one for one in subject.texts(field) if one.record is step), None)
        if one is not None and _words(one) > MOST_WORDS:
            yield finding_at(
                one,
                f"{_words(one)} words to read aloud from the checklist",
                f"{MOST_WORDS} words at most, in short: where do needs more",
                "Write a short:" if field == "do" else "Shorten it",
            )


@rule("L-06")
def items_have_an_answer(subject: Subject) -> Iterator[Finding]:
    """A state to see, or a value to write."""
    for step in _listed(subject):
        if not step.expect and step.record is None and not step.amount:
            yield Finding(
                step,
                "do",
                "an item of the checklist without a state to see or a value to write",
                "expect: or record:",
                "Say what the doer answers",
            )
        for record, field in ((step, "expect"), (step.record, "limits")):
            answer = getattr(record, field, "")
            if record is not None and answer and "{" not in answer and says_nothing(answer):
                yield Finding(
                    record,
                    field,
                    f'"{answer}" says nothing of what is seen',
                    "The state or the value that must be seen",
                    "Say it as it looks: shut, dry, 5 to 6",
                )
