"""The pages of a job run as one: each begins in the room that the ones before it left."""

from __future__ import annotations

from collections.abc import Callable, Collection, Container, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from macros.amounts import Register
from macros.ground.problems import Problem
from macros.manual.pages.build_page import BuiltPage
from macros.published.labour.effects import RoomWords
from macros.published.labour.jobs import Job, Part, day_facts
from macros.rehearsal.model.acts import words_differ
from macros.rehearsal.model.equipment import Equipment, equipment
from macros.rehearsal.model.finding import Finding
from macros.rehearsal.model.state import State
from macros.rehearsal.model.steps import RunStep, steps_of
from macros.rehearsal.model.words import said
from macros.rehearsal.pages import Rehearsal, problems_of, systems_of
from macros.rehearsal.run import Run, run, starts

Choose = Callable[[Sequence[Part]], Part]
"""Takes one of the parts that could be next."""


def job_problems(pages: Sequence[BuiltPage], register: Register, documents: Collection[str]) -> list[Problem]:
    """What is refused when the pages of a job are done one after another, on any system that has them.

    `documents` are the ids of all pages of the manual: a job of which it has not all is no job of it.
    """
    problems: list[Problem] = []
    for job in day_facts().jobs.values():
        if not all(page.document in documents for page in job.pages):
            continue
        for system in register.house.systems:
            found = rehearse_job(job, pages, register, system.id)
            if found is not None:
                problems += problems_of(found, register, None, None, f"{job.title}, ")
    return problems


def rehearse_job(
    job: Job,
    pages: Sequence[BuiltPage],
    register: Register,
    system: str,
    choose: Choose = lambda parts: parts[0],
) -> Rehearsal | None:
    """The job on one system, in the order of its file as far as `after` allows; None where it has no page there."""
    of = equipment(register, system)
    own = {page.content.document: page for page in pages if system in systems_of(page, register)}
    if of is None or not _has_own(job, own):
        return None
    steps = steps_in_order(job, own, register, system, choose)
    begins = _begins(job, own)
    runs = tuple(_checked(run(steps, start, of), begins, of) for start in starts(None, of))
    parts = _parts_cut(job, own, register, system)
    findings = {one.same: one for ran in runs for one in (*ran.findings, *_left_running(ran, parts))}
    return Rehearsal(job.id, system, of, tuple(steps), runs, tuple(findings.values()))


def steps_in_order(
    job: Job, pages: Mapping[str, BuiltPage], register: Register, system: str, choose: Choose
) -> list[RunStep]:
    """The steps of the job, part by part."""
    order = parts_in_order(job, pages, choose)
    whole = {
        name: steps_of(pages[name], register, system) for name in dict.fromkeys(name for name, _ in order)
    }
    return [one for document, part in order for one in whole[document] if _is_of(one, part)]


def parts_in_order(job: Job, pages: Container[str], choose: Choose) -> list[tuple[str, Part]]:
    """The parts of the pages there are, each with its page, none before what it waits for."""
    left = [(one.document, part) for one in job.pages for part in one.parts if one.document in pages]
    found: list[tuple[str, Part]] = []
    while left:
        to_do = {part.id for _, part in left}
        chosen = choose([part for _, part in left if not to_do & {*part.after}])
        found += [one for one in left if one[1] is chosen]
        left = [one for one in left if one[1] is not chosen]
    return found


def _parts_cut(
    job: Job, pages: Mapping[str, BuiltPage], register: Register, system: str
) -> list[tuple[Part, frozenset[str]]]:
    """Each part that may be cut, with the ids of its steps."""
    return [
        (part, frozenset(s.id for s in steps_of(pages[one.document], register, system) if _is_of(s, part)))
        for one in job.pages
        if one.document in pages
        for part in one.parts
        if not part.together
    ]


def _left_running(ran: Run, parts: Sequence[tuple[Part, frozenset[str]]]) -> Iterator[Finding]:
    """R-12: a part that may be cut runs the pump by hand: whoever ends that flood could be called to other work."""
    for one, then in pairwise(ran.moments):
        up = one.after.pump_live and one.after.trays.litres
        for part, ids in parts if up else ():
            if {one.step.id, then.step.id} <= ids and one.step.page == then.step.page:
                what = f"the pump runs by hand after this step, and part {part.id} may be cut here: nobody would end the flood"
                allowed = "A part that runs the pump by hand is done in one go"
                advice = "Write together: yes on the part in macros/published/labour/jobs.yml"
                yield Finding("R-12", one.step, what, allowed, advice=advice)


def _is_of(step: RunStep, part: Part) -> bool:
    return (not part.steps or step.written in part.steps) and (not part.task or step.task == part.task)


def _begins(job: Job, pages: Mapping[str, BuiltPage]) -> dict[str, tuple[str, RoomWords | None]]:
    """The first step of each page and what it starts from; a page of which the job leaves steps out begins otherwise."""
    whole = {page.document for page in job.pages if not page.leave_out}
    return {
        name: (page.planned[0].id, page.data.starts_from if name in whole else None)
        for name, page in pages.items()
        if page.data
    }


def _has_own(job: Job, pages: Mapping[str, BuiltPage]) -> bool:
    """Whether the job has a page of the system itself, and not of the room alone."""
    return any(pages[one.document].content.system for one in job.pages if one.document in pages)


def _checked(found: Run, begins: Mapping[str, tuple[str, RoomWords | None]], of: Equipment) -> Run:
    """The run with what it finds where a page begins: the room stands as that page says."""
    more = list(found.findings)
    before = found.start
    for moment in found.moments:
        first, words = begins[moment.step.page]
        if words is not None and moment.step.id == first:
            more += _not_as_said(moment.step, words, before, of)
        before = moment.after
    return replace(found, findings=tuple(more))


def _not_as_said(step: RunStep, words: RoomWords, before: State, of: Equipment) -> Iterator[Finding]:
    for word, (stands, wanted) in words_differ(before, words.said(), of).items():
        if not of.lacks(word):
            what = f"{step.page} starts when {said(word, wanted)}, and here {said(word, (stands,))}"
            yield Finding("R-12", step, what, "In a job each page starts from what the ones before it left")
