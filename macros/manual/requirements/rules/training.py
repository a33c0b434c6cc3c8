"""Rules on what training takes from a page; judged only in a house that trains helpers."""

from __future__ import annotations

from collections.abc import Iterator

from macros.manual.procedures.file_format import StepData
from macros.manual.requirements.judge import Finding, Subject, rule
from macros.page_model.job_breakdown import LEAST, important_steps, is_important, reason_of


@rule("T-01", each_system=True)
def important_steps_say_why(subject: Subject) -> Iterator[Finding]:
    """A helper who knows why does it right when nobody looks."""
    if subject.house.training is None:
        return
    told = set()
    for step in subject.view.steps:
        if not is_important(step) or reason_of(step):
            continue
        data = _written(subject, step.id)
        if data.id not in told:
            told.add(data.id)
            yield Finding(
                data,
                "id",
                f"step {data.id} stands on the breakdown sheet without a reason",
                "A reason of its own, a hold, or a caution before it",
                "Add reason: one short sentence that says what goes wrong otherwise",
            )


@rule("T-02", each_system=True)
def sheets_of_five_to_nine(subject: Subject) -> Iterator[Finding]:
    """A page with five steps or more fills a sheet."""
    steps = subject.view.steps
    there = len(important_steps(subject.view))
    if subject.house.training is None or there >= min(LEAST, len(steps)):
        return
    yield Finding(
        subject.data,
        "steps",
        f"only {there} of {len(steps)} steps can stand on the breakdown sheet",
        f"{LEAST} at least, or every step of a shorter page",
        "Add reason: to the steps that matter most",
    )


def _written(subject: Subject, step: str) -> StepData:
    """The step as written; of a repeated step the view adds what it is repeated for."""
    steps = subject.data.steps
    exact = [data for data in steps if data.id == step]
    return (
        exact[0]
        if exact
        else max((data for data in steps if step.startswith(f"{data.id}-")), key=lambda data: len(data.id))
    )
