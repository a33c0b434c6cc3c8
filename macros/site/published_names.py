"""Words of published files that name pages, steps, cautions, amounts and facts: told where nobody knows them.

They are looked at in every run, whether this house asks the question or not.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from inspect import signature
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

from macros.ground.problems import Problem
from macros.ground.record_shape import plain_type, record_at
from macros.ground.records import Record
from macros.house import House
from macros.house.records.crops import Variety
from macros.house.records.sanitizing import SanitizingTask
from macros.house.records.systems import System
from macros.manual.house_facts.recurrence import parse_rhythm
from macros.manual.procedures.load_files import ProcedureFile, load_procedures
from macros.manual.procedures.shipped_folder import shipped_procedures
from macros.manual.procedures.template_functions import FUNCTIONS, Words
from macros.manual.requirements.rules import RULES
from macros.published.amounts.amount_ids import known_amount_ids
from macros.published.keys import unknown_word
from macros.published.pages.frequencies import published_rhythms
from macros.published.pages.requirements import requirements
from macros.published.safety.cautions import catalogue
from macros.published.training.questions import Answer, Template, parsed_sum, templates
from macros.published.training.training import training
from macros.training.self_checks.sum_language import BY_NAME, ExpressionEvaluator

TASKS = ("tray_spray", "parts_soak", "tool_dip", "loop_circulate")
"""The uses of a sanitizer that have pages."""

_ALLOWED: dict[str, tuple[str, Collection[str]]] = {
    "task": ("sanitizing task that has a page", TASKS),
    "time": ("time of the lamps", ("lights_on", "lights_off")),
    "over": ("side of the limit", ("over", "under")),
    "unit": ("unit a sum asks for", ("min", "kg")),
}
"""Arguments of the functions of a sum: what one is, and which there are."""

_RECORDS: dict[str, type[Record]] = {
    "fact": House, "system_fact": System, "task_fact": SanitizingTask, "variety_fact": Variety,
}  # fmt: skip
_SUM_NAMES = {"part": ("column",), "block": ("planted",)}
_TEXT_NAMES = {
    "part": ("part.name",),
    "variety": ("variety.id", "variety.name", "variety.part", "variety.system"),
    "first_sown": ("variety.id", "variety.name", "variety.part", "variety.system"),
    "block": ("block.variety", "block.plates", "block.plants"),
    "pair": ("one", "other", "group"),
    "meter": ("meter.name", "meter.measures"),
}
"""What a sum or a text may name beside its `given`, by what the question is asked for (`question_items`)."""

Told = tuple[str, str, str]
"""What was read, what is allowed, what to do."""


def published_name_problems(files: Sequence[ProcedureFile]) -> list[Problem]:
    """Every word of the questions, modules, rhythms and requirements that names something nobody knows."""
    named = {page for module in training().modules for page in module.teaches}
    if not named <= {file.id for file in files}:
        # A manual of other pages: the words are those of the program's own.
        files = [*load_procedures(shipped_procedures(Path()))[0], *files]
    steps = {
        file.id: {step.id: step.repeat for step in file.data.steps}
        | {drop.step: None for drop in file.data.drops}
        for file in files
    }
    problems = [problem for template in templates() for problem in _of_template(template, steps)]
    for module in training().modules:
        for index, page in enumerate(module.teaches):
            if page not in steps:
                problems.append(_problem(module, "teaches", unknown_word(page, "page", steps), index))
    for rhythm in published_rhythms().values():
        if rhythm.fact and (told := _fact(House, rhythm.fact)):
            problems.append(_problem(rhythm, "fact", told))
        if not parse_rhythm(rhythm.text).known:
            told = (f'"{rhythm.text}" names no count of days', 'For example "every 7 days"', "Write it so")
            problems.append(_problem(rhythm, "text", told))
    for one in requirements().values():
        if (one.judged == "page") != (one.id in RULES):
            what = f"judged: {one.judged} does not fit {one.id}"
            told = (what, f"Rules judge page by page {', '.join(sorted(RULES))}", "Mend id or judged")
            problems.append(_problem(one, "id", told))
    return problems


def _problem(record: Record, field: str, told: Told, index: int | None = None) -> Problem:
    place = record.place(field) if index is None else record.item_place(field, index)
    return Problem(place, record.key(field), *told)


def _of_template(template: Template, steps: Mapping[str, Mapping[str, str | None]]) -> Iterator[Problem]:
    for index, test in enumerate(template.tests):
        if told := _target(test, steps):
            yield _problem(template, "tests", told, index)
    names = [*_SUM_NAMES.get(template.for_each, ()), "wait_least"]
    for name, text in template.given.items():
        told_of = [*_in_sum(text, names)]
        if name in BY_NAME:
            told_of.append((f'"{name}" is a function of sums', "", "Choose another name"))
        yield from (_problem(template, f"given.{name}", told) for told in told_of)
        names.append(name)
    yield from (_problem(template, "if_", told) for told in _in_sum(template.if_ or "0", names))
    in_texts = [*names, *_TEXT_NAMES.get(template.for_each, ())]
    answers: tuple[Answer, ...] = (template, *template.wrong)
    for answer in answers:
        yield from (_problem(answer, "answer", told) for told in _in_sum(answer.answer or "0", names))
        for field in ("text", "says", "why", "means"):
            for gap in re.findall(r"\{\{ *(.*?) *\}\}", getattr(answer, field, None) or ""):
                yield from (_problem(answer, field, told) for told in _in_gap(gap, in_texts))


def _target(test: str, steps: Mapping[str, Mapping[str, str | None]]) -> Told | None:
    """`SOP-09 level`, `SOP-08 add_part*`, `SOP-03 stock-parts_soak` or `caution LIFT-WATER`."""
    page, _, name = test.partition(" ")
    if page == "caution":
        return None if name in catalogue() else unknown_word(name, "caution", catalogue())
    if page not in steps:
        return unknown_word(page, "page", steps)
    step, _, task = name.removesuffix("*").partition("-")
    if step not in steps[page]:
        return unknown_word(step, f"step of {page}", steps[page])
    if task and steps[page][step] == "task" and task not in TASKS:
        return unknown_word(task, *_ALLOWED["task"])
    return None


def _in_sum(text: str, names: Collection[str]) -> Iterator[Told]:
    """What a sum names that nobody knows: functions and what they are asked for, names, words a fact never is."""
    for node in ast.walk(parsed_sum(text)):
        if isinstance(node, ast.Name) and node.id not in (*BY_NAME, *names):
            yield unknown_word(node.id, "name of this sum", (*names, *BY_NAME))
        elif isinstance(node, ast.Call):
            yield from _in_call(node, {name: getattr(ExpressionEvaluator, name) for name in BY_NAME})
        elif isinstance(node, ast.Compare):
            yield from _compared(node)


def _in_gap(text: str, names: Collection[str]) -> Iterator[Told]:
    """What a gap of a text names that nobody knows; it may call the words of a page."""
    function = text.partition("(")[0]
    if text in names:
        return
    if function in FUNCTIONS:
        try:
            call: ast.expr | None = parsed_sum(text).body
        except SyntaxError:
            call = None
        if isinstance(call, ast.Call):
            yield from _in_call(call, {name: getattr(Words, name) for name in FUNCTIONS})
        else:
            yield f'"{text}" is no word with its brackets', 'As number("air_changes")', "Mend it"
    else:
        yield unknown_word(function, "name of this text", (*names, *FUNCTIONS))


def _in_call(call: ast.Call, functions: Mapping[str, Callable[..., Any]]) -> Iterator[Told]:
    name = ast.unparse(call.func)
    if name not in functions:  # told as an unknown name
        return
    given = {keyword.arg or "": keyword.value for keyword in call.keywords}
    try:
        bound = signature(functions[name]).bind(None, *call.args, **given).arguments
    except TypeError:
        takes = ", ".join([*signature(functions[name]).parameters][1:]) or "nothing"
        yield f'"{ast.unparse(call)}" does not fit', f"{name} takes {takes}", "Mend it"
        return
    for argument, node in {**bound, **bound.get("of", {})}.items():
        word = node.value if isinstance(node, ast.Constant) else None
        if argument in bound.get("of", {}) and argument not in ("task", "time"):
            yield unknown_word(argument, "key of an amount", ("task", "time"))
        if not isinstance(word, str):
            continue
        if argument == "id_" and word not in known_amount_ids():
            yield unknown_word(word, "amount", sorted(known_amount_ids()))
        elif argument in ("path", "field") and name in _RECORDS and (told := _fact(_RECORDS[name], word)):
            yield told
        elif argument in _ALLOWED and word not in _ALLOWED[argument][1]:
            yield unknown_word(word, *_ALLOWED[argument])


def _compared(node: ast.Compare) -> Iterator[Told]:
    """A text beside a fact that is one of a few words."""
    match node:
        case ast.Compare(
            ast.Call(ast.Name(function), [*_, ast.Constant(str(path))]), _, [ast.Constant(word)]
        ) if function in _RECORDS:
            *way, name = path.split(".")
            holder = record_at(_RECORDS[function], tuple(way))
            field = holder.model_fields.get(name) if holder else None
            kind = plain_type(field.annotation) if field else None
            if get_origin(kind) is Literal and word not in get_args(kind):
                yield unknown_word(str(word), f"word for {name}", get_args(kind))


def _fact(model: type[Record], path: str) -> Told | None:
    """What is told of a path that no house can hold: its first name that is no field."""
    way = path.split(".")
    for index, name in enumerate(way):
        holder = record_at(model, tuple(way[:index]))
        known = holder.model_fields if holder else ()
        if name not in known:
            return unknown_word(name, f"fact under {'.'.join(way[:index])}" if index else "fact", known)
    return None
