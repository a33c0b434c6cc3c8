"""Blank records: room to write for a wet hand. Sheets and checklists have the same test beside their own."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import opened
from tests.browser.looking import beyond_the_paper, paper_width

pytestmark = pytest.mark.browser

MILLIMETRE = 96 / 25.4


def test_every_form_has_room_to_write(browser: Browser, site: Path) -> None:
    """Initials 12 x 8 mm, values 25 x 9 mm, lines 8 mm: our own figures. Letter is the narrower paper on its side."""
    page = browser.new_page(viewport=paper_width("Letter", landscape=True))
    page.emulate_media(media="print")
    forms = opened(sorted((site / "forms").glob("*.html")), site)
    assert forms
    for path in forms:
        page.goto(path.as_uri())
        initials, values, lines = page.evaluate(
            """() => ['.rows td.c-in', '.rows td.c-val', '.fill span'].map(s => [...document.querySelectorAll(s)]
                 .map(e => e.getBoundingClientRect()).map(r => [r.width, r.height]))"""
        )
        assert bool(initials) == (path.stem != "trace"), path.name  # a table of its own
        cells = page.eval_on_selector_all(
            ".trace tbody td", "all => all.map(e => e.getBoundingClientRect()).map(r => [r.width, r.height])"
        )
        assert bool(cells) == (path.stem == "trace"), path.name
        assert all(w >= 12 * MILLIMETRE and h >= 7.95 * MILLIMETRE for w, h in cells), path.name
        assert all(w >= 12 * MILLIMETRE and h >= 8 * MILLIMETRE for w, h in initials), path.name
        assert all(w >= 25 * MILLIMETRE and h >= 9 * MILLIMETRE for w, h in values), path.name
        assert all(h >= 8 * MILLIMETRE for _, h in lines), path.name
        assert beyond_the_paper(page) == [], path.name
