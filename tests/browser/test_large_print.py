"""Large print and the bar over a sheet: type, rows kept whole, one switch, and no script inside the page."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import house_of
from tests.browser.looking import beyond_the_paper, look_at, paper_width, parted_rows, parted_units

pytestmark = pytest.mark.browser

SHEETS = {"second": ("sop-08", "check-sop-08"), "fourth": ("sop-08", "sop-21", "check-sop-21")}
"""US units on the short ones."""


def sheets_of(site: Path) -> list[Path]:
    """Short and long sheets of each kind."""
    return [next(iter(sorted((site / "sheets").glob(f"{name}*.html")))) for name in SHEETS[house_of(site)]]


def smallest(page: Page, selector: str) -> float:
    """Smallest computed size of the texts found, pt."""
    size: float = page.evaluate(
        """selector => Math.min(...[...document.querySelectorAll(selector)]
             .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
             .map(e => parseFloat(getComputedStyle(e).fontSize) * 0.75))""",
        selector,
    )
    return size


def test_large_print_is_large_and_keeps_rows_whole(
    browser: Browser, site: Path, tmp_path: Path, pictures: Path
) -> None:
    """16 to 18 pt. Source: RNIB, clear and large print: large print is 16 to 18 pt."""
    for path in sheets_of(site):
        page = browser.new_page(viewport=paper_width("A4"))
        page.goto(path.as_uri())
        page.click("[data-act=large]")
        page.emulate_media(media="print")
        assert (
            round(
                smallest(page, ".steps tbody *, .item .c-say, .item .c-res b, .item .state, .block h2 *"), 1
            )
            >= 16
        )
        if "check" not in path.stem:
            assert round(smallest(page, ".amt > b"), 1) >= 18
        assert beyond_the_paper(page) == [], path.name
        assert parted_units(page) == [], path.name
        clipped = page.evaluate(
            """() => [...document.querySelectorAll('td, th, .rec > div, .meta div, .fill span, .complete span')]
                 .filter(e => e.scrollWidth > e.clientWidth + 1 && !e.querySelector('.vh')).map(e => e.className + ': ' + e.innerText)"""
        )
        assert clipped == [], path.name
        for paper in ("A4", "Letter") if path.stem.startswith("sop") else ():
            pdf = tmp_path / f"{path.stem}-{paper}.pdf"
            page.pdf(path=str(pdf), format=paper, print_background=True, tagged=True)
            assert parted_rows(page, pdf) == [], f"{path.name} on {paper}"
        page.screenshot(path=str(pictures / f"{house_of(site)}-{path.stem}-large.png"), full_page=True)


def test_the_switch_works_both_ways_and_is_hidden_without_a_script(browser: Browser, site: Path) -> None:
    path = sheets_of(site)[0]
    page = browser.new_page()
    page.goto(path.as_uri())
    button = page.locator("[data-act=large]")
    assert button.get_attribute("aria-pressed") == "false"
    button.click()
    assert button.get_attribute("aria-pressed") == "true"
    assert page.locator(".sheet.large").count() == 1
    button.click()
    assert page.locator(".sheet.large").count() == 0
    plain = browser.new_context(java_script_enabled=False).new_page()
    plain.goto(path.as_uri())
    assert plain.locator("[data-act]").count() == 2
    assert not any(plain.locator("[data-act]").nth(n).is_visible() for n in range(2))
    assert plain.locator("tr.step").first.is_visible()
    look_at(browser, path, 390, "light", with_rules=False)
