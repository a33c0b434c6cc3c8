"""Packs as sheets: the makers by the names of `published/packs.yml`, and the one document they make together."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from macros.amounts import Register
from macros.calendar.month import month_views
from macros.calendar.month_sheet import month_part
from macros.control.documents.controlled_documents import controlled_documents_of
from macros.control.documents.sheets import control_parts, copy_parts
from macros.day_plan.day_plan import views_of
from macros.day_plan.rehearsed import room_moments
from macros.day_plan.sheet import plan_part
from macros.day_plan.step_times import step_times
from macros.ground.problems import DataProblems, Place, Problem
from macros.html.paper import Part, document
from macros.manual.pages.bench_sheet import ON_LOG, ON_RECORD, bench_part, checklist_part, form_part
from macros.packs.fronts import before_fronts
from macros.packs.on_the_wall import on_the_wall
from macros.packs.pack import PackContext
from macros.packs.sheets import (
    COVER,
    cover_part,
    ledger_part,
    log_part,
    measuring_part,
    notes_part,
    readiness_part,
    shots_part,
)
from macros.packs.week_sheet import week_parts
from macros.page_model.page import PageView
from macros.paper.cards.sheet import card_parts
from macros.paper.labels.sheet import label_parts, unknown_kinds
from macros.published.paper.label_stocks import label_stock
from macros.published.paper.packs import packs
from macros.training.path.markdown import training_parts
from macros.training.path.paper import naming_parts, roster_part
from macros.training.self_checks.sheet import key_parts, question_sheet_parts


def checklist_parts(pack: PackContext) -> list[Part]:
    """The one page of the day, of the pack's system or of every system, with the times of the pack's plan."""
    times = step_times(pack.planned) if pack.planned is not None else {}
    return [
        checklist_part(view, large=pack.asked.large, times=times)
        for view in pack.checklists
        if view.one_page and pack.system in ("", view.system)
    ]


def own_checklist_parts(pack: PackContext, document_: str) -> list[Part]:
    """The checklists of a document that has its own."""
    keys = {page.key for page in pack.pages(document_)}
    return [
        checklist_part(view, large=pack.asked.large)
        for view in pack.checklists
        if not view.one_page and keys.intersection(view.pages)
    ]


def day_sheets(pack: PackContext) -> list[Part]:
    """The bench sheets of the pack's day that do not hang on a wall. Values are written on the log of the day."""
    hang = on_the_wall(pack)
    return [
        bench_part(page, values_on=ON_LOG, large=pack.asked.large)
        for page in pack.day_pages
        if page.sheet_address and page.key not in hang
    ]


def sheet_parts(pack: PackContext, document_: str) -> list[Part]:
    """The bench sheets of a document. Values are written on its record, where the pack holds one."""
    with_record = pack.holds("record", document_)
    return [
        bench_part(
            page,
            values_on=ON_RECORD if with_record and page.form_address in pack.forms else "",
            large=pack.asked.large,
        )
        for page in pack.pages(document_)
        if page.sheet_address
    ]


def record_parts(pack: PackContext, document_: str) -> list[Part]:
    """The blank records of a document."""
    return [
        form_part(pack.forms[p.form_address]) for p in pack.pages(document_) if p.form_address in pack.forms
    ]


def plan_parts(pack: PackContext) -> list[Part]:
    """The plan of the pack's day for as many people as asked for; for one and for two where nobody said."""
    views = views_of(pack.days, pack.register, assumed=pack.start is None)
    plans = [
        replace(view, room=room_moments(day, pack.built, pack.register))
        for day, view in zip(pack.days, views, strict=True)
    ]
    return [plan_part(view) for view in plans if pack.people in (0, view.people)]


def house_label_parts(pack: PackContext) -> list[Part]:
    """The labels asked for, on the label sheet asked for."""
    try:
        stock = label_stock(pack.asked.stock, pack.paper)
    except DataProblems as unknown:  # the kinds are looked at as well: every mistake is told in one run
        raise DataProblems([*unknown.problems, *unknown_kinds(pack.asked.kinds)]) from unknown
    system = pack.system or None
    return label_parts(
        pack.house,
        pack.register,
        pack.views,
        system,
        pack.asked.kinds,
        stock,
        pack.paper,
        pack.asked.first,
        pack.photographs,
    )


def module_parts(
    pack: PackContext, make: Callable[[Register, Sequence[PageView], str], list[Part]]
) -> list[Part]:
    """The sheets of the training unit asked for."""
    try:
        return make(pack.register, pack.views, pack.module)
    except KeyError as missing:
        place = Place("trayside pack, --module", 1)
        raise DataProblems([Problem(place, "module", str(missing.args[0]))]) from missing


def new_copies(pack: PackContext) -> list[Part]:
    """The sheets to hang in place of old ones, where they were asked for."""
    return (
        copy_parts(pack.register, controlled_documents_of(pack.register, pack.views))
        if pack.asked.with_copies
        else []
    )


MAKERS: Mapping[str, Callable[[PackContext], list[Part]]] = {
    "readiness": lambda pack: [readiness_part(pack)],
    "plan": plan_parts,
    "checklist": checklist_parts,
    "sheets": day_sheets,
    "log": lambda pack: [log_part(pack)] if pack.day_pages else [],
    "photographs": lambda pack: [shots_part(pack)],
    "measure": lambda pack: [measuring_part(pack)],
    "ledger": lambda pack: [ledger_part(pack)],
    "cards": lambda pack: card_parts(pack.register, pack.views),
    "week_sheets": lambda pack: week_parts(pack.register, pack.views, pack.day),
    "month": lambda pack: [month_part(view) for view in month_views(pack.register, pack.views, pack.day, 1)],
    "labels": house_label_parts,
    "training": lambda pack: module_parts(pack, training_parts),
    "questions": lambda pack: module_parts(pack, question_sheet_parts),
    "key": lambda pack: module_parts(pack, key_parts),
    "naming": lambda pack: naming_parts(pack.register, pack.views, pack.photographs),
    "control": lambda pack: control_parts(pack.register, controlled_documents_of(pack.register, pack.views)),
    "copies": new_copies,
    "roster": lambda pack: [roster_part(pack.register, pack.views)],
}
"""Name in packs.yml -> what makes its sheets."""

DOCUMENT_MAKERS: Mapping[str, Callable[[PackContext, str], list[Part]]] = {
    "sheet": sheet_parts,
    "record": record_parts,
    "checklist": own_checklist_parts,
}
"""As `MAKERS`, for entries that name a document."""


def pack_parts(pack: PackContext) -> list[Part]:
    """The sheets of a pack in order, the cover left out: it is made when their pages are known."""
    made: list[Part] = []
    for entry in pack.plan.parts:
        if entry.document:
            made += DOCUMENT_MAKERS[entry.maker](pack, entry.document)
        elif entry.maker != COVER:
            made += MAKERS[entry.maker](pack)
    return made


def on_fronts(pack: PackContext, parts: Sequence[Part], pages: Mapping[str, int], total: int) -> list[Part]:
    """The sheets with a page for notes before those that would begin on a back, where the pack of a day allows it."""
    if pack.plan.job is None:
        return list(parts)
    before = before_fronts(parts, pages, total, packs().most_pages)
    laid: list[Part] = []
    for part in parts:
        if part.key in before:
            laid.append(notes_part(pack, before.index(part.key) + 1))
        laid.append(part)
    return laid


def pack_document(
    pack: PackContext, parts: Sequence[Part], pages: Mapping[str, int] | None = None, total: int = 0
) -> tuple[str, list[Part]]:
    """The whole pack as one HTML document that needs no other file, and its sheets, the cover among them.

    Parameters
    ----------
    parts : of `pack_parts`
    pages : key of a sheet -> the page it begins on, from an earlier print
    total : pages in all of that print
    """
    sheets = list(parts)
    if any(entry.maker == COVER for entry in pack.plan.parts):
        sheets.insert(0, cover_part(pack, parts, pages or {}, total))
    title = f"{pack.name}, {pack.day.isoformat()}, {pack.house.house.name}"
    text = document(sheets, title, pack.house.house.language, paper=pack.paper, inline=True)
    return text, sheets
