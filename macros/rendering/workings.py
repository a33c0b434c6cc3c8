"""The workings page: every amount with its formula, its inputs and where they stand, its sources."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from markupsafe import Markup

from macros.amounts import Amount, Register
from macros.amounts.explain import rounding_text
from macros.amounts.printing import brief, shown_unit
from macros.amounts.record import Input
from macros.manual.views import WorkingGroup, WorkingView
from macros.rendering.environment import joined, render


def workings_text(register: Register) -> str:
    """The page as Markdown, amounts grouped by topic in the order they are computed."""
    groups: dict[str, list[WorkingView]] = {}
    for amount in register.all():
        groups.setdefault(amount.topic, []).append(_view(amount))
    found = [WorkingGroup(topic, tuple(views)) for topic, views in groups.items()]
    return render("workings.md.j2", title="Workings", groups=found, fact_lines=fact_lines)


def _view(amount: Amount) -> WorkingView:
    return WorkingView(
        anchor=amount.anchor,
        label=amount.label,
        amount_id=amount.id,
        of_text=", ".join(value for _, value in amount.of),
        printed=amount.printed,
        working=amount.working,
        inputs=amount.inputs,
        sources=amount.sources,
        assumed=amount.assumed,
        rounding_text=rounding_text(amount),
    )


def fact_lines(facts: Sequence[Input]) -> Markup:
    """Facts as items of a list."""
    return Markup("".join(map(_fact_line, facts)))


@lru_cache(maxsize=16384)
def _fact_line(fact: Input) -> Markup:
    """Made once for each fact: it stands under every amount that rests on it, often hundreds."""
    value = f"{_number(fact.value)} {shown_unit(fact.unit)}".strip()
    line = Markup("<li><code>{}</code> = {} <small>{}</small></li>")
    return line.format(joined(fact.name), joined(value), joined(fact.where))


def _number(value: float | str) -> str:
    return brief(value, 8) if isinstance(value, float) else str(value)
