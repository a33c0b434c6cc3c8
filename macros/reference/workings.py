"""The workings page: every amount with its formula, its inputs and where they stand, its sources."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from markupsafe import Markup

from macros.amounts import Amount, Register
from macros.amounts.engine.amount import Input
from macros.amounts.engine.explain import rounding_text
from macros.amounts.engine.number_format import brief, shown_unit
from macros.html.environment import joined, render


def workings_text(register: Register) -> str:
    """The page as Markdown, amounts grouped by topic in the order they are computed."""
    groups: dict[str, list[Amount]] = {}
    for amount in register.all():
        groups.setdefault(amount.topic, []).append(amount)
    return render(
        "workings.md.j2", title="Workings", groups=groups, fact_lines=fact_lines, rounding_text=rounding_text
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
