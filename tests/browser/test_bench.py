"""At the bench: one step fills the screen, a caution and a wait must be passed, an amount is the largest type."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Locator

from tests.browser.looking import one_at_a_time, open_page, unhurried

pytestmark = [pytest.mark.browser, pytest.mark.parametrize("site", ["fourth"], indirect=True)]

REST = 700
"""Milliseconds after a change in which a tap counts for nothing."""


def page_of(site: Path, document: str) -> Path:
    return next(iter(sorted((site / "p").glob(f"{document}-*.html"))))


ONWARD = """(view, wanted) => {
  const next = view.querySelector('.one-next'), kinds = [];
  const told = () => history.state.one;  // what the screen is called
  do {
    const before = told();
    kinds.push(view.dataset.kind);
    for (let taps = 0; told() === before; taps++) {
      if (taps > 20) throw new Error('no way on from ' + before);
      next.click();
    }
  } while (wanted && !view.matches(wanted) && !view.querySelector(wanted) && view.dataset.kind !== 'end');
  return kinds;
}"""
"""Taps the button of the view till another screen stands there, or one that holds what is wanted; the kinds gone through."""


def onward(view: Locator, wanted: str = "") -> list[str]:
    kinds: list[str] = view.evaluate(ONWARD, wanted)
    assert not wanted or view.get_attribute("data-kind") != "end" or "end" in wanted, (
        f"no screen shows {wanted}"
    )
    return kinds


def test_every_caution_and_every_wait_is_a_screen_beside_its_step(browser: Browser, site: Path) -> None:
    page, _, errors = open_page(browser, page_of(site, "sop-08"), 390, "dark")
    written = page.eval_on_selector_all(
        ".sop-haz, .sop-step, .sop-wait, .sop-safe",
        """all => all.filter(e => !(e.matches('.sop-safe') && e.previousElementSibling.querySelector('.sop-wait')))
             .map(e => e.className.split(' ').pop())""",
    )
    unhurried(page)
    view = one_at_a_time(page)
    kinds = {"step": "sop-step", "caution": "sop-haz", "leave": "sop-safe", "wait": "sop-wait"}
    seen = [kinds[kind] for kind in onward(view, "[data-kind=end]")]
    assert seen == [kinds["caution"] if one.startswith("sop-haz") else one for one in written]
    assert {"sop-haz", "sop-wait", "sop-safe"} <= set(seen)
    boxes = page.locator("input[data-step]")
    assert boxes.count() == seen.count("sop-step")
    assert all(boxes.nth(number).is_checked() for number in range(boxes.count()))
    assert errors == []
    page.context.close()


def test_a_second_tap_and_a_key_in_passing_pass_nothing(browser: Browser, site: Path) -> None:
    page, _, _ = open_page(browser, page_of(site, "sop-08"), 390, "light")
    page.clock.install()
    page.reload()
    view = one_at_a_time(page)

    def told() -> str:
        return view.locator(".one-head").inner_text() + view.locator(".one-card").inner_text()

    next_, first = view.locator(".one-next"), told()
    next_.click()  # at once, as a double tap does
    assert told() == first
    page.clock.run_for(REST + 50)
    next_.dblclick()
    second = told()
    assert second != first
    assert page.locator("input[data-step]:checked").count() == 1

    page.clock.run_for(REST + 50)
    for key in ("ArrowRight", "ArrowLeft", "PageDown", " ", "ArrowRight"):
        page.locator(".one-card").focus()
        page.keyboard.press(key)
        assert told() == second, key
    next_.focus()
    page.keyboard.down("Enter")
    third = told()
    assert third != second
    page.clock.run_for(REST + 50)
    next_.focus()
    page.keyboard.down("Enter")  # held: it repeats
    assert told() == third
    page.keyboard.up("Enter")
    page.keyboard.press("Enter")
    assert told() != third
    page.context.close()


def test_the_view_is_a_dialog_and_back_closes_it(browser: Browser, site: Path) -> None:
    page, _, _ = open_page(browser, page_of(site, "sop-09"), 320, "dark")
    address = page.url
    unhurried(page)
    view = one_at_a_time(page)
    shown = page.get_by_role("dialog", name=re.compile("Step 1 of"))
    assert shown.get_by_role("button", name="All steps").is_visible()
    assert shown.get_by_role("navigation", name="Emergency").is_visible()
    for _ in range(12):
        page.keyboard.press("Tab")
        assert page.evaluate(
            "document.activeElement === document.body || !!document.activeElement.closest('.one')"
        )
    problems = []
    for kind in ("step", "caution", "wait"):
        if kind != "step":
            onward(view, f"[data-kind={kind}]")
        problems += [f"{kind}: {one['id']}" for one in Axe().run(page).response["violations"]]
    assert problems == []

    at = view.locator(".one-head").inner_text()
    page.reload()  # as a phone does that was asleep
    assert view.is_visible()
    assert view.locator(".one-head").inner_text() == at
    page.goto((site / "index.html").as_uri())
    page.go_back()
    assert view.locator(".one-head").inner_text() == at
    page.go_back()
    assert view.is_hidden()
    assert page.url == address
    one_at_a_time(page)
    page.keyboard.press("Escape")
    assert view.is_hidden()
    assert page.evaluate("document.activeElement.innerText") == "One step at a time"
    assert page.get_by_role("navigation", name="Emergency").is_visible()
    page.context.close()


def test_a_step_under_a_condition_is_not_needed_and_has_no_wait(browser: Browser, site: Path) -> None:
    page, _, _ = open_page(browser, page_of(site, "sop-09"), 390, "light")
    unhurried(page)
    row = page.locator(".sop-step[data-condition]").first
    step, condition = (row.get_attribute(f"data-{name}") for name in ("step-id", "condition"))
    words = row.locator(".sop-do").inner_text()
    view = one_at_a_time(page)
    onward(view, ".one-if")
    assert view.locator(".one-if").inner_text() == f"{condition}:"
    assert f"{condition}, " in words.replace("\n", " ")
    sizes = view.evaluate(
        "e => ['.one-if', '.one-do'].map(one => parseFloat(getComputedStyle(e.querySelector(one)).fontSize))"
    )
    assert sizes[0] > 1.5 * sizes[1]
    assert view.locator(".one-card table").count() > 0, "the table it is done by stands with it"
    view.get_by_role("button", name="Not needed").click()
    while page.locator(".sop-step[data-condition]:has(.sop-wait):has(input:checked)").count() == 0:
        onward(view, ".one-if")
        view.get_by_role("button", name="Not needed").click()
    assert view.get_attribute("data-kind") != "wait"
    view.get_by_role("button", name="All steps").click()
    done = page.locator(f"[data-step-id={step}]")
    assert done.locator("input[data-step]").is_checked()
    assert "n/a" in done.evaluate("e => getComputedStyle(e.querySelector('.sop-no'), '::after').content")
    page.reload()
    assert "sop-step--not" in (done.get_attribute("class") or "")
    assert page.locator(".timers a").count() == page.locator(".sop-timer[data-state=running]").count()
    page.context.close()


def test_work_goes_on_where_it_stopped(browser: Browser, site: Path) -> None:
    page, _, _ = open_page(browser, page_of(site, "sop-08"), 390, "light")
    unhurried(page)
    view = one_at_a_time(page)
    for _ in range(8):
        onward(view)
    done = page.locator("input[data-step]:checked").count()
    assert done > 0
    view.get_by_role("button", name="All steps").click()
    page.reload()
    assert f"tep {done + 1}" in one_at_a_time(page).locator(".one-head").inner_text()
    page.context.close()


SCREENS = """view => {
  const card = view.querySelector('.one-card'), go = ONWARD, found = [];
  while (view.dataset.kind !== 'end') {
    const texts = [...card.querySelectorAll('*')].filter(n => n.innerText && n.children.length === 0 && n.offsetParent)
      .map(n => [!!n.closest('.one-amt strong, .one-if, .one-left'), parseFloat(getComputedStyle(n).fontSize)]);
    found.push({
      system: view.querySelector('.one-system').innerText,
      largest: texts.filter(one => one[0]).map(one => one[1]),
      others: texts.filter(one => !one[0]).map(one => one[1]),
      numbers: view.querySelectorAll('.one-amt').length,
      means: [...view.querySelectorAll('.one-amt .sop-amt__means')].map(n => n.innerText),
      links: view.querySelectorAll('.one-amt a').length,
      wide: document.documentElement.scrollWidth,
    });
    go(view, '');
  }
  return found;
}"""
"""What stands in the view, screen by screen, and in which type."""


def test_amount_is_the_largest_type_says_what_it_is_and_the_system_stands_by(
    browser: Browser, site: Path
) -> None:
    page, _, _ = open_page(browser, page_of(site, "sop-08"), 320, "light")
    unhurried(page)
    letter = page.locator(".sop-system").inner_text()
    meanings = page.locator(".sop-amt__means").all_inner_texts()
    screens = one_at_a_time(page).evaluate(SCREENS.replace("ONWARD", ONWARD))
    assert {screen["system"] for screen in screens} == {letter}
    assert all(min(one["largest"]) > max(one["others"]) for one in screens if one["largest"])
    assert sum(one["numbers"] for one in screens) > 2
    assert [words for one in screens for words in one["means"]] == meanings
    assert "in all" in meanings
    assert sum(one["links"] for one in screens) == 0, "a wet finger on a number leaves for nothing"
    assert max(one["wide"] for one in screens) <= 320
    page.context.close()
