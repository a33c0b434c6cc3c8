"""The workings page: every amount with its formula, its inputs and where they stand, its sources."""

from __future__ import annotations

from macros.amounts import Amount, Register
from macros.amounts.explain import rounding_text
from macros.amounts.printing import brief, shown_unit
from macros.manual.views import WorkingGroup, WorkingView
from macros.rendering.pages import workings_page

INTRODUCTION = (
    "Every amount of the manual: the formula with the numbers in it, the facts behind it, its sources."
)


def workings_text(register: Register) -> str:
    """The page as Markdown, amounts grouped by topic in the order they are computed."""
    groups: dict[str, list[WorkingView]] = {}
    for amount in register.all():
        groups.setdefault(amount.topic, []).append(_view(amount))
    return workings_page("Workings", [WorkingGroup(topic, tuple(views)) for topic, views in groups.items()])


def _view(amount: Amount) -> WorkingView:
    return WorkingView(
        anchor=amount.anchor,
        label=amount.label,
        amount_id=amount.id,
        of_text=", ".join(value for _, value in amount.of),
        printed=amount.printed,
        working=amount.working,
        inputs=tuple(
            (item.name, f"{_number(item.value)} {shown_unit(item.unit)}".strip(), item.where)
            for item in amount.inputs
        ),
        sources=amount.sources,
        assumed=amount.assumed,
        rounding_text=rounding_text(amount),
    )


def _number(value: float | str) -> str:
    return brief(value, 8) if isinstance(value, float) else str(value)
