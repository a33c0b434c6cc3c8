"""The self-check questions of a house: those written as templates, and those made of its own critical steps and cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from operator import attrgetter

from macros.amounts import Register
from macros.manual.procedures.page_texts import Writer
from macros.page_model.page import PageView
from macros.published.training.training import short_name, training, training_units
from macros.training.self_checks.from_steps import caution_questions, step_questions
from macros.training.self_checks.from_templates import template_questions
from macros.training.self_checks.question import QuestionView, Target


def house_questions(register: Register, views: Sequence[PageView], write: Writer) -> tuple[QuestionView, ...]:
    """Every question of the house, in the order of its training units and pages. Ids are stable and given once.

    Systems whose question and answer read the same share one question.
    """
    modules = modules_of(views)
    written = template_questions(register, views, write, modules)
    asked: dict[tuple[str, str], set[str]] = {}
    for question in written:
        for target in question.tests:
            if not target.caution:
                numbers = question.amounts if question.kind == "number" else ()
                asked.setdefault((target.page_key, target.step_id), set()).update(numbers)
    made = [*step_questions(register, views, modules, asked), *caution_questions(views, modules)]
    order = {view.key: index for index, view in enumerate(views)}
    units = list(training_units())
    questions = sorted(
        _told_apart(_merged([*written, *made])),
        key=lambda q: (units.index(q.module) if q.module in units else len(units), _is_caution(q), order[q.page_key], q.step_number),
    )  # fmt: skip
    return tuple(questions)


def modules_of(views: Iterable[PageView]) -> dict[str, str]:
    """Page key -> the first module that teaches the page (`training.yml`); a page in none goes with the last unit it names."""
    modules = training().modules
    units = [module.unit for module in modules]
    titles = {module.title: module.unit for module in modules}
    teaches = {document: module.unit for module in reversed(modules) for document in module.teaches}
    return {
        view.key: teaches.get(view.document)
        or (titles.get(view.units[-1], view.units[-1]) if view.units else units[0])
        for view in views
    }


def of_module(questions: Iterable[QuestionView], module: str) -> tuple[QuestionView, ...]:
    """The questions of a unit, by its id (`M8_cleanout`) or the part before its name (`M8`)."""
    return tuple(q for q in questions if module in (q.module, short_name(q.module)))


def _is_caution(question: QuestionView) -> bool:
    return bool(question.tests[0].caution) and not question.template


_asked_and_answered = attrgetter("module", "text", "kind", "answer", "wrong", "value", "within")


def _merged(questions: Iterable[QuestionView]) -> list[QuestionView]:
    """Questions that read the same for several systems become one, which tests the steps of all of them."""
    found: dict[object, list[QuestionView]] = {}
    for question in questions:
        alike = found.setdefault(_asked_and_answered(question), [])
        if not alike or alike[0].id != question.id:
            alike.append(question)
    return [_one_of(alike) for alike in found.values()]


def _one_of(alike: Sequence[QuestionView]) -> QuestionView:
    """The first, with the steps and amounts of all."""
    tests = dict.fromkeys(target for question in alike for target in question.tests)
    amounts = dict.fromkeys(amount for question in alike for amount in question.amounts)
    return replace(alike[0], tests=tuple(tests), amounts=tuple(amounts)) if len(alike) > 1 else alike[0]


def _told_apart(questions: list[QuestionView]) -> list[QuestionView]:
    """Two questions of one unit with the same words and systems, but other answers, name their step."""
    seen: dict[tuple[str, str, str], int] = {}
    for question in questions:
        seen[_words(question)] = seen.get(_words(question), 0) + 1
    return [
        replace(q, text=f"{q.text} ({q.page_key}, step {q.step_number})") if seen[_words(q)] > 1 else q
        for q in questions
    ]


def _words(question: QuestionView) -> tuple[str, str, str]:
    return question.module, question.text, question.scope


__all__ = ["QuestionView", "Target", "house_questions", "modules_of", "of_module", "short_name"]
