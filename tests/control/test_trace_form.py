"""The form of a complaint: stop first, the lot to its customers, back to its seed, and the drill on time."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from macros.control.documents.trace_form import ADDRESS, LINES, trace_part
from tests.making import made_house, made_register, manual_of


def words(html: str) -> str:
    text = re.sub(r"<[^>]+>", " ", html).replace("\N{NO-BREAK SPACE}", " ").replace("\N{WORD JOINER}", "")
    return " ".join(text.split())


@pytest.mark.quick
def test_the_form_takes_complaint_trace_and_drill(tmp_path: Path) -> None:
    """Columns by hand from what a lot is followed by; the rhythm and the keeping are those of the house."""
    house = made_house(
        tmp_path,
        ("policies: {", 'policies: {daily_log_kept_for: "3 year", '),
        ("systems:\n", 'frequencies: {trace_drill: "every 6 months"}\nsystems:\n'),
        name="fourth",
    )
    part = trace_part(made_register(house).house)
    text = words(str(part.html))
    assert "First stop the lot: nothing of it is picked, sold or served. Ring the owner:" in text
    assert "Date Variety Tray Sow lot Mass or count To whom Rung at; who Back, or eaten" in text
    for field in (
        "Who complains",
        "Lot on the label",
        "Told: the owner, time",
        "Told: authority",
        "Begun, time",
    ):
        assert text.count(field) == 1
    assert "Minutes (5 min at most)" in text
    assert "A drill is due every 6 months:" in text
    assert "(our own, because somebody may be ill)" in text
    assert str(part.html).count("<tr>") == 1 + LINES
    assert part.bottom_right == "Kept for 3 years"
    assert part.one_page
    assert not part.landscape


def test_the_page_of_the_harvest_leads_to_the_form() -> None:
    site = manual_of("fourth")
    assert "Complaint, trace and recall of a lot" in site.files[ADDRESS]
    assert f"(../{ADDRESS})" in site.pages["p/sop-18.md"]
