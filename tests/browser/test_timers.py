"""Timers and ticks of the whole manual: seen on every page, kept through reload, sleep and a changed page, apart by house."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page

from tests.browser.looking import one_at_a_time, open_page

pytestmark = [pytest.mark.browser, pytest.mark.parametrize("site", ["fourth"], indirect=True)]

START = datetime(2031, 5, 1, 10, 0)
"""A Thursday."""

RINGS = """() => {
  window.rings = [];
  navigator.vibrate = () => window.rings.push('shakes');
  const tone = AudioContext.prototype.createOscillator;
  AudioContext.prototype.createOscillator = function () { window.rings.push('sounds'); return tone.call(this); };
}"""


def timed(page: Page) -> tuple[Locator, int, int]:
    """The first step with a timer, its least and greatest minutes."""
    row = page.locator(".sop-step[data-least]").first
    least, greatest = (int(row.get_attribute(f"data-{name}") or 0) for name in ("least", "greatest"))
    assert 0 < least < greatest
    return row, least, greatest


def solution_change(site: Path) -> Path:
    return next(iter(sorted((site / "p").glob("sop-08-*.html"))))


def at_ten(browser: Browser, site: Path) -> Page:
    """The page of the solution change at ten o'clock, in a browser of its own."""
    page, _, _ = open_page(browser, solution_change(site), 390, "light")
    page.clock.install(time=START)
    page.reload()
    return page


@contextmanager
def changed_page(path: Path, *changes: tuple[str, str]) -> Iterator[Path]:
    """The page as it is after a change of the house: another file for as long as the test looks at it."""
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    changed = path.with_name("changed.html")
    changed.write_text(text, encoding="utf-8")
    try:
        yield changed
    finally:
        changed.unlink()


def other_code(path: Path) -> tuple[str, str]:
    mark = re.search(r'data-ticks="([^|]+\|[^|]+)\|[^"]+"', path.read_text(encoding="utf-8"))
    assert mark is not None
    return mark.group(0), f'data-ticks="{mark.group(1)}|ffff ffff"'


def test_a_timer_is_told_on_every_page_and_rings_when_due_and_when_missed(
    browser: Browser, site: Path
) -> None:
    page = at_ten(browser, site)
    page.evaluate(RINGS)
    row, least, greatest = timed(page)
    missed = (row.get_attribute("data-missed") or "").replace("\u00a0", " ")
    number, line = row.locator(".sop-no").inner_text(), row.get_by_role("status")
    row.locator("input").check()
    row.get_by_role("button", name=f"Start {least} min").click()
    assert f"Began 10:00, due {START + timedelta(minutes=least):%H:%M}" in line.inner_text()
    assert page.evaluate("window.rings") == []
    page.clock.fast_forward(timedelta(minutes=least).seconds * 1000)
    page.clock.run_for(2000)
    assert "Due now" in line.inner_text()
    assert {"shakes", "sounds"} == set(page.evaluate("window.rings"))
    assert page.title().startswith(f"DUE: step {number}, SOP-08")
    assert "SOP-08" in page.get_by_role("alert").inner_text()
    struck = "e => { for (; e; e = e.parentElement) if (getComputedStyle(e).textDecorationLine !== 'none') return true; return false; }"
    assert not line.evaluate(struck), "a tick of the step strikes the timer through"
    assert row.locator(".sop-do").evaluate(struck)

    rung = len(page.evaluate("window.rings"))
    page.clock.run_for(25_000)
    assert len(page.evaluate("window.rings")) > rung, "it rings again till it is heard"
    page.locator("h1").click()
    page.clock.run_for(1000)
    assert not page.title().startswith("DUE")
    page.clock.fast_forward(timedelta(minutes=greatest - least).seconds * 1000)
    page.clock.run_for(2000)
    assert page.title().startswith("DUE")
    told = line.inner_text().replace("\u00a0", " ")
    assert missed
    assert f"Too late. {missed}" in told
    assert missed in page.locator(".timers a").inner_text().replace("\u00a0", " ")
    page.once(
        "dialog", lambda dialog: dialog.accept() if "timers stop" in dialog.message else dialog.dismiss()
    )
    page.locator(".ticks-reset").click()
    assert page.locator(".timers").is_hidden()
    page.context.close()


def test_a_timer_outlives_reload_sleep_and_days_and_leads_back(browser: Browser, site: Path) -> None:
    page = at_ten(browser, site)
    row, least, _ = timed(page)
    row.get_by_role("button", name=f"Start {least} min").click()
    page.reload()
    assert "min to go" in page.locator(".timers a").inner_text()
    page.goto((site / "reference" / "workings.html").as_uri())
    page.clock.run_for(1000)
    page.clock.fast_forward(timedelta(minutes=least).seconds * 1000)  # asleep: no second was counted
    page.clock.run_for(1100)
    assert "due since 10:0" in page.locator(".timers a").inner_text()
    page.goto("about:blank")
    page.clock.fast_forward(26 * 3600 * 1000)
    page.goto((site / "index.html").as_uri())
    assert page.title().startswith("DUE"), "due while nothing was open, it is told at once"
    page.locator(".timers a").click()
    assert page.url.endswith(f"{solution_change(site).name}#{row.get_attribute('id')}")
    assert "Began Thu 10:00, due Thu 10:0" in row.get_by_role("status").inner_text()
    page.context.close()


def test_a_wait_is_not_walked_past(browser: Browser, site: Path) -> None:
    page = at_ten(browser, site)
    row, least, _ = timed(page)
    row_id = row.get_attribute("data-step-id")
    page.evaluate(
        """id => { for (const box of document.querySelectorAll('input[data-step]')) {
             if (box.dataset.step === id) break;
             box.click();
           } }""",
        row_id,
    )
    view = one_at_a_time(page)
    next_ = view.locator(".one-next")

    def tap() -> None:
        page.clock.run_for(800)
        next_.click()

    while view.get_attribute("data-kind") != "wait":
        tap()
    wait = view.locator(".one-head").inner_text()
    assert view.locator(".one-left").inner_text() == f"{least} min"
    for words in ("Leave the wait", "Leave it before it is due?", "Go on without waiting"):
        assert view.locator(".one-head").inner_text() == wait
        assert next_.inner_text() == words
        tap()
    assert view.locator(".one-head").inner_text() != wait
    assert "min to go" in view.locator(".one-timers a").inner_text()
    page.clock.fast_forward(timedelta(minutes=least).seconds * 1000)
    page.clock.run_for(1100)
    assert "due since" in view.locator(".one-timers a").inner_text()
    view.locator(".one-timers a").click()
    assert view.locator(".one-head").inner_text() == wait
    assert next_.inner_text() == "Go on"
    tap()
    assert view.locator(".one-timers").is_hidden()
    page.context.close()


def test_a_changed_page_tells_of_its_old_ticks_and_timers(browser: Browser, site: Path) -> None:
    path = solution_change(site)
    page = at_ten(browser, site)
    boxes = page.locator("input[data-step]")
    for number in range(3):
        boxes.nth(number).check()
    row, least, _ = timed(page)
    row.get_by_role("button", name=f"Start {least} min").click()
    words = page.locator(".sop-step").nth(1).get_attribute("data-step-id")
    assert words is not None
    old_words = re.search(rf'data-step-id="{words}".*?class="sop-do">', path.read_text(encoding="utf-8"))
    assert old_words is not None
    with changed_page(
        path, other_code(path), (old_words.group(0), old_words.group(0) + "Slowly: ")
    ) as changed:
        page.goto(changed.as_uri())
        asked = page.locator(".ticks-ask")
        assert "The page has changed since Thu, 1 May, 10:00. 3 ticks were of the old page; 2 of them" in (
            asked.inner_text().replace("Thu 1 May", "Thu, 1 May")
        )
        assert [boxes.nth(number).is_checked() for number in range(4)] == [True, False, True, False]
        assert "The page has changed since this timer began" in row.get_by_role("status").inner_text()
        view = one_at_a_time(page)
        assert view.get_attribute("data-kind") == "ask"
        page.clock.run_for(800)
        view.get_by_role("button", name="Keep what is the same").click()
        assert (
            "Step 2 of" in view.locator(".one-head").inner_text()
            or "Before step 2" in view.locator(".one-head").inner_text()
        )
        page.reload()
        assert asked.count() == 0
        assert [boxes.nth(number).is_checked() for number in range(4)] == [True, False, True, False]
    page.context.close()


def test_a_round_that_is_a_day_old_asks_and_houses_stay_apart(browser: Browser, site: Path) -> None:
    path = solution_change(site)
    page = at_ten(browser, site)
    boxes = page.locator("input[data-step]")
    boxes.first.check()
    row, least, _ = timed(page)
    row.get_by_role("button", name=f"Start {least} min").click()
    house = page.locator('meta[name="house"]').get_attribute("content")
    with changed_page(path, (f'name="house" content="{house}"', 'name="house" content="Another"')) as other:
        page.goto(other.as_uri())
        assert boxes.first.is_checked() is False
        assert page.locator(".timers").is_hidden()
        boxes.nth(1).check()
        page.goto(path.as_uri())
        assert [boxes.nth(number).is_checked() for number in range(2)] == [True, False]
        assert page.locator(".timers a").count() == 1
    assert page.locator(".ticks-ask").count() == 0
    page.clock.fast_forward(25 * 3600 * 1000)
    page.reload()
    asked = page.locator(".ticks-ask")
    assert "1 of" in asked.inner_text()
    assert "Begin a new round?" in asked.inner_text()
    assert "stops the timers of this page: 1" in asked.inner_text()
    assert boxes.first.is_checked(), "nothing is taken away before the answer"
    page.get_by_role("button", name="Begin a new round").click()
    assert boxes.first.is_checked() is False
    assert page.locator(".timers").is_hidden()
    page.context.close()
