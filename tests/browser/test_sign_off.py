"""Roster, naming test and plant cards printed; the pages of training on a phone in the dark."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from macros.training.path.paper import naming_parts, roster_part
from tests.browser.conftest import house_of
from tests.browser.looking import look_at
from tests.browser.test_cards import SIZES, WIDER, finished, least, opened, printed
from tests.signing import SIGNED, issued, register_with

pytestmark = pytest.mark.browser


def test_paper_of_training(browser: Browser, tmp_path: Path, pictures: Path) -> None:
    site = finished("fourth")
    register = register_with(site, tmp_path / "signed", issued(site.views) + SIGNED)
    naming = naming_parts(register, site.views)
    parts = [*naming, roster_part(register, site.views)]
    page = opened(browser, tmp_path, parts, "training", "A4", 210 - 27)
    texts = printed(page, pictures / "fourth-training-A4.pdf")

    sides = [text for text in texts if "Plant cards 1" in text]
    assert len(sides) == 2
    assert texts.index(sides[1]) == texts.index(sides[0]) + 1  # the backs follow the fronts
    assert "Lactuca sativa" in sides[1]
    assert "Lactuca" not in sides[0]
    assert texts.index(sides[0]) == 0
    keys = [n for n, text in enumerate(texts, start=1) if "KEY: trainer only" in text]
    assert keys == [3, 4]  # both sides of one leaf, so the helper's sheet is not on its back
    assert [n for n, text in enumerate(texts, start=1) if "write the name of each plant" in text] == [5]
    assert any("keep it in the house" in text and "QM" in text for text in texts)

    frames = page.evaluate(SIZES, ".training .photo")
    assert len(frames) == 3
    assert all(min(frame) >= 60 for frame in frames)
    lefts = page.evaluate(
        """() => [...document.querySelectorAll('.training .cut')].map(e => {
          const box = e.getBoundingClientRect(), sheet = e.closest('.sheet').getBoundingClientRect();
          return Math.abs((box.left - sheet.left) - (sheet.right - box.right)); })"""
    )
    assert len(lefts) == 2
    assert max(lefts) < 1  # fronts and backs stand in the middle, so they meet
    rows = page.evaluate(SIZES, ".training .write tbody tr")
    assert rows
    assert all(height >= 8 for _, height in rows)
    assert least(page, ".training *:not(.qr *)") >= 10
    assert page.evaluate(WIDER, ".training:not(.roster), .training:not(.roster) :not(.vh)") == []
    page.set_viewport_size({"width": round((297 - 27) / 25.4 * 96), "height": 1000})
    assert page.evaluate(WIDER, ".roster, .roster *") == []
    page.close()


def test_training_pages_are_accessible_on_a_phone(browser: Browser, site: Path) -> None:
    if house_of(site) == "fourth":
        found = sorted((site / "training").glob("*.html"))
        assert {path.stem for path in found} >= {"naming", "roster"}
        for name in (
            "naming",
            "roster",
            "coverage",
        ):  # the path, its modules and the checks have tests of their own
            look_at(browser, site / "training" / f"{name}.html", 390, "dark")
    else:
        assert "lists no varieties" in (site / "training" / "naming.html").read_text(encoding="utf-8")
