"""Names of the greatest length without a space: no sheet scrolls sideways on a phone, nothing runs into the next column."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from macros.ground.field_types import NAME_LENGTH
from macros.html.environment import TEMPLATES
from macros.site.site import export_site
from tests.html.hostile import hostile_house
from tests.making import made_site

pytestmark = pytest.mark.browser

SHEETS = ("sheets/sop-03-k", "sheets/sop-20", "sheets/check-k", "forms/sop-08-k")
WIDE = """() => [...document.querySelectorAll('.sheet *')]
  .filter(e => e.clientWidth > 1 && getComputedStyle(e).display !== 'inline' && !e.closest('svg, .vh, .scroll'))
  .filter(e => e.scrollWidth > e.clientWidth + 2).map(e => `${e.tagName}.${e.className} ${e.innerText.slice(0, 30)}`)"""


@pytest.fixture(scope="module")
def long_names(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sheets of a house all of whose names are as long as they may be."""
    folder = tmp_path_factory.mktemp("long")
    house, _ = hostile_house(folder, "w" * (NAME_LENGTH - 8))
    export_site(made_site(house), folder / "site")
    shutil.copytree(Path(TEMPLATES).parent / "theme" / "assets", folder / "site" / "assets")
    return folder / "site"


def test_long_names_stay_in_their_columns(browser: Browser, long_names: Path) -> None:
    page = browser.new_page()
    for name in SHEETS:
        page.goto((long_names / f"{name}.html").as_uri())
        page.set_viewport_size({"width": 390, "height": 844})
        assert page.evaluate("document.documentElement.scrollWidth") <= 390, name
        page.emulate_media(media="print")
        page.set_viewport_size({"width": 1020 if name.startswith("forms") else 690, "height": 1000})
        assert page.evaluate(WIDE) == [], name
        page.emulate_media(media="screen")
    page.close()
