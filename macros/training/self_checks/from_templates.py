"""Questions written as data in `published/questions.yml`, answered from the house at hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from macros.amounts import Amount, Register
from macros.manual.procedures.page_texts import Writer
from macros.manual.procedures.template_functions import Words
from macros.page_model.page import PageView
from macros.published.training.questions import Template, templates
from macros.training.self_checks.figures import Figure, NoFigure
from macros.training.self_checks.items import Item, items_of
from macros.training.self_checks.question import QuestionView, Target
from macros.training.self_checks.sum_language import ExpressionEvaluator
from macros.training.self_checks.tolerance import tolerance_of, tolerance_of_amount
from macros.training.self_checks.wrong_answers import distractors_that_differ, mixed

FILE = "macros/published/training/questions.yml"


class Places:
    """Where steps and cautions stand on the pages of this house."""

    def __init__(self, views: Sequence[PageView]) -> None:
        self._steps: dict[tuple[str, str], list[Target]] = {}
        self._cautions: dict[str, list[Target]] = {}
        self.waits: dict[tuple[str, str], str] = {}
        for view in views:
            for step in view.steps:
                target = Target(view.key, view.document, view.system, step.id, step.number)
                self._steps.setdefault((view.document, step.id), []).append(target)
                if step.wait is not None:
                    self.waits[view.key, step.id] = step.wait.least
                for caution in step.cautions:
                    where = Target(view.key, view.document, view.system, step.id, step.number, caution.id)
                    self._cautions.setdefault(caution.id, []).append(where)

    def named(self, text: str, keys: Mapping[str, str]) -> list[Target]:
        """`SOP-09 level`, or `caution LIFT-WATER`: what of it this house has, for the system and item at hand."""
        first, _, second = text.partition(" ")
        system = keys.get("system", "")
        if first == "caution":
            return self._of(self._cautions.get(second, []), system)
        if second.endswith("*"):
            ids = [id_ for document, id_ in self._steps if document == first and id_.startswith(second[:-1])]
            return self._of([target for id_ in ids for target in self._steps[first, id_]], system)
        ids = [second, *(f"{second}-{value}" for value in keys.values())]
        of_ids = (self._of(self._steps.get((first, id_), []), system) for id_ in ids)
        return next((found for found in of_ids if found), [])

    @staticmethod
    def _of(targets: list[Target], system: str) -> list[Target]:
        return [target for target in targets if not system or target.system in ("", system)]


def template_questions(
    register: Register, views: Sequence[PageView], write: Writer, modules: Mapping[str, str]
) -> list[QuestionView]:
    """Every template this house has the amounts and pages for, for each of its items.

    `modules` is page key -> training unit: a question goes with the page it tests first, unless its template names a unit.
    """
    places = Places(views)
    found: list[QuestionView] = []
    for template in templates():
        made = 0
        for item in items_of(template.for_each, register):
            question = _Asked(template, item, register, places, write).question(modules)
            if question is not None:
                found.append(question)
                made += 1
            if made and template.take == "first":
                break
    return found


class _Asked:
    """One template for one item of the house."""

    def __init__(
        self, template: Template, item: Item, register: Register, places: Places, write: Writer
    ) -> None:
        self.template, self.register, self.write = template, register, write
        self.suffix, self.keys, self.named = item
        self.targets = [t for name in template.tests for t in places.named(name, self.keys)]
        self.words = Words(register, dict(self.keys), dict(self.named))
        self.given: dict[str, Any] = {}
        if "part" in self.named:
            self.given["column"] = self.named["part"]["column"]
        if "block" in self.named:
            self.given["planted"] = Figure(float(self.named["block"]["plants"]), "plants", 1.0)
        wait = places.waits.get((self.targets[0].page_key, self.targets[0].step_id)) if self.targets else None
        if wait:
            self.given["wait_least"] = wait
        self.evaluator = ExpressionEvaluator(self.words, self.given)
        self.answered: list[Amount] = []

    def question(self, modules: Mapping[str, str]) -> QuestionView | None:
        """The question, or None where this house has no such amount, fact or step."""
        if not self.targets:
            return None
        try:
            if self.template.if_ and not self.evaluator.work_out(self.template.if_):
                return None
            for name, sum_ in self.template.given.items():
                self.given[name] = self.evaluator.work_out(sum_)
            before = len(self.words.used)
            answer = self.evaluator.work_out(self.template.answer) if self.template.answer else None
            self.answered = self.words.used[before:]
            module = self.template.module or modules[self.targets[0].page_key]
            return self._made(answer, module)
        except NoFigure:
            return None

    def _made(self, answer: Any, module: str) -> QuestionView:
        template = self.template
        self.given["answer"] = shown = self._shown(answer)
        id_ = template.id + (f"-{self.suffix}" if self.suffix else "")
        text, why = self._write(template.text), self._write(template.why)
        question = QuestionView(
            id_, module, tuple(self.targets), text, template.kind, shown, why=why, template=template.id
        )
        wrong = self._wrong()
        figure = None
        if template.kind == "number":
            figure = answer if isinstance(answer, Figure) else Figure(float(answer))
            question = self._with_number(question, figure)
        kept = distractors_that_differ(shown, figure, question.within, wrong)
        amounts = tuple(dict.fromkeys(amount.key for amount in self.words.used))
        question = replace(question, wrong=tuple((text, means) for text, means, _ in kept), amounts=amounts)
        if template.kind == "number":
            return replace(question, wrong_values=tuple(value for _, _, value in kept))
        if template.kind == "order":
            return replace(question, items=tuple(answer))
        return _with_choices(question) if template.kind == "choice" else question

    def _with_number(self, question: QuestionView, figure: Figure) -> QuestionView:
        """The number, its unit, the tool the pages measure it with, and how far it may be off."""
        read_with = self.template.read_with
        if read_with == "shown":
            within, told = tolerance_of_amount(self.answered[0], figure, self.register)
        else:
            within, told = tolerance_of(figure, read_with or "", self.register, self.keys.get("system", ""))
        tool = self.answered[0].tool if self.answered else ""
        return replace(
            question, unit=figure.shown_unit, tool=tool, tolerance=told, value=figure.value, within=within
        )

    def _shown(self, answer: Any) -> str:
        if self.template.says is not None:
            return self._write(self.template.says)
        if isinstance(answer, bool):
            return "yes" if answer else "no"
        return _as_text(answer)

    def _wrong(self) -> list[tuple[Any, str]]:
        found: list[tuple[Any, str]] = []
        for entry in self.template.wrong:
            means = self._write(entry.means)
            if entry.answer is None:
                found.append((self._write(entry.says or ""), means))
                continue
            try:
                value = self.evaluator.work_out(entry.answer)
            except NoFigure:
                continue
            found += [(one, means) for one in (value if isinstance(value, tuple) else (value,))]
        return found

    def _write(self, text: str) -> str:
        if "{" not in text:
            return text
        given = {name: _as_text(value) for name, value in self.given.items()}
        return self.write.render(text, {**self.words.names(), **given}, FILE, 1)


def _with_choices(question: QuestionView) -> QuestionView:
    """What a choice offers; asked in words where no wrong answer is left."""
    if not question.wrong:
        return replace(question, kind="words")
    texts = [text for text, _ in question.wrong]
    return replace(question, choices=mixed(question.id, (question.answer, *texts)))


def _as_text(value: Any) -> str:
    if isinstance(value, Figure):
        return value.text
    if isinstance(value, tuple):
        return ", then ".join(value)
    return f"{value:g}" if isinstance(value, float) else str(value)
