"""The reference section on a phone in the dark: long tables and workings, apart from the procedures."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import house_of
from tests.browser.looking import look_at_each

pytestmark = pytest.mark.browser

RULED = ("checks", "glossary", "hurt", "inventory", "master-list", "plan")
"""Held against the rules of accessibility: a page of each form. On thousands of like cells they take half a minute."""


def test_reference_pages_are_accessible_on_a_phone(browser: Browser, site: Path) -> None:
    found = sorted((site / "reference").glob("*.html"))
    assert len(found) >= 9
    paths = found if house_of(site) == "fourth" else found[:1]
    look_at_each(browser, paths, 390, "dark", lambda path: path.stem in RULED)
