"""How the numbers of a page are worked out, without the numbers: what changes when a formula or a rule does.

The shape of an amount is its working with the numbers taken out, its rounding and its sources. A fact of the house that
changes moves numbers and keeps the shape; a formula, a rule of rounding, a tool's finest mark or a source does not.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from functools import cache

from macros.amounts import Amount, Register
from macros.amounts.engine.explain import rounding_text
from macros.manual.procedures.file_format import ProcedureData, TableAsk
from macros.page_model.page import StepView
from macros.published.safety.cautions import catalogue

_NUMBER = re.compile(r"(?<![\w.)])-?\d+(?:[.,]\d+)*(?:e[-+]?\d+)?|\d+")

_OF_FIGURES = {
    "planting_map": ("planting_map",),
    "level_stick": (
        "res_fill",
        "res_refill",
        "res_dead",
        "level_table",
        "level_at_flood",
        "draw_simultaneous",
        "draw_staggered",
    ),
    "topup_table": ("topup_table",),
}
"""The amounts each drawing of a page is made of."""

_OF_TRIGGER = ("trigger", "escalate", "severity", "likelihood", "source")
"""What of a caution's entry decides where it stands and which signal word it has, and on whose word."""


def shape(amount: Amount) -> str:
    """Rounding, working without its numbers, and sources, in a few lines of text."""
    rounding = f"{amount.kind}, rounded {rounding_text(amount)}"
    return _shape(rounding, amount.working, amount.sources)


@cache
def _shape(rounding: str, working: str, sources: tuple[str, ...]) -> str:
    return "\n".join((rounding, without_numbers(working), *(f"source: {one}" for one in sources)))


def without_numbers(text: str) -> str:
    """Each number as `#`, its sign with it: `12 L x 1.5 mL/L` is `# L x # mL/L`."""
    return _NUMBER.sub("#", text)


def page_formulas(
    worked_from: Iterable[str], steps: Iterable[StepView], register: Register
) -> dict[str, str]:
    """Shape by name: of each amount a page prints and each it rests on, and the trigger of each of its cautions.

    `worked_from` are the keys of the amounts it prints.
    """
    below = _all_below(worked_from, register)
    found = {key: shape(below[key]) for key in sorted(below)}
    for caution in dict.fromkeys(one.id for step in steps for one in step.cautions):
        found[f"caution {caution}"] = trigger_text(caution)
    return found


@cache
def trigger_text(caution: str) -> str:
    """When a caution stands before a step and when its word rises, as the catalogue says it; of one of the house nothing:
    it stands where the house names the step.
    """
    if caution not in catalogue():
        return ""
    entry = catalogue()[caution].as_written
    return json.dumps({name: entry.get(name) for name in _OF_TRIGGER}, sort_keys=True, ensure_ascii=False)


def amounts_of_figures(data: ProcedureData, register: Register, system: str) -> Iterator[str]:
    """Keys of the amounts the drawings and tables of a page are made of."""
    ids = {id_ for name in data.figures for id_ in _OF_FIGURES.get(name, ())}
    ids |= {id_ for table in data.tables for id_ in _of_table(table)}
    for id_ in sorted(ids):
        for amount in register.on_page(id_, system) if system else register.of_id(id_):
            yield amount.key


def _of_table(table: TableAsk) -> Iterator[str]:
    if table.amount is not None:
        yield table.amount
    yield from (column.amount for column in table.columns if column.amount is not None)


def _all_below(keys: Iterable[str], register: Register) -> dict[str, Amount]:
    found: dict[str, Amount] = {}
    waiting = list(keys)
    while waiting:
        key = waiting.pop()
        amount = register.of_key(key)
        if key not in found and amount is not None:
            found[key] = amount
            waiting += amount.rests_on
    return found
