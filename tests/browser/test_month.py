"""The printed month: one page on both papers, legible, nothing cut off."""

from __future__ import annotations

import re
import subprocess
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from macros.calendar.event import Pages, new_event
from macros.calendar.events import known_events
from macros.calendar.month import MonthView, month_view, month_views
from macros.calendar.month_sheet import month_part
from macros.html.paper import document
from tests.making import HOUSES, ROOT, made_site

pytestmark = pytest.mark.browser
ASSETS = ROOT / "macros" / "html" / "theme" / "assets"
FULL = date(2031, 6, 1)


def months() -> list[MonthView]:
    """Months of a house with all kinds of entries; the last with more than its cells hold, and long names."""
    site = made_site(HOUSES / "fourth")
    register = site.register
    views = month_views(register, site.views, date(2031, 5, 1), 2)
    crowd = [
        new_event(Pages(()), kind, date(2031, 6, day), f"Chrysanthemum {number}, <&> 4")
        for day in (3, 12)
        for kind in ("sowing", "window_opens", "calibration")
        for number in range(3)
    ]
    crowded = month_view(
        [*known_events(register, site.views), *crowd], register.house.house.name, register.built_for, FULL
    )
    assert crowded.listed
    return [*views, replace(crowded, key="CAL-crowded")]


@pytest.fixture(scope="module")
def printed(
    browser: Browser, pictures: Path, tmp_path_factory: pytest.TempPathFactory
) -> list[tuple[MonthView, dict[str, Path], list[dict[str, object]]]]:
    """Each month with its PDF on both papers, and what the browser says of its texts."""
    folder = tmp_path_factory.mktemp("months")
    (folder / "months").mkdir()
    (folder / "assets").symlink_to(ASSETS)
    found = []
    for view in months():
        path = folder / "months" / f"{view.key}.html"
        path.write_text(document([month_part(view)], view.title), encoding="utf-8")
        page = browser.new_page()
        page.emulate_media(media="print")
        page.goto(path.as_uri())
        page.evaluate("document.fonts.ready")
        texts = page.evaluate(
            """() => [...document.querySelectorAll('.month *')]
                 .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()))
                 .map(e => ({text: e.innerText, size: parseFloat(getComputedStyle(e).fontSize) * .75,
                             no: e.className === 'month-no', wide: e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0}))"""
        )
        pdfs = {}
        for paper in ("A4", "Letter"):
            pdf = folder / f"{view.key}-{paper}.pdf"
            page.pdf(path=str(pdf), format=paper, prefer_css_page_size=False)
            picture = pictures / f"month-{view.key}-{paper}"
            subprocess.run(["pdftoppm", "-r", "60", "-png", str(pdf), str(picture)], check=True)
            pdfs[paper] = pdf
        page.close()
        found.append((view, pdfs, texts))
    return found


def test_a_month_is_one_page_on_both_papers(printed: list) -> None:  # type: ignore[type-arg]
    for view, pdfs, _ in printed:
        assert view.fits, view.key
        for paper, pdf in pdfs.items():
            assert len(PdfReader(pdf).pages) == 1, (view.key, paper)


def test_every_text_of_the_month_is_on_the_paper(printed: list) -> None:  # type: ignore[type-arg]
    for view, pdfs, _ in printed:
        for pdf in pdfs.values():
            text = squeezed(PdfReader(pdf).pages[0].extract_text())
            days = [day for week in view.weeks for day in week.days if day.inside]
            wanted = [item for day in days for item in day.items]
            wanted += [f"and {day.more} more, see list" for day in days if day.more]
            wanted += [title for _, titles in (*view.often, *view.listed) for title in titles]
            assert len(wanted) > 10
            assert [one for one in wanted if squeezed(one) not in text] == []


def test_type_is_9_pt_at_least_and_nothing_is_wider_than_its_cell(printed: list) -> None:  # type: ignore[type-arg]
    for view, _, texts in printed:
        assert min(one["size"] for one in texts) >= 9, view.key
        assert {round(one["size"], 1) for one in texts if one["no"]} == {13.0}
        assert [one["text"] for one in texts if one["wide"]] == [], view.key


def test_every_rule_of_the_month_keeps_to_its_own_class() -> None:
    css = re.sub(r"/\*.*?\*/", "", (ASSETS / "month.css").read_text(encoding="utf-8"), flags=re.DOTALL)
    selectors = [one for group in re.findall(r"([^{}]+)\{", css) for one in group.split(",") if "@" not in one and "max-width" not in one]  # fmt: skip
    assert len(selectors) > 15
    assert [one for one in selectors if not one.strip().startswith(".month ")] == []


def squeezed(text: str) -> str:
    """Without spaces: lines are broken elsewhere on each paper."""
    return re.sub(r"\s", "", text)
