"""Wall cards and the week's daily card printed by a real browser: one page each, type for one metre, codes read."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Sequence
from datetime import date
from functools import cache
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from macros.html.paper import Part, document
from macros.packs.week_sheet import week_parts
from macros.paper.cards.sheet import card_parts
from macros.site.site import Site
from tests.browser.conftest import HOUSES, ROOT
from tests.making import made_site

pytestmark = pytest.mark.browser

CASES = [("fourth", "A4", 297 - 26, 210 - 27), ("second", "Letter", 279.4 - 26, 215.9 - 27)]
"""House, paper, height and width left by the margins of a card [mm]."""

TYPE = """selector => [...document.querySelectorAll(selector)]
  .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
  .map(e => parseFloat(getComputedStyle(e).fontSize) * 0.75)"""
WIDER = """selector => [...document.querySelectorAll(selector)]
  .filter(e => e.clientWidth && e.scrollWidth > e.clientWidth + 1 && !e.closest('svg'))
  .map(e => e.className + ' ' + e.textContent.trim().slice(0, 60))"""
SIZES = """selector => [...document.querySelectorAll(selector)]
  .map(e => e.getBoundingClientRect()).map(r => [r.width * 25.4 / 96, r.height * 25.4 / 96])"""


@cache
def finished(house: str) -> Site:
    """The manual of a house, worked out once."""
    return made_site(HOUSES / house)


def opened(
    browser: Browser, folder: Path, parts: Sequence[Part], name: str, paper: str, width: float
) -> Page:
    """The parts as one document beside the assets, in print, as wide as the paper leaves it [mm]."""
    shutil.copytree(ROOT / "macros" / "html" / "theme" / "assets", folder / "assets", dirs_exist_ok=True)
    path = folder / "sheets" / f"{name}.html"
    path.parent.mkdir(exist_ok=True)
    path.write_text(document(parts, name, paper=paper), encoding="utf-8")
    page = browser.new_page(viewport={"width": round(width / 25.4 * 96), "height": 1000})
    page.goto(path.as_uri())
    page.emulate_media(media="print")
    page.evaluate("document.fonts.ready")
    return page


def printed(page: Page, path: Path) -> list[str]:
    """The text of each printed page."""
    page.pdf(path=str(path), prefer_css_page_size=True, print_background=False, tagged=True)
    return [sheet.extract_text() for sheet in PdfReader(path).pages]


def least(page: Page, selector: str) -> float:
    """The smallest type among what has text of its own [pt]; no such thing is a mistake of the test."""
    sizes = page.evaluate(TYPE, selector)
    assert sizes, selector
    return round(min(sizes), 1)


@pytest.mark.parametrize(("house", "paper", "height", "width"), CASES, ids=lambda value: str(value))
def test_cards_hang_on_the_wall(
    browser: Browser, tmp_path: Path, pictures: Path, house: str, paper: str, height: float, width: float
) -> None:
    site = finished(house)
    parts = card_parts(site.register, site.views)
    page = opened(browser, tmp_path, parts, "cards", paper, width)
    texts = printed(page, pictures / f"{house}-cards-{paper}.pdf")

    assert len(texts) == len(parts)
    for part, text in zip(parts, texts, strict=True):
        assert part.key in text
        assert "Scan: another revision or code there? Bin this card." in text
    assert max(size[1] for size in page.evaluate(SIZES, ".card")) <= height
    assert page.evaluate(WIDER, ".card, .card *") == []

    assert least(page, ".card dd b, .card tbody td:not(.mk-c):not(.card-round td:nth-child(2))") >= 16
    assert (
        least(page, ".card dt, .card dd span, .card th, .card td, .card .say p, .card figcaption *, .sub")
        >= 14
    )
    assert least(page, ".card .sys") >= 50
    assert least(page, ".card *:not(.qr *)") >= 12
    frames = page.evaluate(SIZES, ".card .frame")
    assert bool(frames) == (house == "fourth")
    assert all(min(frame) >= 50 for frame in frames)
    boxes = page.evaluate(SIZES, ".card-signoff td:nth-child(n+4)")
    assert bool(boxes) == (house == "fourth")
    assert all(box[0] >= 12 and box[1] >= 8 for box in boxes)

    addresses = {item.view.public_address for item in site.controlled_documents if item.kind == "card"}
    for number in (1, 2):
        stem = tmp_path / f"page{number}"
        where = ["-r", "150", "-f", str(number), "-l", str(number), "-singlefile", "-png"]
        subprocess.run(
            ["pdftoppm", *where, str(pictures / f"{house}-cards-{paper}.pdf"), str(stem)], check=True
        )
        with Image.open(stem.with_suffix(".png")) as picture:
            read = [code.text for code in zxingcpp.read_barcodes(picture)]
        assert len(read) == 1
        assert read[0] in addresses
    page.close()


@pytest.mark.parametrize(("paper", "width"), [("A4", 210.0), ("Letter", 215.9)])
def test_the_daily_check_of_two_systems_is_one_page(
    browser: Browser, tmp_path: Path, paper: str, width: float
) -> None:
    """Requirement X-14: a box for one number of a day 12 x 6 mm; type of 12 pt but for the dates above the columns."""
    site = finished("fourth")
    parts = week_parts(site.register, site.views, date(2032, 9, 6))[:1]
    page = opened(browser, tmp_path, parts, "week", paper, width - 27)
    assert len(printed(page, tmp_path / "daily.pdf")) == 1
    boxes = page.evaluate(SIZES, "#sheet-week-daily .round td:not(.c-out)")
    assert len(boxes) % 7 == 0
    assert boxes
    assert all(round(box[0], 1) >= 12 and round(box[1], 1) >= 6 for box in boxes)
    assert least(page, ".round tbody *") >= 12
    assert page.evaluate(WIDER, ".week, .week *") == []
    page.close()


def test_the_sheets_of_a_week_have_room_to_write(browser: Browser, tmp_path: Path, pictures: Path) -> None:
    """Requirement X-14: tick boxes of 6 mm; nothing runs over its cell."""
    site = finished("second")
    parts = week_parts(site.register, site.views, date(2032, 9, 6))
    page = opened(browser, tmp_path, parts, "week", "Letter", 279.4 - 27)
    texts = printed(page, pictures / "second-week-Letter.pdf")
    assert len([text for text in texts if "Daily check" in text and "Check: limits" in text]) == 1
    assert page.evaluate(WIDER, ".week-wide, .week-wide *") == []
    ticks = page.evaluate(SIZES, ".week .box")
    assert ticks
    assert all(abs(size - 6) < 0.1 for tick in ticks for size in tick)
    assert least(page, ".week *:not(.qr *)") >= 9
    page.set_viewport_size({"width": round((215.9 - 27) / 25.4 * 96), "height": 1000})
    assert page.evaluate(WIDER, ".week:not(.week-wide), .week:not(.week-wide) *") == []
    page.close()
