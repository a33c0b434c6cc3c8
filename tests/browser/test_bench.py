"""At the bench: one step fills the screen, a caution must be passed, waits are timed."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page

from tests.browser.looking import open_page

pytestmark = [pytest.mark.browser, pytest.mark.parametrize("site", ["fourth"], indirect=True)]

START = datetime(2031, 5, 1, 10, 0)


def solution_change(site: Path) -> Path:
    return next(iter(sorted((site / "p").glob("sop-08-*.html"))))


def one_at_a_time(page: Page) -> Locator:
    page.get_by_role("button", name="One step at a time").click()
    return page.locator(".one")


def test_every_caution_is_a_screen_before_its_step(browser: Browser, site: Path) -> None:
    page, _, errors = open_page(browser, solution_change(site), 390, "dark")
    written = page.eval_on_selector_all(
        ".sop-haz, .sop-step, .sop-safe", "all => all.map(e => e.className.split(' ')[0])"
    )
    view = one_at_a_time(page)
    kinds = {"step": "sop-step", "caution": "sop-haz", "leave": "sop-safe"}
    seen = []
    while (kind := view.get_attribute("data-kind")) != "end":
        assert kind is not None
        seen.append(kinds[kind])
        view.locator(".one-next").click()
    assert seen == written
    assert "sop-haz" in seen
    boxes = page.locator("input[data-step]")
    assert boxes.count() == seen.count("sop-step")
    assert all(boxes.nth(number).is_checked() for number in range(boxes.count()))
    assert errors == []
    page.context.close()


def test_a_key_in_passing_does_not_pass_a_caution(browser: Browser, site: Path) -> None:
    page, _, _ = open_page(browser, solution_change(site), 390, "light")
    view = one_at_a_time(page)
    while view.get_attribute("data-kind") != "caution":
        view.locator(".one-next").click()
    told = view.locator(".one-card").inner_text()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("PageDown")
    assert view.locator(".one-card").inner_text() == told
    assert page.evaluate("document.activeElement.innerText") == "I have read it"
    page.keyboard.press("Enter")
    assert view.locator(".one-card").inner_text() != told
    page.keyboard.press("Escape")
    assert view.is_hidden()
    page.context.close()


def test_work_goes_on_where_it_stopped(browser: Browser, site: Path) -> None:
    page, _, _ = open_page(browser, solution_change(site), 390, "light")
    view = one_at_a_time(page)
    for _ in range(8):
        view.locator(".one-next").click()
    done = page.locator("input[data-step]:checked").count()
    page.reload()
    view = one_at_a_time(page)
    assert done > 0
    assert f"tep {done + 1}" in view.locator(".one-head").inner_text()
    page.context.close()


def test_amount_is_the_largest_type_and_the_system_stands_by(browser: Browser, site: Path) -> None:
    page, _, _ = open_page(browser, solution_change(site), 320, "light")
    letter = page.locator(".sop-system").inner_text()
    view = one_at_a_time(page)
    seen = 0
    while view.get_attribute("data-kind") != "end":
        assert view.locator(".one-system").inner_text() == letter
        sizes = view.evaluate(
            """e => [...e.querySelectorAll('.one-card *')].filter(n => n.innerText && n.children.length === 0 && n.offsetParent)
                 .map(n => [!!n.closest('.one-amt strong'), parseFloat(getComputedStyle(n).fontSize)])"""
        )
        amounts = [size for is_amount, size in sizes if is_amount]
        if amounts:
            assert min(amounts) > max(size for is_amount, size in sizes if not is_amount)
            seen += 1
        assert page.evaluate("document.documentElement.scrollWidth") <= 320
        view.locator(".one-next").click()
    assert seen > 2
    page.context.close()


def test_a_wait_is_timed_and_told_when_due_and_when_missed(browser: Browser, site: Path) -> None:
    page, _, errors = open_page(browser, solution_change(site), 390, "light")
    page.clock.install(time=START)
    page.reload()
    row = page.locator(".sop-step[data-least]").first
    least, greatest = (int(row.get_attribute(f"data-{name}") or 0) for name in ("least", "greatest"))
    missed = row.get_attribute("data-missed") or ""
    assert 0 < least < greatest
    line = row.get_by_role("status")
    row.get_by_role("button", name=f"Start {least} min").click()
    due = f"{START + timedelta(minutes=least):%H:%M}"
    assert f"Began 10:00, due {due}" in line.inner_text()
    page.clock.run_for(timedelta(minutes=least).seconds * 1000 + 2000)
    assert "Due now" in line.inner_text()
    page.reload()
    assert "Due now" in page.locator(".ticks-timers").inner_text().replace("due now", "Due now")
    page.clock.run_for(timedelta(minutes=greatest - least).seconds * 1000 + 2000)
    told = page.locator(".sop-step[data-least]").first.get_by_role("status").inner_text()
    assert "Too late" in told
    assert missed
    assert missed in told.replace("\u00a0", " ") or missed in told
    page.once("dialog", lambda dialog: dialog.accept())
    page.locator(".ticks-reset").click()
    assert page.locator(".ticks-timers").is_hidden()
    assert errors == []
    page.context.close()
