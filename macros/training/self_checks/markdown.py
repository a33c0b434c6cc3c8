"""The helper's self-checks, a page for each training unit, and the table of what they cover.

A page holds its answers, because it shows them after an answer was given and works without a network; they are data for
its script, plain to whoever looks for them. So a self-check proves nothing to others, and says so. The trainer's key, with
what each wrong answer means side by side, is a print (`question_sheets.key_parts`) and no file of the site.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from html import unescape
from typing import Any

from macros.amounts import Register
from macros.html.environment import joined, render, script_data
from macros.html.site_text import SiteText
from macros.page_model.page import PageView
from macros.published.training.training import sign_off_rules, training_units
from macros.training.self_checks.all_questions import QuestionView, of_module, short_name
from macros.training.self_checks.coverage import CoverageRow
from macros.training.self_checks.wrong_answers import mixed

COVERAGE = "training/coverage.md"


def check_address(module: str) -> str:
    """`training/check-m8.md`: the source of the self-check of a training unit."""
    return f"training/check-{short_name(module).lower()}.md"


def module_title(module: str) -> str:
    """The unit's name, `M8 Cleanout`."""
    name = training_units().get(module, "")
    return f"{short_name(module)} {name}".strip()


def modules_with_questions(questions: Sequence[QuestionView]) -> list[str]:
    """The units that have questions, in their order."""
    return list(dict.fromkeys(question.module for question in questions))


def check_texts(
    register: Register,
    views: Sequence[PageView],
    questions: Sequence[QuestionView],
    rows: Sequence[CoverageRow],
) -> Iterator[SiteText]:
    """Each self-check, and the table of what they cover."""
    titles = {view.key: view for view in views}
    workings = {amount.key: amount.anchor for amount in register.all()}
    for module in modules_with_questions(questions):
        text = _check_page(register.built_for, of_module(questions, module), titles, workings)
        yield SiteText(check_address(module), text, ("Training", module_title(module)))
    yield SiteText(COVERAGE, _coverage_page(rows), ("Training", "What is asked"))


def anchor(id_: str) -> str:
    """The place of a question on its page."""
    return "q-" + id_.lower().replace("_", "-")


def _check_page(
    day: date, questions: Sequence[QuestionView], titles: Mapping[str, PageView], workings: Mapping[str, str]
) -> str:
    module = questions[0].module
    groups: dict[str, list[dict[str, Any]]] = {}
    for question in questions:
        page = titles[question.page_key]
        asks_caution = question.tests[0].caution and not question.template
        working = workings.get(question.amounts[0], "") if question.amounts else ""
        groups.setdefault("Cautions" if asks_caution else page.title, []).append(
            _data(question, page, working)
        )
    *first, last = (str(days) for days in sign_off_rules().recall_days)
    again = f"{', '.join(first)} and {last}" if first else last
    return render(
        "check.md.j2",
        title=module_title(module),
        key=short_name(module),
        day=day,
        again=again,
        count=len(questions),
        groups=list(groups),
        data=script_data(list(groups.values())),
    )


def _data(question: QuestionView, page: PageView, working: str) -> dict[str, Any]:
    """What the script needs of a question: plain texts and numbers; wrong answers with their number, where they have one."""
    values = question.wrong_values or (None,) * len(question.wrong)
    data = {
        "id": question.id,
        "at": anchor(question.id),
        "scope": question.scope,
        "text": question.text,
        "kind": question.kind,
        "unit": question.unit,
        "choices": ("yes", "no") if question.kind == "yes_no" else question.choices,
        "items": question.items,
        "mixed": mixed(question.id, question.items),
        "answer": question.answer,
        "value": question.value,
        "within": question.within,
        "tolerance": question.tolerance,
        "tool": question.tool,
        "why": question.why,
        "wrong": [[text, means, value] for (text, means), value in zip(question.wrong, values, strict=True)],
        "page": f"../{page.page_address}#step-{question.step_number}",
        "step": f"{question.page_key}, step {question.step_number}",
        "working": f"../reference/workings.html#{working}" if working else "",
    }
    return {name: _whole(value) for name, value in data.items() if value not in ("", (), [], None)}


def _whole(value: Any) -> Any:
    """Every text with its numbers kept from parting with their units; the script sets it as text, never as HTML."""
    if isinstance(value, list | tuple):
        return [_whole(one) for one in value]
    return unescape(str(joined(value))) if isinstance(value, str) else value


def _coverage_page(rows: Sequence[CoverageRow]) -> str:
    """A table for each procedure, a row for each step; systems that are asked alike share it."""
    documents: dict[str, list[CoverageRow]] = {}
    for row in rows:
        documents.setdefault(f"{row.page.document} {row.page.title}", []).append(row)
    return render(
        "coverage.md.j2",
        tables={title: _coverage_table(found) for title, found in documents.items()},
        units={title: _asked_in(found) for title, found in documents.items()},
        count=len(rows),
        asked=sum(1 for row in rows if row.questions),
    )


def _coverage_table(rows: Sequence[CoverageRow]) -> list[tuple[str, str]]:
    """The steps of a procedure, with its systems where they differ, and what is asked of each."""
    steps: dict[tuple[str, str], list[CoverageRow]] = {}
    for row in rows:
        steps.setdefault((row.page.key, row.step.id), []).append(row)
    systems: dict[tuple[int, str], list[str]] = {}
    for found in steps.values():
        told = "; ".join(f"{row.what}: {', '.join(q.id for q in row.questions) or 'NONE'}" for row in found)
        systems.setdefault((found[0].step.number, told), []).append(found[0].page.system)
    return [
        (f"{number} ({', '.join(letters)})" if any(letters) else str(number), told)
        for (number, told), letters in systems.items()
    ]


def _asked_in(rows: Sequence[CoverageRow]) -> dict[str, str]:
    """Short name of each unit that asks of these steps -> its self-check."""
    modules = dict.fromkeys(question.module for row in rows for question in row.questions)
    return {
        short_name(module): check_address(module).removeprefix("training/").replace(".md", ".html")
        for module in modules
    }
