"""Opens a page as a person would: width, light or dark, from disk; and what is asked of every page."""

from __future__ import annotations

from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page


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


def look_at(browser: Browser, path: Path, width: int, scheme: str, *, with_rules: bool = True) -> None:
    """Nothing leaves the disk, no error, no scrolling sideways, no small target on a phone.

    `with_rules` adds the rules of accessibility: seconds a page, so a page of each kind stands for its kind.
    """
    page, outside, errors = open_page(browser, path, width, scheme)
    assert outside == [], path.name
    assert errors == [], path.name
    assert page.evaluate("document.documentElement.scrollWidth") <= width, path.name
    if width == 390:
        assert small_targets(page) == [], path.name
    if with_rules:
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
