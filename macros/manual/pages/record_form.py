"""The blank record of a page: a row for each value its steps write, in the order of the work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from macros.house import House
from macros.house.rules.warnings import LEAST_KEPT
from macros.manual.house_facts.fact_text import fact_text
from macros.page_model.page import PageView

REVIEW_DAYS = 7
"""Reviewed within: 21 CFR 112.161(b) asks for a reasonable time; the days are our own."""

KEPT = f"{LEAST_KEPT} years"
"""How long a record is kept where the house does not say."""


@dataclass(frozen=True)
class FormRow:
    """One value to write: at which step, what, allowed limits, read with which pen or tool."""

    number: int
    what: str
    quantity: str
    limits: str
    tool: str


@dataclass(frozen=True)
class FormView:
    """The form of one page. `outside` tells what to do with a value outside its limits."""

    page: PageView
    rows: tuple[FormRow, ...]
    outside: str
    pens: tuple[str, ...]
    reviewed_within: str
    kept: str


def form_of(page: PageView, house: House) -> FormView | None:
    """The form of a page; None where no step writes a value."""
    rows = tuple(
        FormRow(
            step.number, step.short or step.do, step.record.label, step.record.limits, ", ".join(step.tools)
        )
        for step in page.steps
        if step.record is not None
    )
    if not rows:
        return None
    meters = [meter.name for meter in house.meters]
    used = dict.fromkeys(tool for step in page.steps for tool in step.tools if tool in meters)
    return FormView(page, rows, _outside(page), tuple(used), f"{REVIEW_DAYS} days", kept_for(house))


def _outside(page: PageView) -> str:
    acts = [entry.act for entry in page.if_wrong if entry.kind == "out_of_range"]
    return acts[0] if acts else "Stop. See the page under: If something goes wrong."


def kept_for(house: House) -> str:
    """How long a record is kept in this house."""
    kept = house.policies.daily_log_kept_for if house.policies is not None else None
    return fact_text(kept, house.us) if kept is not None else KEPT


def forms_of(pages: Sequence[PageView], house: House) -> dict[str, FormView]:
    """Every form by its address."""
    found = {page.form_address: form_of(page, house) for page in pages if page.form_address}
    return {address: form for address, form in found.items() if form is not None}
