"""Opens a page as a person would: width, light or dark, from disk; and what is asked of every page."""

from __future__ import annotations

import itertools
import re
import subprocess
from collections.abc import Callable, Iterable
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Locator, Page, ViewportSize


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
    page.wait_for_timeout(100)
    return page, outside, errors


def _inside(url: str) -> bool:
    return url.startswith(("file:", "data:", "blob:"))


def unhurried(page: Page) -> None:
    """From now on a second passes between two taps: the view of one step at a time counts none that comes sooner."""
    page.evaluate("() => { let passed = 0; performance.now = () => passed += 1000; }")


def one_at_a_time(page: Page) -> Locator:
    """The view of one step at a time, opened by its button."""
    page.get_by_role("button", name="One step at a time").click()
    return page.locator(".one")


def look_at(browser: Browser, path: Path, width: int, scheme: str, *, with_rules: bool = True) -> None:
    """As `look_at_each`, for one page."""
    look_at_each(browser, [path], width, scheme, lambda _: with_rules)


def look_at_each(
    browser: Browser, paths: Iterable[Path], width: int, scheme: str, with_rules: Callable[[Path], bool]
) -> None:
    """Nothing leaves the disk, no error, no scrolling sideways, no small target on a phone.

    One window goes from page to page: a window of its own for each takes as long as the page. `with_rules` says on which
    the rules of accessibility are tried: seconds a page, so a page of each kind stands for its kind.
    """
    first, *others = paths
    page, outside, errors = open_page(browser, first, width, scheme)
    for path in (first, *others):
        if path != first:
            page.goto(path.as_uri())
            page.wait_for_timeout(50)
        assert outside == [], path.name
        assert errors == [], path.name
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path.name
        if width == 390:
            assert small_targets(page) == [], path.name
        if with_rules(path):
            results = Axe().run(page).response["violations"]
            told = [f"{path.name}: {v['id']}: {v['nodes'][0]['html'][:120]}" for v in results]
            assert told == []
            outside.clear()
            errors.clear()  # the rules load the style sheets anew, which a disk forbids
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


# ----------------------------------------------------------------- paper

PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height, mm."""
SIDE_MARGINS = 20 + 15
"""Left and right of a sheet, mm."""


def paper_width(paper: str, *, landscape: bool = False) -> ViewportSize:
    """A window as wide as the sheet between its margins, so that lines end on screen where they end on paper."""
    millimetres = PAPERS[paper][1 if landscape else 0] - SIDE_MARGINS
    return {"width": round(millimetres / 25.4 * 96), "height": 1000}


def beyond_the_paper(page: Page) -> list[str]:
    """Elements that reach over the left or right edge of the window."""
    found: list[str] = page.evaluate(
        """() => [...document.querySelectorAll('main *')].filter(e => !e.closest('.vh'))
             .map(e => [e, e.getBoundingClientRect()])
             .filter(([, r]) => r.width > 0 && (r.right > innerWidth + 1 || r.left < -1))
             .map(([e]) => `${e.tagName}.${e.className.baseVal ?? e.className}: ${e.textContent.slice(0, 40)}`)"""
    )
    return found


def parted_units(page: Page) -> list[str]:
    """Numbers whose unit stands on the next line."""
    found: list[str] = page.evaluate(
        """() => {
             const units = 'mL|L|fl oz|gal|cm|mm|m|in|ft|min|h|days|weeks|s|°C|°F|mS/cm|mg/L|kg|g|lb|%';
             const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = [];
             while (texts.nextNode()) {
               for (const match of texts.currentNode.data.matchAll(new RegExp(String.raw`\\d+[ \\u00a0](?:${units})(?![\\w/])`, 'g'))) {
                 const range = document.createRange();
                 range.setStart(texts.currentNode, match.index);
                 range.setEnd(texts.currentNode, match.index + match[0].length);
                 const tops = [...range.getClientRects()].map(r => r.top);
                 if (tops.length && Math.max(...tops) - Math.min(...tops) > 4) found.push(match[0]);
               }
             }
             return found;
           }"""
    )
    return found


def texts_of(pdf: Path) -> list[str]:
    """The text of each page, in the order it was written."""
    run = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, text=True, check=True)
    return run.stdout.split("\f")[:-1]


def parted_rows(page: Page, pdf: Path) -> list[str]:
    """Caution rows and phase bars of a bench sheet on another page than the row after them, SAFE TO LEAVE than that before.

    The rows are looked for one after the other in the text of the PDF, all white space left out.
    """
    rows = page.eval_on_selector_all(
        ".steps tbody tr",
        "all => all.map(e => [e.className.split(' ')[0], (e.querySelector('.act') ?? e).textContent])",
    )
    pages = ["".join(leaf.split()) for leaf in texts_of(pdf)]
    text, ends = "".join(pages), list(itertools.accumulate(len(one) for one in pages))
    at, numbers = 0, []
    for kind, words in rows:
        needle = re.sub(r"\s", "", words)[:40]
        at = text.find(needle, at)
        assert at >= 0, f"{kind}: {words!r} is not printed in its place"
        numbers.append(next(number for number, end in enumerate(ends) if at < end))
        at += len(needle)
    return [
        f"{kind}: {words}"
        for (kind, words), (this, following) in zip(rows, itertools.pairwise(numbers), strict=False)
        if kind in ("haz", "phase") and this != following
    ] + [
        f"safe: {words}"
        for (kind, words), (before, this) in zip(rows[1:], itertools.pairwise(numbers), strict=True)
        if kind == "safe" and before != this
    ]
