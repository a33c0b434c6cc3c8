"""A printed month, from its view."""

from __future__ import annotations

from macros.calculations.crop.sowing import WEEKDAYS
from macros.calendar.month import MonthView
from macros.html.environment import fragment
from macros.html.paper import Part, head_left


def month_part(view: MonthView) -> Part:
    """The month as a sheet: one page of A4 or Letter where the view fits."""
    return Part(
        key=view.key,
        title=view.title,
        html=fragment("month.html.j2", m=view, weekdays=WEEKDAYS),
        styles=("month",),
        top_left=head_left(view.house_name, f"{view.title} · calendar"),
        top_right=view.key,
        bottom_left=f"As of {view.built_for}",
        bottom_right="Print it again after each build: dates move with the facts",
        one_page=view.fits,
    )
