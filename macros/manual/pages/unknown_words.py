"""Words of a procedure page that nothing has: each is an error, also at a step or in a branch this house leaves out.

A word may be known and its thing lacking in this house; then the step, row or text is for other houses. A word that is
not known is a slip of the pen, and would take a step, a caution or a number away without a sound.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from macros.amounts.engine.amount import OF_KEYS
from macros.ground.problems import Problem, unknown_word
from macros.ground.records import Record
from macros.house import House
from macros.house.records.systems import System
from macros.manual.pages.tables import RECORD_OF, fact_record
from macros.manual.procedures.file_format import Handling, StepData, TableAsk
from macros.manual.procedures.known_words import THINGS, KnownWords, path_words, published_names
from macros.manual.procedures.load_files import ProcedureFile
from macros.manual.procedures.only_with import FORMS, ROLES, OnlyWith
from macros.manual.procedures.page_texts import Writer
from macros.manual.procedures.text_words import text_mistakes
from macros.published.pages.requirements import requirements

_AMOUNTS = "The list is macros/published/amounts/checked_by.yml"


def unknown_words(file: ProcedureFile, known: KnownWords, write: Writer) -> list[Problem]:
    """Every word of a page, its steps, tables and texts, that is not known, with file and line."""
    data = file.data
    found = list(_of_page(file, known))
    for step in data.steps:
        found += _of_step(step, known, data.for_each == "system")
    for table in data.tables:
        found += _of_table(table, known)
    return [*found, *text_mistakes(file, known, write)]


def _at(
    record: Record, field: str, word: str, known: Collection[str], kind: str, allowed: str = ""
) -> Iterator[Problem]:
    if word not in known:
        what = f"{word or 'nothing'} is not {kind}"
        yield unknown_word(record.place(field), record.key(field), what, word, known, allowed)


def _each(
    record: Record, field: str, known: Collection[str], kind: str, allowed: str = ""
) -> Iterator[Problem]:
    for index, word in enumerate(getattr(record, field)):
        if word not in known and "{" not in word:
            place = record.item_place(field, index)
            yield unknown_word(place, record.key(field), f"{word} is not {kind}", word, known, allowed)


def _of_page(file: ProcedureFile, known: KnownWords) -> Iterator[Problem]:
    data, sources = file.data, published_names("sources")
    in_sources = "The list is macros/published/pages/sources.yml"
    yield from _each(data, "units", published_names("training_units"), "a training unit")
    yield from _each(data, "references", sources, "a known source", in_sources)
    yield from _each(data, "see_also", known.documents, "a procedure here")
    if data.job is not None:
        yield from _at(data, "job", data.job, published_names("jobs"), "a job of a day")
    for figure in data.outside_figures:
        yield from _at(figure, "source", figure.source, sources, "a known source", in_sources)
    judged = [one.id for one in requirements().values() if one.judged == "page"]
    for waiver in data.waive:
        yield from _at(waiver, "line", waiver.line, judged, "a requirement a page can waive")


def _of_step(step: StepData, known: KnownWords, of_system: bool) -> Iterator[Problem]:
    if step.only_with is not None:
        yield from _only_with(step, step.only_with, known, of_system or step.repeat == "system")
    for ask in step.amount:
        yield from _amount(step, "amount", ask.id, ask.of, known)
    for entry in step.handles:
        yield from _handles(entry, step, known)
    for lift in step.lifts:
        yield from _at(lift, "container", lift.container, known.lifted, "a load this house knows")
    yield from _each(step, "uses", known.things, "in the inventory", THINGS)
    if step.where and "{" not in step.where:
        yield from _at(
            step,
            "where",
            step.where,
            known.where,
            "a place of the work",
            "A place of macros/published/pages/page_words.yml, or one the house names under house.places or inventory",
        )


def _only_with(step: StepData, wanted: OnlyWith, known: KnownWords, has_system: bool) -> Iterator[Problem]:
    if wanted.kind == "role":
        yield from _at(step, "only_with", wanted.name, (*ROLES, "strip"), "known", f"One of {FORMS}")
    elif wanted.kind == "amount":
        yield from _at(step, "only_with", wanted.name, known.amounts, "a known amount", _AMOUNTS)
    elif wanted.kind == "fact":
        yield from _path(step, "only_with", House, wanted.name, known)
    elif wanted.kind == "system":
        yield from _path(step, "only_with", System, wanted.name, known)
        if not has_system:
            yield Problem(
                step.place("only_with"),
                step.key("only_with"),
                "the page is for the room, so it has no system of its own",
                "for_each: system on the page, or repeat: system on the step",
                "Use fact: with a fact of the house",
            )


def _path(record: Record, field: str, model: type, path: str, known: KnownWords) -> Iterator[Problem]:
    end = known.path(model, path)
    if end.unknown or not path:
        yield unknown_word(
            record.place(field), record.key(field), *path_words(path, end.above, end.unknown), end.known
        )


def _amount(record: Record, field: str, id_: str, of: dict[str, str], known: KnownWords) -> Iterator[Problem]:
    yield from _at(record, field, id_, known.amounts, "a known amount", _AMOUNTS)
    for key, value in of.items():
        yield from _at(record, field, key, OF_KEYS, "a key of amounts")
        if key in OF_KEYS:
            yield from _at(record, field, value, known.of[key], f"a known {key.replace('_', ' ')}")


def _handles(entry: Handling, step: StepData, known: KnownWords) -> Iterator[Problem]:
    repeated = [word for word in ("part", "task") if step.repeat == word]
    chemicals = (*ROLES, *repeated, *known.of["chemical"])
    yield from _at(entry, "chemical", entry.chemical, chemicals, "a chemical or role")
    ways = (
        "stock",
        *(["made"] if step.repeat == "task" else []),
        *(f"made:{one}" for one in known.of["task"]),
    )
    yield from _at(entry, "at", entry.at, ways, "a strength")


def _of_table(table: TableAsk, known: KnownWords) -> Iterator[Problem]:
    if table.amount is not None:
        yield from _at(table, "amount", table.amount, known.amounts, "a known amount", _AMOUNTS)
    by = table.by
    if by is not None:
        yield from _at(table, "by", by, {*OF_KEYS, *RECORD_OF}, "a key of rows")
    for column in table.columns:
        if column.amount is not None:
            yield from _amount(column, "amount", column.amount, column.of, known)
        if column.fact is not None and by is not None:
            record, path = fact_record(by, column.fact)
            if record is not None:
                yield from _path(column, "fact", record, path, known)
            elif path:
                yield from _at(column, "fact", column.fact, (), f"a fact of rows by {by}")
