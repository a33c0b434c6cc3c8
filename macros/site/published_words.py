"""Words of published files that name what a page, a record of the house or a function here is called: all looked up."""

from __future__ import annotations

import pkgutil
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any, get_args

from macros import calculations
from macros.control.documents.judge_change import DifferenceKind
from macros.ground.problems import Problem
from macros.ground.record_shape import record_at
from macros.ground.records import Record
from macros.ground.yaml_source import Path_, human_path
from macros.house import House
from macros.manual.house_facts.recurrence import parse_rhythm
from macros.manual.procedures.load_files import ProcedureFile, load_procedures
from macros.manual.procedures.shipped_folder import shipped_procedures
from macros.packs.makers import LAST, MAKERS
from macros.paper.cards.cards import CARD_KINDS
from macros.paper.labels.all_labels import LABEL_KINDS
from macros.published import load, published, published_rows
from macros.published.amounts.reckoners import GAPS
from macros.published.elsewhere import words_elsewhere
from macros.published.index.topics import OF_ROWS, TOPICS
from macros.published.keys import unknown_word
from macros.published.paper.packs import ASKED
from macros.published.work.jobs import Job, Jobs, LeftOut, Part, step_parts


def unknown_words(files: Sequence[ProcedureFile]) -> list[Problem]:
    """Every word of the published files, which are without mistakes else, that names nothing.

    `files` are the procedures of the manual. A page of the house's own may lack what ours has: that is no mistake.
    """
    problems = _among(files)
    # A manual of other pages: the words are those of the program's own.
    return problems and _among(load_procedures(shipped_procedures(Path()))[0])


def _among(files: Sequence[ProcedureFile]) -> list[Problem]:
    known = _Known(files)
    rows: list[Record] = []
    for topic, model in TOPICS.items():
        rows += published_rows(model, topic).values() if topic in OF_ROWS else [published(model, topic)]
    return [problem for record in rows for problem in _problems(record, known)]


class _Known:
    """What a word of each kind may be."""

    def __init__(self, files: Sequence[ProcedureFile]) -> None:
        self.shipped = {file.id: file for file in files if file.file.startswith("procedures/")}
        self.documents = [file.id for file in files]
        where = (step.where for file in self.shipped.values() for step in file.data.steps)
        places = [place for place in where if place and "{" not in place]
        self._words: Mapping[str, Iterable[str]] = {
            "procedure": self.documents,
            "procedure to print": [ASKED, *self.documents],
            "place or thing": sorted({*load("things")["things"], *places}),
            "fact of a house": sorted(_fact_paths(House)),
            "kind of label": LABEL_KINDS,
            "wall card": CARD_KINDS,
            "maker of sheets": (*MAKERS, *LAST),
            "kind of difference": tuple(_flat(DifferenceKind)),
            "calculation": list(_calculations()),
        }

    def unknown(self, kind: str, word: str) -> tuple[str, str, str] | None:
        """What is told of a word that names nothing of its kind."""
        if kind == "rhythm in words":
            known: Iterable[str] = (
                (word,) if parse_rhythm(word).known else ("every 7 days", "every 12 months")
            )
        elif kind == "step":
            document, step, _ = step_parts(word)
            if document not in self.documents:
                return self.unknown("procedure", document)
            word = f"{document}/{step}"
            known = self.steps(document) if document in self.shipped else (word,)
        elif kind == "sentence of a reckoner":
            gaps = (gap for gap in re.findall(r"\{(.*?)\}", word) if gap not in GAPS)
            kind, known, word = "gap of this text", GAPS, next(gaps, GAPS[0])
        else:
            known = self._words[kind]
        return None if word in known else unknown_word(word, kind, known)

    def steps(self, document: str) -> list[str]:
        """The steps of a shipped page, as `SOP-05/lower`."""
        return [f"{document}/{step.id}" for step in self.shipped[document].data.steps]


def _problems(record: Record, known: _Known) -> Iterator[Problem]:
    words = list(words_elsewhere(record))
    if isinstance(record, Jobs):
        words += [word for job in record.jobs.values() for word in _steps_of_parts(job)]
        for job in record.jobs.values():
            yield from _parts_and_stages(job)
    for kind, word, path in words:
        told = known.unknown(kind, word)
        if told is not None:
            yield Problem(record.read_from.place(path), human_path(record.read_from, path), *told, "E31")


def _steps_of_parts(job: Job) -> Iterator[tuple[str, str, Path_]]:
    """The steps a job names, each with its page."""
    for page in job.pages:
        lists: tuple[Part | LeftOut, ...] = (*page.parts, *page.leave_out)
        for listed in lists:
            for index, step in enumerate(listed.steps):
                yield "step", f"{page.document}/{step}", (*listed.path, "steps", index)


def _parts_and_stages(job: Job) -> Iterator[Problem]:
    parts = [part for page in job.pages for part in page.parts]
    ids = [part.id for part in parts]
    for part in parts:
        named = [("part of this job", before, "after", ids) for before in part.after if before not in ids]
        if part.stage and part.stage not in job.stages:
            named.append(("stage of this job", part.stage, "stage", list(job.stages)))
        for kind, word, field, known in named:
            yield Problem(part.place(field), part.key(field), *unknown_word(word, kind, known), "E31")


@cache
def _fact_paths(model: type[Record], before: str = "") -> frozenset[str]:
    """Every fact a house may give, by its path; what stands in a list has none."""
    paths = set()
    for name in model.model_fields:
        paths.add(f"{before}{name}")
        inner = record_at(model, (name,))
        if inner is not None and issubclass(inner, Record):
            paths |= _fact_paths(inner, f"{before}{name}.")
    return frozenset(paths)


@cache
def _calculations() -> tuple[str, ...]:
    """Every public function of the room, as `acid_dose.acid_needed`."""
    found = pkgutil.walk_packages(calculations.__path__, f"{calculations.__name__}.")
    modules = [import_module(one.name) for one in found]
    return tuple(
        f"{module.__name__.rpartition('.')[2]}.{name}"
        for module in modules
        for name, value in vars(module).items()
        if callable(value)
        and not isinstance(value, type)
        and not name.startswith("_")
        and value.__module__.startswith(calculations.__name__)
    )


def _flat(words: Any) -> Iterator[str]:
    """The words of a Literal, or of several in one."""
    for part in get_args(words):
        yield from (part,) if isinstance(part, str) else _flat(part)
