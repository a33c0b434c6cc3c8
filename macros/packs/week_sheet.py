"""The weekly pack's sheets: a week's daily card, the weekly check, tables and logs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from macros.amounts import Register
from macros.house import House
from macros.html.environment import fragment
from macros.html.paper import VALID, Part, running_head
from macros.html.qr_code import qr_svg
from macros.manual.pages.bench_sheet import bench_part, form_part
from macros.manual.pages.record_form import form_of
from macros.packs.week import week_sheets
from macros.packs.week_sheet_model import BOX, WeekSheet
from macros.page_model.page import PageView


def week_part(view: WeekSheet) -> Part:
    """One sheet of the week."""
    kept = f"Kept for {view.kept} · reviewed within {view.reviewed_within}"
    return Part(
        key=view.key,
        title=view.title,
        html=fragment("week.html.j2", w=view, box=BOX, qr=qr_svg(view.public_address)),
        styles=("week",),
        landscape=view.landscape,
        **running_head(
            view.house_name,
            view.title,
            "record" if view.record else "table",
            view.control,
            kept if view.record else VALID,
        ),
    )


def week_parts(house: House, register: Register, views: Sequence[PageView], first_day: date) -> list[Part]:
    """Every sheet of the week that begins on `first_day`, in the order they are clipped."""
    if register.house is not house:
        raise ValueError("the register is of another house")
    before, after = week_sheets(register, views, first_day)
    parts = [week_part(sheet) for sheet in before]
    for page in views:
        if page.document == "SOP-17":
            form = form_of(page, house)
            parts.append(bench_part(page, values_on_record=form is not None))
            if form is not None:
                parts.append(form_part(form))
    return [*parts, *(week_part(sheet) for sheet in after)]
