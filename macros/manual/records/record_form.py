"""The blank record of a page: a row for each value its steps write, in the order of the work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from macros.house import House
from macros.house.rules.warnings import LEAST_KEPT
from macros.manual.house_facts.fact_text import fact_text
from macros.page_model.page import PageView, StepView, WaitView

REVIEW_DAYS = 7
"""Reviewed within: 21 CFR 112.161(b) asks for a reasonable time; the days are our own."""

WAIT_OVER = "Wait over at"
"""The value of a step that writes none and starts a wait."""

KEPT = f"{LEAST_KEPT} years"
"""How long a record is kept where the house does not say."""


@dataclass(frozen=True)
class FormRow:
    """One value to write: at which step, what, allowed limits, read with which pen or tool.

    `due` is the wait that begins with it, in words, and asks for a box; `document` and `label` tell the page and the
    round it is of where rows of several stand together.
    """

    number: int
    what: str
    quantity: str
    limits: str
    tool: str
    due: str = ""
    document: str = ""
    label: str = ""


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
    if all(step.record is None for step in page.steps):
        return None
    rows = tuple(row for step in page.steps if (row := row_of(step)) is not None)
    meters = [meter.name for meter in house.meters]
    used = dict.fromkeys(tool for step in page.steps for tool in step.tools if tool in meters)
    return FormView(page, rows, outside_of(page), tuple(used), f"{REVIEW_DAYS} days", kept_for(house))


def row_of(step: StepView, document: str = "", label: str = "") -> FormRow | None:
    """The row of a step that writes a value or starts a wait; None for any other."""
    due = _due(step.wait, step.record.limits if step.record else "") if step.wait else ""
    what = step.short or step.do
    if step.record is not None:
        value, tools = step.record, ", ".join(step.tools)
        return FormRow(step.number, what, value.label, value.limits, tools, due, document, label)
    if not due:
        return None
    return FormRow(step.number, what, WAIT_OVER, "", "", due, document, label)


def _due(wait: WaitView, limits: str) -> str:
    """The wait in words; what the limits of the value say is not said again."""
    least = f"wait {wait.least}" if wait.least and wait.least not in limits else ""
    greatest = f"{wait.greatest} at most" if wait.greatest and wait.greatest not in limits else ""
    return ", ".join(text for text in (least, greatest) if text) or wait.least


def outside_of(page: PageView) -> str:
    """What to do with a value outside its limits, as the page says."""
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
