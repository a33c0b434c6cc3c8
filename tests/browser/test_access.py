"""For whoever reads otherwise: large, contrasted, unmoved, without a script. Ticks belong to one issue of a page."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import FEW, one_of_a_kind
from tests.browser.looking import open_page

pytestmark = [pytest.mark.browser, pytest.mark.parametrize("site", ["fourth"], indirect=True)]

CONTRAST = """selectors => {
  const numbers = colour => (colour.match(/[\\d.]+/g) || []).map(Number);
  const over = (top, below) => { const a = top.length > 3 ? top[3] : 1; return [0, 1, 2].map(i => top[i] * a + below[i] * (1 - a)) };
  const ground = e => { const stack = []; for (let n = e; n; n = n.parentElement) stack.push(numbers(getComputedStyle(n).backgroundColor));
    return stack.reverse().reduce((below, top) => top.length ? over(top, below) : below, [255, 255, 255]) };
  const light = c => { const [r, g, b] = c.map(v => { v /= 255; return v <= .04045 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4 }); return .2126 * r + .7152 * g + .0722 * b };
  const ratio = e => { const below = ground(e), ink = over(numbers(getComputedStyle(e).color), below), [a, b] = [light(ink), light(below)];
    return (Math.max(a, b) + .05) / (Math.min(a, b) + .05) };
  return selectors.map(s => Math.min(...[...document.querySelectorAll(s)].filter(e => e.offsetParent).map(ratio)));
}"""
"""Contrast of the palest text of each kind, after WCAG 2.2 (relative luminance, contrast ratio)."""


def pages(site: Path) -> list[Path]:
    return one_of_a_kind([path for path in sorted((site / "p").glob("*.html")) if path.stem.startswith(FEW)])


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_steps_and_amounts_have_seven_to_one(browser: Browser, site: Path, scheme: str) -> None:
    """WCAG 2.2, 1.4.6: 7:1 for what is worked by; 1.4.3: 4.5:1 for the rest."""
    for path in pages(site):
        page, _, _ = open_page(browser, path, 390, scheme)
        do, amount, number, more, word, line = page.evaluate(
            CONTRAST,
            [".sop-do", ".sop-amt strong", ".sop-no", ".sop-more", ".sop-haz__word", ".sop-haz p"],
        )
        assert min(do, amount, number, word, line) >= 7, path.name
        assert more >= 4.5, path.name
        page.context.close()


def test_a_width_of_320_and_wide_spacing_scroll_one_way_only(browser: Browser, site: Path) -> None:
    """WCAG 2.2, 1.4.10 (320 px is 400 % of a desk) and 1.4.12 (spacing)."""
    spaced = "*{line-height:1.5!important;letter-spacing:.12em!important;word-spacing:.16em!important}p{margin-bottom:2em!important}"
    for path in [site / "index.html", site / "today.html", *pages(site)]:
        page, _, _ = open_page(browser, path, 320, "light")
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path.name
        page.add_style_tag(content=spaced)
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, f"{path.name}, spaced"
        page.context.close()


def test_nothing_moves_for_who_asked_for_stillness(browser: Browser, site: Path) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, reduced_motion="reduce")
    page = context.new_page()
    page.goto(pages(site)[0].as_uri())
    longest = page.evaluate(
        """() => Math.max(...[...document.querySelectorAll('*')].flatMap(e => { const s = getComputedStyle(e);
             return [...s.transitionDuration.split(','), ...s.animationDuration.split(',')].map(parseFloat) }))"""
    )
    assert longest <= 0.00001
    context.close()


def test_without_a_script_the_page_says_so_and_leads_to_paper(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(next(path for path in pages(site) if path.stem.startswith("sop-08")).as_uri())
    assert page.locator(".ticks").is_hidden()
    assert "Ticks are not kept without JavaScript" in page.locator("noscript").first.inner_text()
    page.get_by_role("link", name="Bench sheet to print").click()
    assert page.locator("article.sheet").count() == 1
    context.close()
