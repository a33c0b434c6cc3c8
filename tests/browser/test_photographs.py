"""A photograph on a phone of 320 px: beside its step, and after the amount where one step fills the screen."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from macros.doors.publish import build_and_swap
from tests.browser.conftest import ROOT
from tests.browser.looking import look_at, one_at_a_time, open_page, unhurried
from tests.making import made_house, manual_of
from tests.photographs.pictures import picture, saved

pytestmark = pytest.mark.browser

HOUSE = "first"
ALT = "Water stands under the fill mark"
CAPTION = "Level seen from the side"


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """A page of a house with one photograph at a step with an amount, and the step; the house is built for it alone."""
    view, step = next((v, s) for v in manual_of(HOUSE).views for s in v.steps if s.amounts)
    name = f"{view.document.lower()}/{step.id.partition('-')[0]}.jpg"
    folder = tmp_path_factory.mktemp("photographs")
    house = made_house(folder, name=HOUSE)
    (house / "photos" / name).parent.mkdir(parents=True)
    (house / "photos" / name).write_bytes(saved(picture(1600, 1200)))
    entry = {"file": name, "alt": ALT, "caption": CAPTION, "arrows": ["10 10 60 60"]}
    (house / "site_data" / "photos.yml").write_text(f"photos: [{json.dumps(entry)}]\n", encoding="utf-8")
    site = build_and_swap(house, None, ROOT / "mkdocs.yml", folder / "site")
    return site / view.page_address, step.id


def test_a_page_with_a_photograph_fits_a_narrow_phone(browser: Browser, shown: tuple[Path, str]) -> None:
    look_at(browser, shown[0], 320, "dark")


def test_the_picture_is_loaded_told_and_stands_after_the_amount(
    browser: Browser, shown: tuple[Path, str]
) -> None:
    path, step = shown
    page, outside, errors = open_page(browser, path, 320, "light")
    image = page.locator(f"[data-step-id={step}] img")
    image.scroll_into_view_if_needed()
    page.wait_for_function("e => e.complete && e.naturalWidth > 0", arg=image.element_handle())
    assert image.get_attribute("alt") == ALT
    assert page.locator(f"[data-step-id={step}] figcaption").inner_text() == CAPTION

    unhurried(page)
    view = one_at_a_time(page)
    while view.locator("img").count() == 0:
        assert view.get_attribute("data-kind") != "end", "no screen shows the photograph"
        view.locator(".one-next").click()
    picture_box, amount_box = view.locator("img").bounding_box(), view.locator(".one-amt").bounding_box()
    assert picture_box
    assert amount_box
    assert picture_box["y"] >= amount_box["y"] + amount_box["height"] > amount_box["y"]
    assert picture_box["x"] >= 0
    assert picture_box["x"] + picture_box["width"] <= 320
    assert view.locator("img").get_attribute("alt") == ALT
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    assert (outside, errors) == ([], [])
    page.context.close()
