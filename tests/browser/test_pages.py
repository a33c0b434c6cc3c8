"""Pages in a real browser: from disk, on a phone, in the dark, by keyboard and screen reader."""

from __future__ import annotations

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.browser.conftest import FEW, house_of, opened

pytestmark = pytest.mark.browser


def pages_of(site: Path) -> list[Path]:
    found = [path for path in sorted(site.rglob("*.html")) if path.name != "404.html"]
    assert len(found) >= 5
    paper = ("sheets", "forms")
    return [
        path for path in opened(found, site) if path.parent.name not in paper or path.stem.startswith(FEW)
    ]


def open_page(browser: Browser, path: Path, width: int, scheme: str) -> tuple[Page, list[str], list[str]]:
    """The page, the requests that leave the disk, the console errors."""
    context = browser.new_context(
        viewport={"width": width, "height": 844}, color_scheme="dark" if scheme == "dark" else "light"
    )
    page = context.new_page()
    outside: list[str] = []
    errors: list[str] = []
    page.on("request", lambda request: outside.append(request.url) if not _inside(request.url) else None)
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(path.as_uri())
    page.wait_for_timeout(150)
    return page, outside, errors


def _inside(url: str) -> bool:
    return url.startswith(("file:", "data:", "blob:"))


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_page_is_accessible_fits_a_wet_finger_and_stays_on_the_disk(
    browser: Browser, site: Path, width: int, scheme: str
) -> None:
    every = (width, scheme) == (390, "dark")
    for path in pages_of(site):
        if not every and not path.stem.startswith(FEW):
            continue
        page, outside, errors = open_page(browser, path, width, scheme)
        assert outside == [], path.name
        assert errors == [], path.name
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path.name
        if width == 390:
            assert small_targets(page) == [], path.name
        results = Axe().run(page).response["violations"]
        told = [f"{path.name}: {v['id']}: {v['nodes'][0]['html'][:120]}" for v in results]
        assert told == []
        page.context.close()


def small_targets(page: Page) -> list[str]:
    """What a wet finger misses: under 44 px either way."""
    found: list[str] = page.evaluate(
        """() => [...document.querySelectorAll('.md-content a, .md-content button, .md-content summary, .sop-tick')]
             .filter(e => e.offsetParent && !e.closest('p:not(.work-head)') || e.matches('.md-button'))
             .map(e => [e.innerText.trim() || e.className, e.getBoundingClientRect()])
             .filter(([, r]) => r.width > 0 && (r.height < 43.5 || r.width < 43.5))
             .map(([t, r]) => `${t} ${r.width.toFixed(0)}x${r.height.toFixed(0)}`)"""
    )
    return found


def test_ticks_are_kept_and_reset_asks_first(browser: Browser, site: Path) -> None:
    path = next(iter(sorted((site / "p").glob("*.html"))))
    page, _, errors = open_page(browser, path, 390, "light")
    first = page.locator("input[data-step]").first
    first.check()
    page.reload()
    assert page.locator("input[data-step]").first.is_checked()
    assert "1 of" in page.locator(".ticks-state").inner_text()
    page.once("dialog", lambda dialog: dialog.accept())
    page.locator(".ticks-reset").click()
    assert not page.locator("input[data-step]").first.is_checked()
    assert errors == []


def test_search_works_from_disk(browser: Browser, site: Path) -> None:
    page, outside, _ = open_page(browser, site / "index.html", 1280, "light")
    page.locator("input.md-search__input").fill("heel")
    page.wait_for_selector(".md-search-result__item", timeout=8000)
    assert page.locator(".md-search-result__item").count() >= 1
    assert outside == []


def test_pictures_for_a_person_to_look_at(browser: Browser, site: Path, pictures: Path) -> None:
    for path in pages_of(site):
        if not path.stem.startswith(FEW) or path.parent.name in ("sheets", "forms"):
            continue
        for width, scheme in ((390, "dark"), (1280, "light")):
            page, _, _ = open_page(browser, path, width, scheme)
            name = f"{house_of(site)}-{path.stem}-{width}-{scheme}.png"
            page.screenshot(path=str(pictures / name), full_page=True)
            assert (pictures / name).stat().st_size > 5000
            page.context.close()


def test_emergency_pages_are_one_tap_away_in_the_same_place(browser: Browser, site: Path) -> None:
    """Source: WCAG 2.2, 3.2.6: help stands in the same place on every page. 44 px for a wet hand is our own."""
    places = set()
    procedures = sorted((site / "p").glob("*.html"))
    for path in (procedures[0], procedures[-1], site / "index.html", site / "reference" / "glossary.html"):
        page, _, _ = open_page(browser, path, 390, "light")
        page.evaluate("window.scrollTo(0, 400)")
        boxes = page.eval_on_selector_all(
            ".sop-help a",
            "all => all.map(e => { const r = e.getBoundingClientRect(); return [e.innerText, r.x, r.y, r.width, r.height] })",
        )
        assert len(boxes) == 4, path.name
        assert all(width >= 44 and height >= 44 for *_, width, height in boxes)
        places.add(str(boxes))
        page.locator(".sop-help a").first.click()
        assert page.locator("ol.sop-first li").count() == 3
        page.context.close()
    assert len(places) == 1
