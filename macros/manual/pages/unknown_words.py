"""Words of a procedure page that nothing has: each is an error, also at a step or in a branch this house leaves out.

A word may be known and its thing lacking in this house; then the step, row or text is for other houses. A word that is
not known is a slip of the pen, and would take a step, a caution or a number away without a sound.
"""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.names import Unknown, unknown_names, unknown_word
from macros.ground.problems import Problem
from macros.ground.records import Record
from macros.house import House
from macros.house.records.systems import System
from macros.manual.pages.tables import fact_record
from macros.manual.procedures.file_format import Handling, ProcedureData, StepData, TableAsk
from macros.manual.procedures.known_words import KnownWords
from macros.manual.procedures.load_files import ProcedureFile
from macros.manual.procedures.only_with import FORMS, ONE_NAME, ROLES, OnlyWith
from macros.manual.procedures.page_texts import Writer
from macros.manual.procedures.text_words import text_mistakes, unknown_of

_OF_A_SYSTEM = (
    "for_each: system on the page",
    "repeat: system on the step",
    "fact: with a fact of the house",
)


def unknown_words(file: ProcedureFile, known: KnownWords, write: Writer) -> list[Problem]:
    """Every word of a page, its steps, tables and texts, that is not known, with file and line."""
    data = file.data
    found = unknown_names(type(data), data.read_from, data.path, known.kinds)
    for step in data.steps:
        for record, field, unknown in _of_step(step, known, data.for_each == "system"):
            found.append(unknown_word(record.place(field), record.key(field), *unknown))
    found += [
        unknown_word(one.place(field), one.key(field), *word) for one, field, word in _within_page(data)
    ]
    for table in data.tables:
        for record, field, unknown in _of_table(table, known):
            found.append(unknown_word(record.place(field), record.key(field), *unknown))
    return [*found, *text_mistakes(file, known, write)]


Found = Iterator[tuple[Record, str, Unknown]]


def _within_page(data: ProcedureData) -> Found:
    """What names another part of the page: the steps a sign is of, the tables a step is done by."""
    steps = [step.id for step in data.steps]
    tables = sorted({table.looked_up_as for table in data.tables} - {""})
    for entry in data.if_wrong:
        yield from ((entry, "of", (one, "step of this page", steps)) for one in entry.of if one not in steps)
    for step in data.steps:
        wrong = (name for name in step.looks_up if name not in tables)
        yield from ((step, "looks_up", (name, "table of this page", tables)) for name in wrong)


def _of_step(step: StepData, known: KnownWords, of_system: bool) -> Found:
    """What depends on the step it stands at: whom it is for, its amounts, the strength of what is handled."""
    if step.only_with is not None:
        has_system = of_system or step.repeat == "system"
        yield from ((step, "only_with", one) for one in _only_with(step.only_with, known, has_system))
    for ask in step.amount:
        yield from ((step, "amount", one) for one in unknown_of(ask.of, known))
    if step.record is not None and step.record.most_fact:
        end = known.path(House, step.record.most_fact)
        if end.unknown:
            yield step.record, "most_fact", end.unknown
    for entry in step.handles:
        yield from _handles(entry, step, known)


def _only_with(wanted: OnlyWith, known: KnownWords, has_system: bool) -> Iterator[Unknown]:
    if wanted.kind == "role" and wanted.name not in ROLES:
        yield wanted.name, "form of only_with", FORMS
    elif wanted.kind in ONE_NAME and wanted.name != ONE_NAME[wanted.kind]:
        yield f"{wanted.kind}:{wanted.name}", "form of only_with", FORMS
    elif wanted.kind == "amount" and wanted.name not in known.amounts:
        yield wanted.name, "amount of checked_by.yml", known.amounts
    elif wanted.kind == "system" and not has_system:
        yield (
            f"system:{wanted.name}",
            "question to a page for the room, which has no system of its own",
            _OF_A_SYSTEM,
        )
    elif wanted.kind in ("fact", "system"):
        end = known.path(House if wanted.kind == "fact" else System, wanted.name)
        if end.unknown:
            yield end.unknown


def _handles(entry: Handling, step: StepData, known: KnownWords) -> Found:
    repeated = [word for word in ("part", "task") if step.repeat == word]
    chemicals = {*ROLES, *repeated, *known.of["chemical"]}
    made = ["made"] if step.repeat == "task" else []
    strengths = {"stock", *made, *(f"made:{one}" for one in known.of["task"])}
    if entry.chemical not in chemicals:
        yield entry, "chemical", (entry.chemical, "chemical or role", chemicals)
    if entry.at not in strengths:
        yield entry, "at", (entry.at, "strength", strengths)


def _of_table(table: TableAsk, known: KnownWords) -> Found:
    for column in table.columns:
        if column.amount is None and column.fact is None:
            yield (
                column,
                "head",
                (column.head, "column with an amount or a fact", ("amount: <id>", "fact: <path>")),
            )
        yield from ((column, "amount", one) for one in unknown_of(column.of, known))
        if column.fact is not None and table.by is not None:
            record, path = fact_record(table.by, column.fact)
            if record is not None and (unknown := known.path(record, path).unknown):
                yield column, "fact", unknown
            elif record is None and path:
                yield column, "fact", (column.fact, f"fact of rows by {table.by}", ())
