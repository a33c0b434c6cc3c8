"""Pages in a real browser: from disk, on a phone, in the dark, by keyboard and screen reader."""

from __future__ import annotations

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.browser.conftest import one_of_a_kind

pytestmark = pytest.mark.browser


ONLY: dict[str, tuple[str, ...] | None] = {
    "first": None,
    "second": ("sop-08",),
    "third": ("sop-03", "sop-04", "sop-05", "sop-06", "sop-13", "check"),
}
"""Which kinds of page are opened in which house: every kind once, and US units on one."""


def pages_of(site: Path) -> list[Path]:
    found = [path for path in sorted(site.rglob("*.html")) if path.name != "404.html"]
    assert len(found) >= 5
    kinds = one_of_a_kind(found)
    only = ONLY[site.parent.name.rstrip("0123456789")]
    return [path for path in kinds if only is None or path.stem.startswith(only)]


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
def test_page_is_accessible_and_stays_on_the_disk(
    browser: Browser, site: Path, width: int, scheme: str
) -> None:
    for path in pages_of(site):
        page, outside, errors = open_page(browser, path, width, scheme)
        assert outside == [], path.name
        assert errors == [], path.name
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path.name
        results = Axe().run(page).response["violations"]
        told = [f"{path.name}: {v['id']}: {v['nodes'][0]['html'][:120]}" for v in results]
        assert told == []
        page.context.close()


def test_touch_targets_are_large(browser: Browser, site: Path) -> None:
    for path in pages_of(site):
        page, _, _ = open_page(browser, path, 390, "light")
        small = page.evaluate(
            """() => [...document.querySelectorAll('.md-content a, .md-content button, .md-content summary, .sop-tick')]
                 .filter(e => e.offsetParent && !e.closest('p:not(.work-head)') || e.matches('.md-button'))
                 .map(e => [e.innerText.trim() || e.className, e.getBoundingClientRect()])
                 .filter(([, r]) => r.width > 0 && (r.height < 43.5 || r.width < 43.5))
                 .map(([t, r]) => `${t} ${r.width.toFixed(0)}x${r.height.toFixed(0)}`)"""
        )
        assert small == [], path.name
        page.context.close()


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
        for width, scheme in ((390, "light"), (390, "dark"), (1280, "light")):
            page, _, _ = open_page(browser, path, width, scheme)
            name = f"{site.parent.name}-{path.stem}-{width}-{scheme}.png"
            page.screenshot(path=str(pictures / name), full_page=True)
            assert (pictures / name).stat().st_size > 5000
            page.context.close()
