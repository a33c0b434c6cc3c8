"""Rehearses every page of a manual for every system it is for, and tells what is refused as problems with their place."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from macros.amounts import Register
from macros.ground.problems import Problem
from macros.manual.pages.build_page import BuiltPage
from macros.published.labour.effects import RoomWords
from macros.rehearsal.mends import advice
from macros.rehearsal.model.equipment import Equipment, equipment
from macros.rehearsal.model.finding import Finding
from macros.rehearsal.model.steps import RunStep, steps_of
from macros.rehearsal.run import Run, run, starts
from macros.rehearsal.whole_page import conditions, proved, vessels


@dataclass(frozen=True)
class Rehearsal:
    """A page run for one system: a run from each start it allows, and what was refused, each once."""

    page: str
    system: str
    of: Equipment
    steps: tuple[RunStep, ...]
    runs: tuple[Run, ...]
    findings: tuple[Finding, ...]


def rehearse(page: BuiltPage, register: Register, system: str) -> Rehearsal | None:
    """The page run on the system; None where the house does not give enough of it, or the page says nothing of its start."""
    of, data = equipment(register, system), page.data
    if of is None or data is None:
        return None
    steps = steps_of(page, register, system)
    found = rehearsal(data.id, steps, of, data.starts_from, data.ends_in)
    return replace(found, findings=(*found.findings, *vessels(steps, register), *proved(steps, of)))


def rehearsal(
    page: str,
    steps: Sequence[RunStep],
    of: Equipment,
    starts_from: RoomWords | None,
    ends_in: RoomWords | None,
) -> Rehearsal:
    """The steps run from each start, their findings each once."""
    runs = tuple(run(steps, start, of, ends_in) for start in starts(starts_from, of))
    findings = {one.same: one for found in runs for one in found.findings}
    return Rehearsal(page, of.name, of, tuple(steps), runs, tuple(findings.values()))


def page_problems(
    pages: Sequence[BuiltPage], register: Register, documents: Collection[str]
) -> list[Problem]:
    """What is refused on any page of the manual, for any system. `documents` are the ids of all its pages."""
    problems: list[Problem] = []
    told: set[str] = set()
    for page in pages:
        for system in systems_of(page, register):
            found = rehearse(page, register, system)
            if found is not None and page.data is not None:
                problems += problems_of(found, register, page.data.starts_from, page.data.ends_in)
        if page.content.document not in told:
            problems += conditions(page, documents)
            told.add(page.content.document)
    return problems


def systems_of(page: BuiltPage, register: Register) -> list[str]:
    """The systems a page is run for: its own, or each of the room."""
    return [page.content.system] if page.content.system else [one.id for one in register.house.systems]


def problems_of(
    found: Rehearsal,
    register: Register,
    starts_from: RoomWords | None,
    ends_in: RoomWords | None,
    job: str = "",
) -> Iterator[Problem]:
    """Each refusal as a problem in the house's units, its advice tried; and each step that does not say what it must."""

    def again(steps: Sequence[RunStep]) -> Sequence[Finding]:
        return rehearsal(found.page, steps, found.of, starts_from, ends_in).findings

    for one in found.findings:
        what = f"{job}{one.step.page} on system {found.system}, step {one.step.number}: {one.what}"
        yield Problem(
            one.step.place,
            one.step.key,
            register.told(what),
            register.told(one.allowed),
            advice(one, found.steps, found.findings, again),
            one.rule,
        )
    for step in found.steps:
        if step.not_said:
            words = " or ".join(step.not_said)
            yield Problem(
                step.place,
                step.key,
                f"{found.page}, step {step.number}: the action {step.action} does not say what it does to the room",
                f"Under does: {words}",
                "Write it there, as the other pages do",
                "E01",
            )
