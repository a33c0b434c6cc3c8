"""Which question tests which critical step and which caution: the table a trainer reads, and what is missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from macros.ground.problems import Place, Problem
from macros.page_model.page import PageView
from macros.training.self_checks.question import QuestionView


@dataclass(frozen=True)
class CoverageRow:
    """A critical step or a caution of one page, and the ids of the questions that test it (with their units)."""

    page_key: str
    document: str
    title: str
    step_id: str
    number: int
    do: str
    caution: str
    questions: tuple[tuple[str, str], ...]

    @property
    def what(self) -> str:
        """`critical`, or the caution."""
        return self.caution or "critical step"


def coverage_rows(views: Sequence[PageView], questions: Sequence[QuestionView]) -> list[CoverageRow]:
    """One row for each critical step and each caution before a step, in the order of the pages."""
    tested: dict[tuple[str, str, str], list[tuple[str, str]]] = {}
    for question in questions:
        for target in question.tests:
            key = (target.page_key, target.step_id, target.caution)
            tested.setdefault(key, []).append((question.id, question.module))
    rows = []
    for view in views:
        for step in view.steps:
            wanted = ([""] if step.critical else []) + [caution.id for caution in step.cautions]
            for caution in wanted:
                found = tuple(tested.get((view.key, step.id, caution), ()))
                rows.append(
                    CoverageRow(
                        view.key, view.document, view.title, step.id, step.number, step.do, caution, found
                    )
                )
    return rows


def coverage_problems(rows: Sequence[CoverageRow]) -> list[Problem]:
    """An error for each critical step and caution that no question tests."""
    return [
        Problem(
            Place(f"p/{row.page_key.lower()}.md", 1),
            f"step {row.number} ({row.step_id})",
            f"no question tests {'the caution ' + row.caution if row.caution else 'this critical step'}",
            "Every critical step and every caution has at least one question",
            "Add a template to macros/published/training/questions.yml, or say at the step what must be seen",
        )
        for row in rows
        if not row.questions
    ]
