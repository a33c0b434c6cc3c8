"""The reference section on a phone in the dark: long tables and workings, apart from the procedures."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import house_of
from tests.browser.looking import look_at

pytestmark = pytest.mark.browser

LARGE = ("workings", "requirements", "facts", "calendar", "cautions", "photographs", "sources")
"""Thousands of like cells: the rules of accessibility take half a minute on each; the smaller ones stand for them."""


def test_reference_pages_are_accessible_on_a_phone(browser: Browser, site: Path) -> None:
    found = sorted((site / "reference").glob("*.html"))
    assert len(found) >= 9
    for path in found if house_of(site) == "fourth" else found[:1]:
        look_at(browser, path, 390, "dark", with_rules=path.stem not in LARGE)
