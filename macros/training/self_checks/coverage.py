"""Which question tests which critical step and which caution: the table a trainer reads, and what is missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from macros.ground.problems import Place, Problem
from macros.page_model.page import PageView, StepView
from macros.training.self_checks.question import QuestionView


@dataclass(frozen=True)
class CoverageRow:
    """A critical step of a page, or a caution before it, and the questions that test it."""

    page: PageView
    step: StepView
    caution: str
    questions: tuple[QuestionView, ...]

    @property
    def what(self) -> str:
        """`critical step`, or the caution."""
        return self.caution or "critical step"


def coverage_rows(views: Sequence[PageView], questions: Sequence[QuestionView]) -> list[CoverageRow]:
    """One row for each critical step and each caution before a step, in the order of the pages."""
    tested: dict[tuple[str, str, str], list[QuestionView]] = {}
    for question in questions:
        for target in question.tests:
            tested.setdefault((target.page_key, target.step_id, target.caution), []).append(question)
    return [
        CoverageRow(view, step, caution, tuple(tested.get((view.key, step.id, caution), ())))
        for view in views
        for step in view.steps
        for caution in (*([""] if step.critical else []), *(caution.id for caution in step.cautions))
    ]


def coverage_problems(rows: Sequence[CoverageRow]) -> list[Problem]:
    """An error for each critical step and caution that no question tests."""
    return [
        Problem(
            Place(f"p/{row.page.key.lower()}.md", 1),
            f"step {row.step.number} ({row.step.id})",
            f"no question tests {'the caution ' + row.caution if row.caution else 'this critical step'}",
            "Every critical step and every caution has at least one question",
            "Add a template to macros/published/training/questions.yml, or say at the step what must be seen",
        )
        for row in rows
        if not row.questions
    ]
