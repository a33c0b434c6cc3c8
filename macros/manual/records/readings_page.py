"""The page of the readings typed on a phone: every value the procedures write, with its limits, and the log's own columns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from macros.house.records.log import LOG_COLUMNS, RECORD_COLUMNS
from macros.html.environment import render, script_data
from macros.html.site_text import SiteText
from macros.page_model.page import PageView
from macros.page_model.reading import acts_of, out_of_range, reading_data

ADDRESS = "readings.html"
TITLE = "Readings on this phone"


def readings_text(views: Sequence[PageView]) -> SiteText:
    """The page; it goes by the procedures that write something."""
    data = {
        "log": log_columns(views),
        "records": list(RECORD_COLUMNS),
        "pages": [_page(view) for view in views if view.records],
    }
    return SiteText("readings.md", render("readings.md.j2", data=script_data(data), title=TITLE), (TITLE,))


def log_columns(views: Sequence[PageView]) -> list[str]:
    """The columns of the log that the pages fill, and those without a unit, in the order of the log."""
    records = [record.reading for view in views for record in view.records if record.reading]
    used = {reading.column for reading in records}
    return [column for column, (_, unit) in LOG_COLUMNS.items() if not unit or column in used]


def _page(view: PageView) -> dict[str, Any]:
    """A procedure as a form: its values in the order of the work, and what it says of values outside their limits."""
    return {
        "key": view.key,
        "title": f"{view.title}, {view.system}" if view.system else view.title,
        "wrong": [[one.sign, one.act] for one in out_of_range(view.if_wrong)],
        "rows": list(_rows(view)),
    }


def _rows(view: PageView) -> Iterator[dict[str, Any]]:
    phase, wrong = "", out_of_range(view.if_wrong)
    for step in view.steps:
        phase = step.phase or phase
        if step.record is None:
            continue
        told: dict[str, Any] = {
            "step": step.id,
            "no": step.number,
            "phase": phase,
            "do": step.short or step.do,
        }
        texts = {"label": step.record.label, "limits": step.record.limits, "outside": step.record.outside}
        told["wrong"] = acts_of(step, wrong)
        yield told | {
            name: value for name, value in (texts | reading_data(step.record.reading)).items() if value
        }
