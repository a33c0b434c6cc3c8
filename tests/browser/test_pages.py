"""Pages in a real browser: from disk, on a phone, in the dark, by keyboard and screen reader."""

from __future__ import annotations

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser

from tests.browser.conftest import FEW, house_of, opened
from tests.browser.looking import look_at_each, open_page, small_targets

pytestmark = pytest.mark.browser

PICTURED = ("index", "sop-08")
RULED = {390: (*FEW, "sop-02", "sop-16", "sop-18", "sop-22"), 1280: PICTURED}
"""Of each width, which are held against the rules of accessibility: a page of every section of the menu, and those with
tables, choices and first lines; at a desk what differs there, the menu beside the page."""


def pages_of(site: Path) -> list[Path]:
    found = [path for path in sorted(site.rglob("*.html")) if path.name != "404.html"]
    assert len(found) >= 5
    apart = (
        ("reference", "training")
        if house_of(site) == "fourth"
        else ("reference", "training", "sheets", "forms")
    )
    return [
        path
        for path in opened(found, site)
        if path.parent.name not in apart
        and (path.parent.name not in ("sheets", "forms") or path.stem.startswith(FEW))
    ]


@pytest.mark.parametrize(("width", "scheme"), [(390, "dark"), (1280, "light")])
def test_page_is_accessible_fits_a_wet_finger_and_stays_on_the_disk(
    browser: Browser, site: Path, width: int, scheme: str
) -> None:
    few = width == 1280  # a desk is kinder than a phone
    paths = [path for path in pages_of(site) if not few or path.stem.startswith(FEW)]
    look_at_each(browser, paths, width, scheme, lambda path: path.stem.startswith(RULED[width]))


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
    page.context.close()


def test_search_works_from_disk(browser: Browser, site: Path) -> None:
    page, outside, _ = open_page(browser, site / "index.html", 1280, "light")
    page.locator("input.md-search__input").click()
    page.keyboard.type(
        "heel", delay=50
    )  # as a person does: what is there before the page is ready is not searched
    page.wait_for_selector(".md-search-result__item", timeout=15000)
    assert page.locator(".md-search-result__item").count() >= 1
    assert outside == []
    page.context.close()


@pytest.mark.parametrize("site", ["fourth"], indirect=True)
def test_pictures_for_a_person_to_look_at(browser: Browser, site: Path, pictures: Path) -> None:
    for path in pages_of(site):
        if not path.stem.startswith(PICTURED) or path.parent.name in ("sheets", "forms"):
            continue
        for width, scheme in ((390, "dark"), (1280, "light")):
            page, _, _ = open_page(browser, path, width, scheme)
            name = f"{house_of(site)}-{path.stem}-{width}-{scheme}.png"
            page.screenshot(path=str(pictures / name), full_page=True)
            assert (pictures / name).stat().st_size > 5000
            page.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_reckoner_answers_on_a_phone(browser: Browser, site: Path, scheme: str) -> None:
    """An answer, a stop and a refusal under the rules of accessibility; an answer never stands beside other readings."""
    path = sorted((site / "reckon").glob("*.html"))[0]
    page, outside, errors = open_page(browser, path, 390, scheme)
    system = page.locator(".sop-system").first.inner_text()
    for name, typed in (("level", ["9"]), ("ec", ["0.1", "9"]), ("ph", ["1,234", "0"])):
        form = page.locator(f"form[data-reckoner={name}]")
        for place, text in enumerate(typed):
            field = form.locator("input, select").nth(place)
            if text == "used":
                field.select_option(text)
            else:
                field.fill(text)
        form.locator("button").click()
    told = page.locator(".reckon-answer:not(:empty)").all_inner_texts()
    assert len(told) == 3
    assert told[0].startswith(f"System {system}: add ")
    assert told[1].startswith(f"STOP System {system}: stop.")
    assert told[2].startswith('NOT RECKONED "1,234"')
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert small_targets(page) == []
    fields = page.locator(".reckon input, .reckon select")
    assert fields.count() >= 10
    assert min(fields.nth(place).bounding_box()["height"] for place in range(fields.count())) >= 44
    assert (outside, errors) == ([], [])  # the rules below load the style sheets anew, which a disk forbids
    rules = Axe().run(page).response["violations"]
    assert [f"{rule['id']}: {rule['nodes'][0]['html'][:120]}" for rule in rules] == []
    page.locator("#in-level-level").fill("10")
    assert page.locator(".reckon-answer").first.inner_text() == ""
    page.context.close()


def test_a_reckoner_page_without_a_script_shows_its_tables(browser: Browser, site: Path) -> None:
    context = browser.new_context(viewport={"width": 320, "height": 844}, java_script_enabled=False)
    page = context.new_page()
    page.goto(sorted((site / "reckon").glob("*.html"))[0].as_uri())
    assert page.locator("form[data-reckoner]").count() >= 5
    assert not page.locator("form[data-reckoner]").first.is_visible()
    assert page.get_by_text("The reckoners need JavaScript.").is_visible()
    tables = page.locator(".reckon-tables table")
    assert tables.count() >= 8
    assert tables.first.is_visible()
    context.close()


@pytest.mark.parametrize("site", ["fourth"], indirect=True)
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
        assert len(boxes) == 5, path.name
        assert all(width >= 44 and height >= 44 for *_, width, height in boxes)
        places.add(str(boxes))
        page.locator(".sop-help a").first.click()
        page.wait_for_selector("ol.sop-first li")
        assert page.locator("ol.sop-first li").count() == 3
        page.context.close()
    assert len(places) == 1
