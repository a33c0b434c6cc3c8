"""Training on a phone in the dark, and its paper printed: breakdown sheet, trainer's sheet, record."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from macros.training.path.markdown import training_parts
from tests.browser.conftest import house_of
from tests.browser.looking import look_at, small_targets
from tests.browser.test_cards import finished, least, opened, printed

pytestmark = pytest.mark.browser

WIDTH = 210 - 27
"""Width left by the margins of A4 [mm]."""


def test_path_and_module_are_accessible_on_a_phone(browser: Browser, site: Path, pictures: Path) -> None:
    if house_of(site) != "fourth":
        assert not (site / "training" / "path.html").exists(), "this house trains nobody"
        return
    look_at(browser, site / "training" / "path.html", 390, "dark")
    look_at(browser, site / "training" / "m2-room-tour-and-emergencies.html", 390, "dark")
    page = browser.new_page(viewport={"width": 390, "height": 844}, color_scheme="dark")
    for name in ("path", "m2-room-tour-and-emergencies", "trainer-m8-cleanout"):
        page.goto((site / "training" / f"{name}.html").as_uri())
        page.evaluate("document.querySelectorAll('details').forEach(e => { e.open = true })")
        assert page.evaluate("document.documentElement.scrollWidth") <= 390, name
        assert small_targets(page) == [], name
    page.screenshot(path=str(pictures / "training-trainer.png"), full_page=True)
    page.close()


def test_paper_of_a_module_prints_in_12_point(browser: Browser, tmp_path: Path) -> None:
    site = finished("fourth")
    parts = training_parts(site.register, site.views, "M2")
    page = opened(browser, tmp_path, parts, "training", "A4", WIDTH)
    assert least(page, ".training .step, .training .step h3, .training .step p, .training li") >= 12
    assert least(page, ".training *") >= 9
    text = printed(page, tmp_path / "training.pdf")
    page.close()
    first = next(one for one in text if "Breakdown: M2" in one)
    assert all(head in first for head in ("Important step", "key points", "reason", "Why:", "page "))
    assert any("Training record" in one and "Method" in one for one in text)
