"""The day's plan printed by a real browser: rows to write in with wet hands, type, both papers, no background needed."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from macros.day_plan.sheet import plan_part
from macros.html.paper import document
from tests.browser.conftest import ROOT
from tests.day_plans import cleanout, view_of

pytestmark = pytest.mark.browser
MM = 25.4 / 96


def sheet(folder: Path, people: int) -> Path:
    """The plan of a test house as a page of its own."""
    view = view_of("fourth", cleanout("fourth", "K")[people - 1])
    (folder / "sheets").mkdir(parents=True)
    shutil.copytree(ROOT / "macros" / "html" / "theme" / "assets", folder / "assets")
    path = folder / "sheets" / "plan.html"
    path.write_text(document([plan_part(view)], view.title), encoding="utf-8")
    return path


@pytest.mark.parametrize("people", [1, 2])
def test_the_plan_prints_on_both_papers(
    browser: Browser, tmp_path: Path, pictures: Path, people: int
) -> None:
    page = browser.new_page()
    page.goto(sheet(tmp_path, people).as_uri())
    page.evaluate("document.fonts.ready")
    for paper, width in (("A4", 183), ("Letter", 188.9)):
        page.set_viewport_size({"width": round(width / MM), "height": 1000})
        page.emulate_media(media="print")
        pdf = tmp_path / f"{paper}.pdf"
        page.pdf(path=str(pdf), format=paper, print_background=False, tagged=True)
        texts = [one.extract_text() for one in PdfReader(pdf).pages]
        assert len(texts) <= 3
        for number, text in enumerate(texts, start=1):
            assert f"page {number} of {len(texts)}" in re.sub(r"\s+", " ", text)
            assert f"PLAN-K-{people}" in text
        # Requirement X-14: a cell that takes one time is 12 x 6 mm, as a box of the daily check; 5.4 mm in two columns.
        seen = 0
        for within, least in ((".clock:only-child", 6), (".columns .clock", 5.4)):
            cells = page.eval_on_selector_all(
                f".plan {within} .row .c-b",
                "all => all.map(e => e.getBoundingClientRect()).map(r => [r.width, r.height])",
            )
            assert [(wide, high) for wide, high in cells if wide * MM < 12 or high * MM < least] == []
            seen += len(cells)
        assert seen == page.locator(".plan .row .c-b").count() > 0
        wide = page.eval_on_selector_all(
            ".plan td, .plan th, .plan li, .plan p",
            "all => all.filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.textContent)",
        )
        assert wide == []
        small = page.evaluate(
            """() => [...document.querySelectorAll('.plan *:not(.vh)')]
                .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
                .filter(e => !['title', 'desc'].includes(e.tagName))
                .map(e => { const box = e.closest('svg[viewBox]');
                    const scale = box ? box.getBoundingClientRect().width / box.viewBox.baseVal.width : 1;
                    return [parseFloat(getComputedStyle(e).fontSize) * 0.75 * scale, e.textContent]; })
                .filter(([size]) => size < 8.99)"""
        )
        assert small == []
        words = page.eval_on_selector_all(
            ".plan .row .c-d", "all => all.map(e => parseFloat(getComputedStyle(e).fontSize) * 0.75)"
        )
        assert min(words) >= 11.99
    page.emulate_media(media="screen")
    page.screenshot(path=str(pictures / f"fourth-plan-{people}.png"), full_page=True)
    page.set_viewport_size({"width": 390, "height": 844})
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.close()
