"""Questions written as data in `published/questions.yml`, answered from the house at hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from macros.amounts import Amount, Register
from macros.manual.procedures.page_texts import Writer
from macros.manual.procedures.template_functions import Words
from macros.page_model.page import PageView
from macros.published.training.questions import Template, templates
from macros.training.self_checks.figures import Figure, NoFigure
from macros.training.self_checks.items import Item, items_of
from macros.training.self_checks.question import QuestionView, Target
from macros.training.self_checks.sum_language import Sums
from macros.training.self_checks.tolerance import mark_of, mark_of_amount
from macros.training.self_checks.wrong_answers import decoys_that_differ, mixed

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
        if first == "caution":
            return self._of(self._cautions.get(second, []), keys.get("system", ""))
        if second.endswith("*"):
            starts = [
                t
                for (document, id_), found in self._steps.items()
                if document == first and id_.startswith(second[:-1])
                for t in found
            ]
            return self._of(starts, keys.get("system", ""))
        for id_ in (second, *(f"{second}-{value}" for value in keys.values())):
            found = self._of(self._steps.get((first, id_), []), keys.get("system", ""))
            if found:
                return found
        return []

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
        self.sums = Sums(self.words, self.given)
        self.before = 0
        self.answered: list[Amount] = []

    def question(self, modules: Mapping[str, str]) -> QuestionView | None:
        """The question, or None where this house has no such amount, fact or step."""
        if not self.targets:
            return None
        try:
            if self.template.if_ and not self.sums.work_out(self.template.if_):
                return None
            for name, sum_ in self.template.given.items():
                self.given[name] = self.sums.work_out(sum_)
            self.before = len(self.words.used)
            answer = self.sums.work_out(self.template.answer) if self.template.answer else None
            self.answered = self.words.used[self.before :]
            module = self.template.module or modules[self.targets[0].page_key]
            return self._made(answer, module)
        except NoFigure:
            return None

    def _made(self, answer: Any, module: str) -> QuestionView:
        template, kind = self.template, self.template.kind
        id_ = template.id + (f"-{self.suffix}" if self.suffix else "")
        shown = self._shown(answer)
        self.given["answer"] = shown
        common: dict[str, Any] = {
            "id": id_,
            "module": module,
            "tests": tuple(self.targets),
            "text": self._write(template.text),
            "why": self._write(template.why),
            "template": template.id,
        }
        wrong, unit, within, told, tool = self._wrong(), "", 0.0, "", ""
        figure = answer if isinstance(answer, Figure) else Figure(float(answer)) if kind == "number" else None
        if kind == "number":
            assert figure is not None
            unit = figure.shown_unit
            within, told = self._mark(figure)
            tool = self._tool()
        kept = decoys_that_differ(kind, shown, figure, within, wrong)
        return QuestionView(
            kind="words" if kind == "choice" and not kept else kind,
            answer=shown,
            unit=unit,
            tool=tool,
            tolerance=told,
            wrong=tuple((decoy, means) for decoy, means, _ in kept),
            value=figure.value if kind == "number" and figure is not None else None,
            within=within,
            wrong_values=tuple(value for _, _, value in kept) if kind == "number" else (),
            items=tuple(answer) if kind == "order" else (),
            choices=mixed(id_, (shown, *(decoy for decoy, _, _ in kept)))
            if kind == "choice" and kept
            else (),
            amounts=tuple(dict.fromkeys(amount.key for amount in self.words.used)),
            **common,
        )

    def _tool(self) -> str:
        """What the pages say the amount is measured with."""
        return self.answered[0].tool if self.answered else ""

    def _mark(self, figure: Figure) -> tuple[float, str]:
        """`shown` is the tool the pages show the amount with."""
        read_with = self.template.read_with
        if read_with == "shown":
            return mark_of_amount(self.answered[0], figure, self.register)
        return mark_of(figure, read_with or "", self.register, self.keys.get("system", ""))

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
                value = self.sums.work_out(entry.answer)
            except NoFigure:
                continue
            found += [(one, means) for one in (value if isinstance(value, tuple) else (value,))]
        return found

    def _write(self, text: str) -> str:
        if "{" not in text:
            return text
        given = {name: _as_text(value) for name, value in self.given.items()}
        return self.write.render(text, {**self.words.names(), **given}, FILE, 1)


def _as_text(value: Any) -> str:
    if isinstance(value, Figure):
        return value.text
    if isinstance(value, tuple):
        return ", then ".join(value)
    return f"{value:g}" if isinstance(value, float) else str(value)
