"""What the sums and texts of the published questions name, looked up in every run, whether this house asks them or not."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Collection, Iterator, Mapping
from inspect import signature
from typing import Any, Literal, get_args, get_origin

from macros.ground.names import Unknown, unknown_word
from macros.ground.problems import Problem
from macros.ground.record_shape import plain_type, record_at
from macros.ground.records import Record
from macros.house import House
from macros.house.records.crops import Variety
from macros.house.records.sanitizing import SanitizingTask
from macros.house.records.systems import System
from macros.manual.house_facts.fact_paths import path_end
from macros.manual.procedures.template_functions import FUNCTIONS, Words
from macros.published.amounts.amount_ids import known_amount_ids
from macros.published.names import TASKS
from macros.published.training.questions import Answer, Template, parsed_sum, templates
from macros.training.self_checks.sum_language import BY_NAME, ExpressionEvaluator

_ALLOWED: dict[str, tuple[str, Collection[str]]] = {
    "task": ("sanitizing task", TASKS),
    "time": ("time of the lamps", ("lights_on", "lights_off")),
    "over": ("side of the limit", ("over", "under")),
    "unit": ("unit a sum asks for", ("min", "kg")),
}
"""Arguments of the functions of a sum: what one is, and which there are."""
_RECORDS: dict[str, type[Record]] = {
    "fact": House, "system_fact": System, "task_fact": SanitizingTask, "variety_fact": Variety,
}  # fmt: skip
_SUM_NAMES = {"part": ("column",), "block": ("planted",)}
_OF_VARIETY = ("variety.id", "variety.name", "variety.part", "variety.system", "variety.planting")
_TEXT_NAMES = {
    "part": ("part.name",),
    "variety": _OF_VARIETY,
    "first_sown": _OF_VARIETY,
    "block": ("block.variety", "block.plates", "block.plants"),
    "pair": ("one", "other", "group"),
    "meter": ("meter.name", "meter.measures"),
}
"""What a sum or a text may name beside its `given`, by what the question is asked for (`question_items`)."""


def question_mistakes() -> list[Problem]:
    """Every word of the questions' sums and texts that names something nobody knows."""
    return [
        unknown_word(record.place(field), record.key(field), *unknown)
        for template in templates()
        for record, field, unknown in _of_template(template)
    ]


def _of_template(template: Template) -> Iterator[tuple[Record, str, Unknown]]:
    names = [*_SUM_NAMES.get(template.for_each, ()), "wait_least"]
    for name, text in template.given.items():
        yield from ((template, f"given.{name}", unknown) for unknown in _in_sum(text, names))
        if name in BY_NAME:
            yield template, f"given.{name}", (name, "free name: a function of sums has it", ())
        names.append(name)
    yield from ((template, "if_", unknown) for unknown in _in_sum(template.if_ or "0", names))
    in_texts = [*names, *_TEXT_NAMES.get(template.for_each, ())]
    answers: tuple[Answer, ...] = (template, *template.wrong)
    for answer in answers:
        yield from ((answer, "answer", unknown) for unknown in _in_sum(answer.answer or "0", names))
        yield from _of_texts(answer, in_texts)


def _of_texts(answer: Answer, names: Collection[str]) -> Iterator[tuple[Record, str, Unknown]]:
    for field in ("text", "says", "why", "means"):
        for gap in re.findall(r"\{\{ *(.*?) *\}\}", getattr(answer, field, None) or ""):
            yield from ((answer, field, unknown) for unknown in _in_gap(gap, names))


def _in_sum(text: str, names: Collection[str]) -> Iterator[Unknown]:
    """What a sum names that nobody knows: functions and what they are asked for, names, words a fact never is."""
    for node in ast.walk(parsed_sum(text)):
        if isinstance(node, ast.Name) and node.id not in (*BY_NAME, *names):
            yield node.id, "name of this sum", (*names, *BY_NAME)
        elif isinstance(node, ast.Call):
            yield from _in_call(node, {name: getattr(ExpressionEvaluator, name) for name in BY_NAME})
        elif isinstance(node, ast.Compare):
            yield from _compared(node)


def _in_gap(text: str, names: Collection[str]) -> Iterator[Unknown]:
    """What a gap of a text names that nobody knows; it may call the words of a page."""
    function = text.partition("(")[0]
    if text in names:
        return
    if function not in FUNCTIONS:
        yield function, "name of this text", (*names, *FUNCTIONS)
        return
    try:
        call: ast.expr | None = parsed_sum(text).body
    except SyntaxError:
        call = None
    if isinstance(call, ast.Call):
        yield from _in_call(call, {name: getattr(Words, name) for name in FUNCTIONS})
    else:
        yield text, 'word with its brackets, as number("air_changes")', ()


def _in_call(call: ast.Call, functions: Mapping[str, Callable[..., Any]]) -> Iterator[Unknown]:
    name = ast.unparse(call.func)
    if name not in functions:  # told as an unknown name
        return
    given = {keyword.arg or "": keyword.value for keyword in call.keywords}
    try:
        bound = signature(functions[name]).bind(None, *call.args, **given).arguments
    except TypeError:
        takes = ", ".join([*signature(functions[name]).parameters][1:])
        yield ast.unparse(call), "way to ask", (f"{name}({takes})",)
        return
    of = bound.pop("of", {})
    yield from ((key, "key of an amount", ("task", "time")) for key in of if key not in ("task", "time"))
    for argument, node in {**bound, **of}.items():
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield from _argument(name, argument, node.value)


def _argument(function: str, argument: str, word: str) -> Iterator[Unknown]:
    """A text that a function is asked with."""
    if argument == "id_" and word not in known_amount_ids():
        yield word, "amount of checked_by.yml", known_amount_ids()
    elif argument in ("path", "field") and function in _RECORDS:
        if unknown := path_end(_RECORDS[function], word).unknown:
            yield unknown
    elif argument in _ALLOWED and word not in _ALLOWED[argument][1]:
        yield word, *_ALLOWED[argument]


def _compared(node: ast.Compare) -> Iterator[Unknown]:
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
                yield str(word), f"word for {name}", get_args(kind)
