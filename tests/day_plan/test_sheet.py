"""The sheet of a day's plan as HTML: blanks, words beside hatching, drawing inside its box, names of a house escaped."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest

from macros.day_plan.sheet import day_drawing, person_pages, plan_part
from macros.html.paper import document
from macros.page_model.day_plan import PlanView
from tests.day_plans import cleanout, view_of
from tests.making import ROOT

STYLES = ROOT / "macros" / "html" / "theme" / "assets" / "plan.css"


@cache
def view(people: int) -> PlanView:
    return view_of("fourth", cleanout("fourth", "K")[people - 1])


@cache
def html(people: int) -> str:
    return str(plan_part(view(people)).html)


@pytest.mark.parametrize("people", [1, 2])
def test_r06_each_row_has_two_blanks_beside_its_clock(people: int) -> None:
    rows = re.findall(r'<tr class="row .*?</tr>', html(people), re.DOTALL)
    pages = person_pages(view(people))
    wanted = [3 - len(page.columns) for page in pages for column in page.columns for _ in column]
    assert [row.count('<td class="c-b"></td>') for row in rows] == wanted  # in two columns: when it was done
    for row in rows:
        assert re.search(r'<td class="c-t"><b>\d\d:\d\d', row)


@pytest.mark.parametrize("people", [1, 2])
def test_r12_critical_is_a_word_a_sign_and_a_hatching(people: int) -> None:
    """The sign and, for who hears the sheet, the word on each row; what the sign means stands over the rows."""
    pages = person_pages(view(people))
    critical = [row for page in pages for column in page.columns for row in column if row.critical]
    assert critical
    signs = re.findall(
        r'<span class="on-chain"><svg class="crit".*?</svg><span class="vh"> critical</span></span>',
        html(people),
    )
    assert len(signs) == len(critical)
    assert html(people).count("critical: late here is late at the end") == len(pages)
    drawn = sum(page.drawing is not None for page in pages)
    hatched = re.findall(r'class="bar-\w+ critical"[^>]*fill="url\(#[\w-]+-crit\)"', html(people))
    assert len(hatched) == drawn * (sum(bar.critical for bar in view(people).bars) + 1)  # and the key


@pytest.mark.parametrize("people", [1, 2])
def test_bars_stand_inside_the_drawing_and_apart_in_their_lane(people: int) -> None:
    drawing = day_drawing(view(people))
    assert len(drawing.bars) == len(view(people).bars)
    for bar in drawing.bars:
        assert drawing.left <= bar.x
        assert bar.x + bar.width <= drawing.right + 1.5
        assert drawing.top <= bar.y
        assert bar.y + bar.height <= drawing.bottom
    for one, other in combinations(drawing.bars, 2):
        if one.y == other.y:
            assert one.x + one.width <= other.x + 1.6 or other.x + other.width <= one.x + 1.6


@pytest.mark.quick
def test_a_bar_is_as_long_as_its_minutes() -> None:
    drawing = day_drawing(view(2))
    hours = [x for x, _ in drawing.hours]
    minute = (hours[-1] - hours[0]) / (60 * (len(hours) - 1))
    for bar, drawn in zip(view(2).bars, drawing.bars, strict=True):
        assert drawn.width == pytest.approx(max(1.5, (bar.end - bar.start) * minute), abs=0.11)
        assert drawn.x == pytest.approx(hours[0] + (view(2).start_minute % 60 + bar.start) * minute, abs=0.06)


def test_every_part_of_the_page_keeps_to_its_class_and_one_document_holds_both() -> None:
    text = document([plan_part(view(1)), plan_part(view(2))], "Cleanout")
    ids = re.findall(r'\bid="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    assert text.count('class="sheet plan"') == 2


def test_names_of_a_house_are_escaped() -> None:
    strange = replace(view(1), system_name='<Rack> "K" & {{ x }}', title="<b>Day</b>")
    text = str(plan_part(strange).html)
    assert "<Rack>" not in text
    assert "<b>Day</b>" not in text
    assert "&lt;Rack&gt;" in text
    assert "{{" not in text


def test_a_draft_says_so_on_the_sheet_and_in_its_running_head() -> None:
    part = plan_part(replace(view(1), draft=True))
    assert '<b class="draft">DRAFT</b>' in part.html
    assert part.top_left.endswith("DRAFT")
    assert '<b class="draft">DRAFT</b>' not in plan_part(replace(view(1), draft=False)).html


def test_every_selector_of_its_css_keeps_to_the_sheet() -> None:
    text = re.sub(r"/\*.*?\*/", "", STYLES.read_text(encoding="utf-8"), flags=re.DOTALL)
    text = re.sub(r"@media[^{]+\{", "", text)
    selectors = [one.strip() for rule in re.findall(r"([^{}]+)\{[^{}]*\}", text) for one in rule.split(",")]
    assert len(selectors) > 40
    assert [one for one in selectors if not one.startswith(".plan")] == []
