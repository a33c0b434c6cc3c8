"""Bench sheets, checklists and records: paper from the same view as the page."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from markupsafe import Markup

from macros.html.drawings import figure
from macros.html.environment import fragment
from macros.html.pads_drawing import pads_drawing
from macros.html.paper import HEAD_ACROSS, Bar, Part, document, running_head
from macros.html.photo import photo
from macros.html.qr_code import qr_svg
from macros.manual.pages.sheet_rows import SheetRow, at_hand, sheet_rows
from macros.manual.records.record_form import FormView
from macros.page_model.checklist import ChecklistView
from macros.page_model.figure import FigureView, TableView
from macros.page_model.page import ControlView, PageView, StepView

MOST_COLUMNS = 8
"""Of a table in 12 pt on a sheet: a wider one stands on the page alone, and the sheet says so."""

MOST_PICTURES = 4
"""On one sheet: its words come first, and each is tried by a print."""

_TABLE = re.compile(r"\btables?\b")

NO_TIMES: Mapping[str, str] = MappingProxyType({})


ON_RECORD = "record behind this sheet"
ON_LOG = "log of the day, in the row of the step"
"""Where values are written that have no box on the sheet."""


def bench_part(page: PageView, *, values_on: str = "", large: bool = False) -> Part:
    """The sheet of one procedure: read, then do. In large print it may take more pages.

    `values_on` leaves its boxes for values out and says where they are written instead: a value is written once.
    """
    rows = sheet_rows(page.steps)
    pictures = _pictures(rows)

    def drawn_with(names: Collection[str]) -> Part:
        return _bench_part(page, rows, {name: pictures[name] for name in names}, values_on, large)

    return replace(drawn_with(()), pictures=tuple(pictures), drawn_with=drawn_with)


def _bench_part(
    page: PageView, rows: Sequence[SheetRow], pictures: Mapping[str, Markup], values_on: str, large: bool
) -> Part:
    figures = _figures_carried(page)
    html = fragment(
        "sheet.html.j2",
        p=page,
        rows=rows,
        at_hand=at_hand(page),
        qr=qr_svg(page.public_address),
        figure=figure,
        figures=[one for one in figures if not _too_wide(one)],
        too_wide=[one.title for one in figures if _too_wide(one)],
        pictures=pictures,
        values_on=values_on,
        large=large,
    )
    return Part(
        key=page.key,
        title=page.title,
        html=html,
        styles=(
            "bench-sheet",
            *(["figures"] if figures else []),
            *(["figures", "drawing", "photo"] if pictures else []),
        ),
        one_page=page.one_page and not large,
        **running_head(page.house_name, page.title, _kind("bench sheet", large), _named(page)),
    )


def _pictures(rows: Sequence[SheetRow]) -> dict[str, Markup]:
    """Id of a step -> its picture: of those where an error hurts, the photograph, else the pads of its strip."""
    hurt = [row.step for row in rows if row.step.critical or row.step.hold]
    found: dict[str, Markup] = {}
    for step in sorted(hurt, key=lambda one: not one.critical):
        # Of many plants one would be taken for all.
        own = [one for one in step.photos if not one.name.startswith("varieties/")]
        if own:
            shown = replace(own[0], caption="")
            found[step.id] = photo(shown, shown.paper)
        elif step.pads is not None:
            found[step.id] = pads_drawing(step.pads)
    return dict(list(found.items())[:MOST_PICTURES])


def _figures_carried(page: PageView) -> tuple[FigureView, ...]:
    """The maps of a page, and its tables where a step speaks of one: who holds the sheet has nothing else in hand."""
    told = any(_TABLE.search(text) for step in page.steps for text in _texts(step))
    return tuple(view for view in page.figures if view.kind == "map" or (told and view.kind == "table"))


def _too_wide(view: FigureView) -> bool:
    return isinstance(view, TableView) and len(view.columns) > MOST_COLUMNS


def _texts(step: StepView) -> tuple[str, ...]:
    return (step.do, step.expect, step.until, *step.one_of, step.record.limits if step.record else "")


def checklist_part(view: ChecklistView, *, large: bool = False, times: Mapping[str, str] = NO_TIMES) -> Part:
    """The checklist of a job or a procedure: one reads, the other looks and answers.

    `times` are those of a plan, by page and id of the step (`SOP-05-A/lower`); without one the places stay blank.
    """
    qr = qr_svg(view.public_address)
    if view.one_page:
        html = fragment("day_list.html.j2", c=view, qr=qr, large=large, times=times)
    else:
        html = fragment("checklist.html.j2", c=view, qr=qr, large=large)
    return Part(
        key=view.key,
        title=view.title,
        html=html,
        styles=("day-list",) if view.one_page else ("bench-sheet", "checklist"),
        margin="15mm" if view.one_page else "",
        one_page=view.one_page and not large,
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
