"""Bench sheets: standalone HTML for paper, from the same view as the page."""

from __future__ import annotations

from macros.manual.forms import FormView
from macros.manual.views import ChecklistView, PageView
from macros.rendering.drawings import figure
from macros.rendering.environment import render
from macros.rendering.qr import qr_svg


def bench_sheet(page: PageView, language: str = "en") -> str:
    """The sheet of one procedure: read, then do. It needs `assets/bench-sheet.css` and its fonts, nothing else."""
    return render(
        "sheet.html.j2",
        p=page,
        qr=qr_svg(page.public_address),
        language=language,
        figure=figure,
        with_figures=any(view.kind == "map" for view in page.figures),
    )


def checklist(view: ChecklistView, language: str = "en") -> str:
    """The checklist of a job: one reads, the other confirms. It needs `assets/checklist.css` and its fonts."""
    return render("checklist.html.j2", c=view, qr=qr_svg(view.public_address), language=language)


def record_form(form: FormView, language: str = "en") -> str:
    """The blank record of a page. It needs `assets/form.css` and its fonts."""
    return render("form.html.j2", f=form, p=form.page, qr=qr_svg(form.page.public_address), language=language)
