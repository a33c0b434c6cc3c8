"""The helper's self-checks, a page for each training unit, and the table of what they cover.

A page holds its answers, because it shows them after an answer was given and works without a network; they are data for
its script, plain to whoever looks for them. So a self-check proves nothing to others, and says so. The trainer's key, with
what each wrong answer means side by side, is a print (`question_sheets.key_parts`) and no file of the site.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from macros.amounts import Register
from macros.manual.question_coverage import CoverageRow
from macros.manual.question_decoys import mixed
from macros.manual.questions import QuestionView, of_module, short_name
from macros.manual.views import PageView
from macros.published import load
from macros.rendering.environment import render
from macros.rendering.page_data import page_data

COVERAGE = "training/coverage.md"


def check_address(module: str) -> str:
    """`training/check-m8.md`: the source of the self-check of a training unit."""
    return f"training/check-{short_name(module).lower()}.md"


def module_title(module: str) -> str:
    """The unit's name, `M8 Cleanout`."""
    name = load("training_units")["units"].get(module, "")
    return f"{short_name(module)} {name}".strip()


def modules_with_questions(questions: Sequence[QuestionView]) -> list[str]:
    """The units that have questions, in their order."""
    return list(dict.fromkeys(question.module for question in questions))


def check_pages(
    register: Register, views: Sequence[PageView], questions: Sequence[QuestionView], rows: Sequence[CoverageRow]
) -> dict[str, tuple[str, str]]:
    """Source address -> (title of the menu, text) of each self-check and of the coverage table."""
    titles = {view.key: view for view in views}
    workings = {amount.key: amount.anchor for amount in register.all()}
    pages = {
        check_address(module): (module_title(module), _check_page(register.built_for, of_module(questions, module), titles, workings))
        for module in modules_with_questions(questions)
    }
    pages[COVERAGE] = ("What is asked", _coverage_page(rows))
    return pages


def anchor(id_: str) -> str:
    """The place of a question on its page."""
    return "q-" + id_.lower().replace("_", "-")


def _check_page(
    day: date, questions: Sequence[QuestionView], titles: Mapping[str, PageView], workings: Mapping[str, str]
) -> str:
    module = questions[0].module
    groups: dict[str, list[dict[str, Any]]] = {}
    for question in questions:
        heading = titles[question.page_key].title
        if question.tests[0].caution and not question.template:
            heading = "Cautions"
        groups.setdefault(heading, []).append(
            {
                "q": question,
                "anchor": anchor(question.id),
                "page": titles[question.page_key],
                "working": workings.get(question.amounts[0], "") if question.amounts else "",
                "items": mixed(question.id, question.items),
            }
        )
    return render(
        "check.md.j2",
        title=module_title(module),
        key=short_name(module),
        day=day,
        count=len(questions),
        groups=groups,
        data=page_data({question.id: _data(question) for question in questions}),
    )


def _data(question: QuestionView) -> dict[str, Any]:
    """What the script needs of a question; the wrong answers with their number, where they have one."""
    values = question.wrong_values or (None,) * len(question.wrong)
    return {
        "kind": question.kind,
        "answer": question.answer,
        "value": question.value,
        "within": question.within,
        "tolerance": question.tolerance,
        "tool": question.tool,
        "items": question.items,
        "why": question.why,
        "wrong": [[text, means, value] for (text, means), value in zip(question.wrong, values, strict=True)],
    }


def _coverage_page(rows: Sequence[CoverageRow]) -> str:
    """Rows of systems that are asked alike stand once."""
    merged: dict[tuple[object, ...], tuple[CoverageRow, list[str]]] = {}
    for row in rows:
        key = (row.document, row.step_id, row.number, row.caution, row.questions)
        merged.setdefault(key, (row, []))[1].append(row.page_key)
    table = [
        {
            "row": row,
            "pages": ", ".join(keys),
            "questions": [(id_, check_address(module).replace(".md", ".html") + "#" + anchor(id_)) for id_, module in row.questions],
        }
        for row, keys in merged.values()
    ]
    asked = sum(1 for row in rows if row.questions)
    return render("coverage.md.j2", table=table, count=len(rows), asked=asked)
