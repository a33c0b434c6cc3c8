"""Which steps hurt when they are missed."""

from __future__ import annotations

from macros.page_model.page import PageView, StepView


def must_not_be_missed(page: PageView) -> list[StepView]:
    """The steps a checklist names: critical, a hold, or easily missed."""
    return [step for step in page.steps if step.critical or step.hold or step.easily_missed]


def critical(page: PageView) -> list[StepView]:
    """Those of them that hurt somebody or end the work: critical, or a hold."""
    return [step for step in page.steps if step.critical or step.hold]
