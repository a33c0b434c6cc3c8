"""Words of published files that name what higher rooms declare: pages, steps, facts, sheets, functions; all looked up."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any, get_args

from macros import calculations
from macros.control.documents.judge_change import DifferenceKind
from macros.ground.names import Names, Unknown, unknown_word
from macros.ground.problems import DataProblems, Problem
from macros.ground.records import Record
from macros.house import House
from macros.manual.house_facts.fact_paths import path_end
from macros.manual.house_facts.recurrence import parse_rhythm
from macros.manual.procedures.load_files import ProcedureFile, load_procedures
from macros.manual.procedures.shipped_folder import shipped_procedures
from macros.manual.requirements.rules import RULES
from macros.packs.makers import MAKERS
from macros.packs.sheets import COVER
from macros.paper.cards.cards import CARD_KINDS
from macros.paper.labels.all_labels import LABEL_KINDS
from macros.published.amounts.amount_ids import known_amount_ids
from macros.published.index.topics import all_published_problems
from macros.published.labour.jobs import JobPage, LeftOut, Part, day_facts, step_parts
from macros.published.names import TASKS, declared
from macros.published.pages.requirements import requirements
from macros.published.paper.packs import ASKED
from macros.site.question_words import question_mistakes


def published_mistakes(files: Sequence[ProcedureFile]) -> list[Problem]:
    """Every mistake of the published files, and every word in them that names nothing.

    `files` are the procedures of the manual. A page of the house's own may lack what ours has: that is no mistake.
    """
    problems = _among(files)
    # A manual of other pages: the words are those of the program's own.
    return problems and _among(load_procedures(shipped_procedures(Path()))[0])


def _among(files: Sequence[ProcedureFile]) -> list[Problem]:
    pages = _Pages(files)
    problems = all_published_problems(_handed(pages))
    for look in (lambda: _job_mistakes(pages), _requirement_mistakes, question_mistakes):
        with suppress(DataProblems):  # the file cannot be read, which is told already
            problems += look()
    return problems


class _Pages:
    """The procedures there are, and the steps of the shipped ones."""

    def __init__(self, files: Sequence[ProcedureFile]) -> None:
        self.documents = [file.id for file in files]
        shipped = [file.data for file in files if file.file.startswith("procedures/")]
        self.steps = {data.id: {step.id: step.repeat for step in data.steps} for data in shipped}
        where = (step.where for data in shipped for step in data.steps)
        self.places = {place for place in where if place and "{" not in place}

    def step(self, name: str) -> Unknown | None:
        """`SOP-05/lower`, or `SOP-03/label:tray_spray`."""
        document, step, task = step_parts(name)
        if document not in self.documents:
            return document, "procedure", self.documents
        if step not in self.steps.get(document, (step,)):
            return f"{document}/{step}", "step", [f"{document}/{known}" for known in self.steps[document]]
        return (task, "sanitizing task", TASKS) if task and task not in TASKS else None

    def tested(self, name: str) -> Unknown | None:
        """`SOP-09 level`, `SOP-08 add_part*`, `SOP-03 stock-parts_soak` or `caution LIFT-WATER`."""
        page, _, name = name.partition(" ")
        if page == "caution":
            cautions = declared("cautions", "cautions")
            return None if name in cautions else (name, "caution of cautions.yml", cautions)
        step, _, item = name.removesuffix("*").partition("-")
        repeat = self.steps.get(page, {}).get(step)
        return self.step(f"{page}/{step}:{item}" if repeat == "task" else f"{page}/{step}")


def _handed(pages: _Pages) -> Mapping[str, Names]:
    """The names of each kind that a higher room declares."""
    return {
        "procedure": pages.documents,
        "procedure to print": [ASKED, *pages.documents],
        "step": pages.step,
        "step or caution": pages.tested,
        "place or thing": {*declared("things", "things"), *pages.places},
        "fact of a house": lambda path: path_end(House, path).unknown,
        "rhythm in words": _rhythm,
        "kind of label": LABEL_KINDS,
        "wall card": CARD_KINDS,
        "maker of sheets": (COVER, *MAKERS),
        "kind of difference": tuple(_flat(DifferenceKind)),
        "calculation": _calculations(),
    }


def _rhythm(text: str) -> Unknown | None:
    examples = ("every 7 days", "every 12 months")
    return None if parse_rhythm(text).known else (text, "rhythm in words", examples)


def _job_mistakes(pages: _Pages) -> Iterator[Problem]:
    """The steps, parts and stages that jobs name within their own pages."""
    for job in day_facts().jobs.values():
        parts = [part.id for page in job.pages for part in page.parts]
        for page in job.pages:
            yield from _steps_of(page, pages)
            for part in page.parts:
                for before in part.after:
                    if before not in parts:
                        yield _unknown(part, "after", before, "part of this job", parts)
                if part.stage and part.stage not in job.stages:
                    yield _unknown(part, "stage", part.stage, "stage of this job", job.stages)


def _steps_of(page: JobPage, pages: _Pages) -> Iterator[Problem]:
    lists: tuple[Part | LeftOut, ...] = (*page.parts, *page.leave_out)
    for listed in lists:
        for index, step in enumerate(listed.steps):
            if unknown := pages.step(f"{page.document}/{step}"):
                key = f"{listed.key('steps')}[{index}]"
                yield unknown_word(listed.item_place("steps", index), key, *unknown)


def _unknown(record: Record, field: str, *unknown: Any) -> Problem:
    return unknown_word(record.place(field), record.key(field), *unknown)


def _requirement_mistakes() -> Iterator[Problem]:
    """Rules judge exactly the requirements that are judged page by page."""
    for one in requirements().values():
        if (one.judged == "page") != (one.id in RULES):
            yield _unknown(one, "id", one.id, f"requirement with judged: {one.judged}", sorted(RULES))


@cache
def _calculations() -> tuple[str, ...]:
    """Every public function of the room, as `acid_dose.acid_needed`, and every amount, as `amount.dose_full`."""
    found = pkgutil.walk_packages(calculations.__path__, f"{calculations.__name__}.")
    modules = [import_module(one.name) for one in found]
    functions = (
        f"{module.__name__.rpartition('.')[2]}.{name}"
        for module in modules
        for name, value in vars(module).items()
        if callable(value)
        and not isinstance(value, type)
        and not name.startswith("_")
        and value.__module__.startswith(calculations.__name__)
    )
    return (*functions, *(f"amount.{id_}" for id_ in sorted(known_amount_ids())))


def _flat(words: Any) -> Iterator[str]:
    """The words of a Literal, or of several in one."""
    for part in get_args(words):
        yield from (part,) if isinstance(part, str) else _flat(part)
