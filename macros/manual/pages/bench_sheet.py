"""Bench sheets, checklists and records: paper from the same view as the page."""

from __future__ import annotations

from dataclasses import replace

from macros.html.drawings import figure
from macros.html.environment import fragment
from macros.html.paper import HEAD_ACROSS, Bar, Part, document, running_head
from macros.html.qr_code import qr_svg
from macros.html.room_drawing import room_drawing
from macros.manual.pages.record_form import FormView
from macros.page_model.page import ChecklistView, ControlView, PageView

_ON_SHEETS = ("map", "table", "stick")
"""Figures a sheet has room for; how a thing looks cut across stands on the page."""

MOST_STEPS_OF_A_PAGE = 22
"""Rows of 7.8 mm that stand on Letter paper between head and foot: a sheet of more has a second page, and room there."""


def bench_part(page: PageView, *, values_on_record: bool = False, large: bool = False) -> Part:
    """The sheet of one procedure: read, then do. In large print it may take more pages.

    `values_on_record` leaves its boxes for values out: the record lies behind it, and a value is written once.
    """
    with_figures = any(view.kind == "map" for view in page.figures)
    with_rooms = page.looks_at_start is not None and len(page.steps) > MOST_STEPS_OF_A_PAGE
    html = fragment(
        "sheet.html.j2",
        p=replace(page, figures=tuple(one for one in page.figures if one.kind in _ON_SHEETS)),
        qr=qr_svg(page.public_address),
        figure=figure,
        room=room_drawing,
        with_rooms=with_rooms,
        with_figures=with_figures,
        values_on_record=values_on_record,
        large=large,
    )
    return Part(
        key=page.key,
        title=page.title,
        html=html,
        styles=(
            "bench-sheet",
            *(["figures"] if with_figures else []),
            *(["room"] if with_rooms else []),
        ),
        one_page=page.one_page and not large,
        **running_head(page.house_name, page.title, _kind("bench sheet", large), _named(page)),
    )


def checklist_part(view: ChecklistView, *, large: bool = False) -> Part:
    """The checklist of a job or a procedure: one reads, the other looks and answers."""
    return Part(
        key=view.key,
        title=view.title,
        html=fragment("checklist.html.j2", c=view, qr=qr_svg(view.public_address), large=large),
        styles=("bench-sheet", "checklist"),
        **running_head(view.house_name, view.title, _kind("checklist", large), view.control),
    )


def form_part(form: FormView) -> Part:
    """The blank record of a page."""
    page = form.page
    kept = f"Kept for {form.kept} · reviewed within {form.reviewed_within}"
    return Part(
        key=f"{page.key}-record",
        title=f"Record: {page.title}",
        html=fragment("form.html.j2", f=form, p=page, qr=qr_svg(page.public_address)),
        styles=("form",),
        landscape=True,
        **running_head(page.house_name, page.title, "record", _named(page), kept, HEAD_ACROSS),
    )


def _kind(kind: str, large: bool) -> str:
    return "large print" if large else kind


def _named(page: PageView) -> ControlView:
    """The page's control block under its full name: a sheet says its system as well."""
    return replace(page.control, document=page.key)


def bench_sheet(page: PageView, language: str = "en") -> str:
    """The bench sheet as a document of its own."""
    bar = Bar(f"../{page.page_address}", "Back to the procedure", "Print this bench sheet", large=True)
    return document([bench_part(page)], _title(page, "bench sheet"), language, bar=bar)


def checklist(view: ChecklistView, language: str = "en") -> str:
    """The checklist as a document of its own."""
    draft = ", DRAFT" if view.control.draft_reasons else ""
    title = f"{view.key} {view.title}, checklist, revision {view.control.revision}{draft}"
    return document(
        [checklist_part(view)],
        title,
        language,
        bar=Bar("../index.html", "Back to the start", "Print this checklist", large=True),
    )


def record_form(form: FormView, language: str = "en") -> str:
    """The record as a document of its own."""
    bar = Bar(f"../{form.page.page_address}", "Back to the procedure", "Print this form")
    return document([form_part(form)], _title(form.page, "record"), language, bar=bar)


def _title(page: PageView, kind: str) -> str:
    draft = ", DRAFT" if page.control.draft_reasons else ""
    return f"{page.key} {page.title}, {kind}, revision {page.control.revision}{draft}"
