"""Checklists printed by a real browser: type for an arm's length, boxes, blocks kept whole, both papers."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_checklist_prints_for_a_clipboard(
    browser: Browser, site: Path, tmp_path: Path, pictures: Path, paper: str
) -> None:
    found = sorted((site / "sheets").glob("check-*.html"))
    assert found
    page = browser.new_page()
    for path in found:
        page.goto(path.as_uri())
        page.emulate_media(media="print")
        page.evaluate("document.fonts.ready")
        pdf = tmp_path / f"{path.stem}-{paper}.pdf"
        page.pdf(path=str(pdf), format=paper, print_background=True, tagged=True)
        sizes = page.evaluate(
            """() => ['.item td:nth-child(3)', '.item td.c-res b', '.check *:not(.vh):not(.meta *):not(.fill *):not(.sub)']
                 .map(s => Math.min(...[...document.querySelectorAll(s)]
                   .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
                   .map(e => parseFloat(getComputedStyle(e).fontSize) * 0.75)))"""
        )
        assert [round(size, 1) for size in sizes[:2]] == [14, 16]
        assert sizes[2] >= 9.9
        boxes = page.eval_on_selector_all(
            ".box", "all => all.map(e => e.getBoundingClientRect().width / (96 / 25.4))"
        )
        assert boxes
        assert all(abs(width - 6.0) <= 0.1 for width in boxes)
        rows = page.eval_on_selector_all(
            ".item", "all => all.map(e => e.getBoundingClientRect().height / (96 / 25.4))"
        )
        assert min(rows) >= 8
        texts = [sheet.extract_text() for sheet in PdfReader(pdf).pages]
        assert len(texts) <= 3
        for number, text in enumerate(texts, start=1):
            assert f"page {number} of {len(texts)}" in text
        for block in re.findall(r"Block [A-Z]", " ".join(texts)):
            assert any(text.count(block) >= 2 for text in texts), (
                f"{block} is parted from its completion line"
            )
        page.emulate_media(media="screen")
        page.screenshot(path=str(pictures / f"{site.parent.name}-{path.stem}-{paper}.png"), full_page=True)
