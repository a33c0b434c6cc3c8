"""A house's own pages: one with the id of a shipped page replaces it, a new id adds one.

A replacing page may not leave out or weaken a critical step or hold without saying so under `drops`, nor change the
limits of a step it keeps: limits are facts of the house and belong to its data.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from macros.ground.problems import Problem
from macros.manual.procedures.file_format import Drop, StepData
from macros.manual.procedures.load_files import ProcedureFile, load_procedures
from macros.manual.procedures.weakened_steps import weakened


def with_own_pages(shipped: Path, own: Path | None) -> tuple[list[ProcedureFile], list[Problem]]:
    """The procedures of the manual: the shipped ones, those of the house in their place or beside them."""
    files, problems = load_procedures(shipped)
    if own is None or not own.is_dir() or own.resolve() == shipped.resolve():
        return files, problems
    added, more = load_procedures(own, f"{own.parent.name}/procedures", own.parent)
    problems += more
    by_id = {file.id: file for file in files}
    for file in added:
        if file.id in by_id:
            problems += _replacing(by_id[file.id], file)
        elif file.data.drops:
            problems.append(
                Problem(
                    file.data.drops[0].place("step"),
                    "drops",
                    f"{file.id} replaces no shipped page, so it drops nothing",
                    "",
                    "Take drops out",
                )
            )
        by_id[file.id] = replace(file, own=file.id not in by_id)
    return [by_id[id_] for id_ in sorted(by_id)], problems


def _replacing(shipped: ProcedureFile, own: ProcedureFile) -> Iterator[Problem]:
    kept = {step.id: step for step in own.data.steps}
    reasons = {drop.step: drop for drop in own.data.drops}
    needed: set[str] = set()
    for step in shipped.data.steps:
        ours = kept.get(step.id)
        if ours is not None:
            yield from _limits(shipped, step, ours)
        lost = [_left_out(shipped, own, step)] if ours is None else list(_changed(shipped, step, ours))
        needed |= {step.id} if lost else set()
        if (step.critical or step.hold) and step.id not in reasons:
            yield from lost
    yield from _needless(shipped, (drop for name, drop in reasons.items() if name not in needed))


def _left_out(shipped: ProcedureFile, own: ProcedureFile, step: StepData) -> Problem:
    return Problem(
        own.data.place("steps"),
        "steps",
        f"the step {step.id} of {shipped.file} is critical and is left out",
        "A page that replaces another keeps its critical steps and holds, or says under drops: "
        "{step, reason} why not",
        "Keep the step, or give the reason; it is printed on the page",
    )


def _changed(shipped: ProcedureFile, step: StepData, own: StepData) -> Iterator[Problem]:
    for field, what in weakened(step, own):
        yield Problem(
            own.place(field),
            own.key(field),
            f"the step {step.id} of {shipped.file} is critical, and {what}",
            "A page that replaces another keeps what its critical steps and holds do, or says under drops: "
            "{step, reason} why not",
            "Keep it as it is there, or give the reason; it is printed on the page",
        )


def _needless(shipped: ProcedureFile, drops: Iterable[Drop]) -> Iterator[Problem]:
    """Each reason stands for a step that is left out or weakened."""
    for drop in drops:
        yield Problem(
            drop.place("step"),
            drop.key("step"),
            f"{drop.step} is not a step this page leaves out or weakens",
            f"Steps of {shipped.file}: {', '.join(step.id for step in shipped.data.steps)}",
            "Mend the id or take it out",
        )


def _limits(shipped: ProcedureFile, step: StepData, own: StepData) -> Iterator[Problem]:
    for field, theirs, ours in _bounds(step, own):
        if ours != theirs:
            yield Problem(
                own.place(field),
                own.key(field),
                f'"{ours}" stands where {shipped.file} has "{theirs}"',
                "A page may not change a limit; limits come from the facts of the house",
                "Change the fact under site_data/, or give the step another id and drop the shipped one",
            )


def _bounds(step: StepData, own: StepData) -> list[tuple[str, str, str]]:
    found = []
    if step.record is not None:
        found.append(("record", step.record.limits, own.record.limits if own.record else "no record"))
    if step.wait is not None:
        theirs = f"{step.wait.least}, {step.wait.greatest}"
        found.append(("wait", theirs, f"{own.wait.least}, {own.wait.greatest}" if own.wait else "no wait"))
    return found
