"""What a phone shows first: what to do at once, whom to ring, the way to the steps; large text, paper, a wrong address."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.browser.looking import open_page, paper_width, small_targets

pytestmark = [pytest.mark.browser, pytest.mark.parametrize("site", ["fourth"], indirect=True)]

SMALLEST = {"width": 320, "height": 568}

BOTTOM = "e => e.getBoundingClientRect().bottom"

BARS = """() => { scrollTo(0, 1500); return [...document.querySelectorAll('body *')].filter(e =>
    /fixed|sticky/.test(getComputedStyle(e).position) && e.offsetParent !== null | getComputedStyle(e).position === 'fixed')
  .map(e => [e, e.getBoundingClientRect()])
  .filter(([e, r]) => r.width > 300 && r.height > 0 && r.height < 400 && r.top < innerHeight && r.bottom > 0
    && getComputedStyle(e).visibility === 'visible' && getComputedStyle(e).opacity > 0)
  .map(([e, r]) => [e.className, Math.min(r.bottom, innerHeight) - Math.max(r.top, 0)]) }"""
"""What stays in sight while a page scrolls, and how many pixels of it."""


def pages(site: Path, *starts: str) -> list[Path]:
    found = [next(iter(sorted((site / "p").glob(f"{start}*.html")))) for start in starts]
    assert len(found) == len(starts)
    return found


def at(browser: Browser, path: Path) -> Page:
    page, _, errors = open_page(browser, path, 320, "light")
    page.set_viewport_size(SMALLEST)
    assert errors == []
    return page


def test_emergency_pages_tell_their_three_lines_on_the_smallest_phone(browser: Browser, site: Path) -> None:
    hurt = site / "reference" / "hurt.html"
    for path in [*pages(site, "sop-20", "sop-21", "sop-22", "sop-23"), hurt]:
        page = at(browser, path)
        last = page.locator("ol.sop-first li").last
        bar = page.locator(".sop-help").evaluate("e => e.getBoundingClientRect().top")
        assert last.evaluate(BOTTOM) <= bar, path.name
        assert page.locator("a.sop-tel").count() >= 2, path.name
        if page.locator("[data-control]").count():
            order = page.evaluate(
                "() => document.querySelector('ol.sop-first').compareDocumentPosition(document.querySelector('[data-control]'))"
            )
            assert order & 4, path.name  # the lines come before revision and code
        for number in page.locator("a.sop-tel").evaluate_all("all => all.map(e => e.getAttribute('href'))"):
            assert re.fullmatch(r"tel:\+?\d{3,}", number), path.name
        page.context.close()
    page = at(browser, site / "index.html")
    page.locator(".sop-help a").first.click()
    page.wait_for_selector("ol.sop-first")
    assert page.url.endswith("reference/hurt.html")
    page.context.close()


def test_a_splash_is_rinsed_for_minutes_that_are_told_at_once(browser: Browser, site: Path) -> None:
    """15 min and 30 min: `flushing-time` among the sources of SOP-22, ANSI Z358.1."""
    page = at(browser, pages(site, "sop-22")[0])
    assert "running water now: 15 min, after stock 30 min" in page.locator(
        "ol.sop-first"
    ).inner_text().replace("\u00a0", " ")
    page.context.close()


def test_the_first_button_leads_to_the_next_step_and_its_cautions(browser: Browser, site: Path) -> None:
    page = at(browser, pages(site, "sop-08")[0])
    first = page.locator(".md-content a.md-button").first
    assert first.inner_text() == "Go to step 1"
    assert first.evaluate(BOTTOM) <= SMALLEST["height"]
    boxes = page.locator("input[data-step]")
    for place in range(2):
        boxes.nth(place).check()
    assert first.inner_text() == "Go to step 3"
    first.click()
    page.wait_for_timeout(200)
    focused = page.evaluate("document.activeElement.className + ' ' + document.activeElement.id")
    following = page.evaluate(
        "() => { let e = document.activeElement; while (e && !e.matches('.sop-step')) e = e.nextElementSibling; return e.id }"
    )
    assert "sop-haz" in focused or "sop-step" in focused
    assert following == "step-3"
    assert 0 <= page.evaluate("document.activeElement.getBoundingClientRect().top") < 120
    bars = page.evaluate(BARS)
    assert bars  # the header and the red bar at least
    assert sum(height for _, height in bars) < 0.25 * SMALLEST["height"], bars
    assert page.locator(".md-top").count() == 0
    page.context.close()


def test_text_twice_as_large_scrolls_one_way(browser: Browser, site: Path) -> None:
    """WCAG 2.2, 1.4.4 and 1.4.10."""
    for path in (
        site / "index.html",
        site / "today.html",
        site / "reference" / "hurt.html",
        *pages(site, "sop-08", "sop-22"),
    ):
        page, _, _ = open_page(browser, path, 390, "light")
        page.evaluate("document.documentElement.style.fontSize = '250%'")  # the theme's own is 125 %
        assert page.evaluate("document.documentElement.scrollWidth") <= 390, path.name
        page.context.close()


def test_a_page_printed_as_it_is_loses_nothing_at_the_edge(browser: Browser, site: Path) -> None:
    for path in pages(site, "sop-08", "sop-09"):
        page, _, _ = open_page(browser, path, 390, "light")
        page.emulate_media(media="print")
        page.set_viewport_size(paper_width("A4"))
        cut = page.evaluate(
            """() => [...document.querySelectorAll('.md-content :is(td, th, p, svg)')].filter(e => e.getClientRects().length
              && e.getBoundingClientRect().right > innerWidth + 1).map(e => e.textContent.slice(0, 40))"""
        )
        assert cut == [], path.name
        small = page.evaluate(
            """() => [...document.querySelectorAll('.md-content :is(.sop-do, .sop-haz p, .sop-more, .sop-t td)')]
              .filter(e => e.getClientRects().length && !e.closest('.dose') && parseFloat(getComputedStyle(e).fontSize) < 15.9)
              .map(e => e.className + e.textContent.slice(0, 40))"""
        )  # 12 pt are 16 px; a dose table is as small as its width asks
        assert small == [], path.name
        page.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_open_search_and_a_wrong_address_suit_everybody(
    browser: Browser, site: Path, scheme: str
) -> None:
    page, outside, errors = open_page(browser, site / "index.html", 390, scheme)
    page.click(".md-header__button[for=__search]")
    page.keyboard.type("sanitizer")
    page.wait_for_selector(".md-search-result__item")
    page.wait_for_timeout(300)
    assert (outside, errors) == ([], [])  # the rules below load the style sheets anew, which a disk forbids
    told = Axe().run(page).response["violations"]
    assert [f"{rule['id']}: {rule['nodes'][0]['html'][:120]}" for rule in told] == []
    page.goto((site / "404.html").as_uri())
    assert page.evaluate("getComputedStyle(document.body).maxWidth") != "none"  # it has its style from disk
    told = Axe().run(page).response["violations"]
    assert [rule["id"] for rule in told] == []
    heights = page.locator("a").evaluate_all("all => all.map(e => e.getBoundingClientRect().height)")
    assert len(heights) >= 3
    assert min(heights) >= 44
    page.get_by_text("To the start page").click()
    assert page.url.endswith("/index.html")
    page.context.close()


def test_links_of_training_pages_suit_a_wet_finger(browser: Browser, site: Path) -> None:
    found = (
        sorted((site / "training").glob("m*.html"))[:2]
        + sorted((site / "training").glob("trainer-*.html"))[:1]
    )
    assert len(found) == 3
    for path in found:
        page, _, _ = open_page(browser, path, 390, "light")
        assert small_targets(page) == [], path.name
        low = page.evaluate(
            """() => [...document.querySelectorAll('.md-content p a')].filter(e => e.offsetParent)
              .map(e => e.getBoundingClientRect()).filter(r => r.height < 43.5 || r.width < 43.5).length"""
        )
        assert low == 0, path.name
        page.context.close()
