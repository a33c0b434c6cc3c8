"""The weekly pack's sheets: a week's daily card, the weekly check, tables and logs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from macros.amounts import Register
from macros.html.environment import fragment
from macros.html.paper import VALID, Part, running_head
from macros.html.qr_code import qr_svg
from macros.manual.pages.bench_sheet import ON_RECORD, bench_part, form_part
from macros.manual.records.record_form import REVIEW_DAYS, form_of, kept_for
from macros.packs.week import week_sheets
from macros.packs.week_sheet_model import BOX, WeekSheet
from macros.page_model.page import PageView


def week_part(view: WeekSheet) -> Part:
    """One sheet of the week."""
    house, record = view.week.house, view.record or view.signed
    within = f"{REVIEW_DAYS} days"
    html = fragment(
        "week.html.j2",
        w=view,
        house_name=house.house.name,
        record=record,
        within=within,
        box=BOX,
        qr=qr_svg(view.page.public_address),
    )
    kept = f"Kept for {kept_for(house)} · reviewed within {within}" if record else VALID
    head = running_head(house.house.name, view.title, "record" if record else "table", view.control, kept)
    return Part(key=view.key, title=view.title, html=html, styles=("week",), landscape=view.landscape, **head)


def week_parts(register: Register, views: Sequence[PageView], first_day: date) -> list[Part]:
    """Every sheet of the week that begins on `first_day`, in the order they are clipped."""
    before, after = week_sheets(register, views, first_day)
    parts = [week_part(sheet) for sheet in before]
    for page in views:
        if page.document == "SOP-17":
            form = form_of(page, register.house)
            parts.append(bench_part(page, values_on=ON_RECORD if form is not None else ""))
            if form is not None:
                parts.append(form_part(form))
    return [*parts, *(week_part(sheet) for sheet in after)]
