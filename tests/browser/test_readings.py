"""Values typed on the phone: limits at once, list, correction, file; and the file through `trayside log` into the house, twice."""

from __future__ import annotations

import csv
import re
import shutil
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from click.testing import CliRunner
from playwright.sync_api import Browser, Locator, Page

from macros.doors.cli import commands
from macros.house import load_house
from tests.browser.conftest import HOUSES
from tests.browser.looking import open_page, small_targets
from tests.making import manual_of

pytestmark = [pytest.mark.browser, pytest.mark.parametrize("site", ["fourth"], indirect=True)]

HOUSE = "fourth"
DAY = date(2032, 5, 4)


def opened(browser: Browser, address: Path) -> Page:
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, timezone_id="UTC", accept_downloads=True
    )
    page = context.new_page()
    page.clock.install(time=datetime(2032, 5, 4, 9, 30, tzinfo=UTC))
    page.goto(address.as_uri())
    return page


def top_up(site: Path) -> tuple[str, Path]:
    """The system whose top-up page is looked at, and the page."""
    view = next(one for one in manual_of(HOUSE).views if one.document == "SOP-09")
    return view.system, site / view.page_address


def field(page: Page, column: str) -> Locator:
    return page.locator(f".sop-step[data-column={column}] .reading").first


def typed(place: Locator, text: str) -> None:
    box = place.locator(".reading-value")
    box.fill(text)
    box.blur()


def test_from_the_step_into_the_house_log(browser: Browser, site: Path, tmp_path: Path) -> None:
    system, address = top_up(site)
    page = opened(browser, address)
    band = page.locator(".sop-step[data-column=ph]").first
    low, high = band.get_attribute("data-low"), band.get_attribute("data-high")
    assert low is not None
    assert high is not None
    ph = field(page, "ph")
    assert ph.locator(".reading-value").get_attribute("inputmode") == "decimal"

    # Outside: at once what the page says, and not kept as if it were in.
    typed(ph, f"{float(high) + 0.4:.1f}".replace(".", ","))
    told = ph.locator(".reading-said").inner_text()
    view = next(one for one in manual_of(HOUSE).views if one.system == system and one.document == "SOP-09")
    signs = [one for one in view.if_wrong if one.kind == "out_of_range"]
    acts = [one.act for one in signs if "read_ph" in one.of]
    others = [one.act for one in signs if "read_ph" not in one.of]
    assert told.startswith(f"Outside its limits: {low} to {high}.")
    assert acts
    assert others
    assert all(act in told for act in acts)
    assert not any(act in told for act in others)
    assert ph.get_attribute("data-state") == "out"
    typed(ph, "1,234")
    assert ph.locator(".reading-said").inner_text() == "“1,234” can be read in two ways. Type 1.234, or 1234."
    typed(ph, "6.x")
    assert "is no number" in ph.locator(".reading-said").inner_text()
    assert page.evaluate("window.readings.entries().length") == 0
    typed(ph, low.replace(".", ","))
    assert ph.get_attribute("data-state") == "in"
    assert ph.locator(".reading-value").input_value() == low
    page.locator(".reading-who input").first.fill("QM")
    page.locator(".reading-who input").first.blur()
    typed(field(page, "added_L"), "12,5")
    page.reload()
    assert field(page, "ph").locator(".reading-value").input_value() == low
    assert page.locator(".reading-who").count() == 0

    # The list: corrected, one deleted by a second tap.
    page.goto((site / "readings.html").as_uri())
    assert page.locator("#readings-list > p").first.inner_text() == "2 kept here, 2 not sent yet."
    first = page.locator(".reading-entry", has_text="pH before")
    first.get_by_role("button", name="Correct").click()
    page.locator(".reading-correct input").fill(high)
    page.get_by_role("button", name="Keep").click()
    assert first.locator("strong").inner_text() == high
    page.locator("select").select_option("SOP-16")
    extra = page.locator("#readings-form .reading").first
    typed(extra, "3")
    assert "Do: stay out: SOP-20." in extra.inner_text()
    entry = page.locator(".reading-entry", has_text="wet places")
    assert "OUTSIDE" in entry.inner_text()

    # The file, in the log's own columns; marked as sent, and kept.
    with page.expect_download() as begun:
        page.get_by_role("button", name="1 row of the tank log").click()
    file = tmp_path / begun.value.suggested_filename
    begun.value.save_as(file)
    with page.expect_download() as other:
        page.get_by_role("button", name="1 other value").click()
    records = tmp_path / other.value.suggested_filename
    other.value.save_as(records)
    row = next(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))
    expected = {
        "date": "2032-05-04",
        "time": "09:30",
        "system": system,
        "added_L": "12.5",
        "ph": high,
        "by": "",
        "note": "top-up",
    }
    assert {name: row[name] for name in expected if name != "by"} == {
        n: v for n, v in expected.items() if n != "by"
    }
    assert page.locator("#readings-list > p").first.inner_text() == "3 kept here, 0 not sent yet."
    assert page.locator(".reading-entry", has_text="sent 2032-05-04 09:30").count() == 3
    delete = entry.get_by_role("button", name="Delete")
    delete.click()
    again = entry.get_by_role("button", name="Tap again to delete")
    again.click()
    assert entry.count() == 1, "a double tap deletes nothing"
    page.clock.run_for(600)
    again.click()
    assert entry.count() == 0
    page.context.close()

    # Into the house, twice.
    house = tmp_path / "house"
    shutil.copytree(HOUSES / HOUSE, house)
    command = ["log", str(file), str(records), "--house", str(house), "--date", DAY.isoformat()]
    once = CliRunner().invoke(commands, command, standalone_mode=False)
    assert once.exception is None, once.exception
    assert "1 line added to site_data/log/added-2032.csv." in once.output
    assert "1 line added to site_data/records/added-2032.csv." in once.output
    found, _ = load_house(house)
    assert found is not None
    assert [(str(one.date), one.ph, one.system) for one in found.log][-1] == (
        "2032-05-04",
        float(high),
        system,
    )
    assert [(one.value, one.outside) for one in found.records] == [("3", True)]
    twice = CliRunner().invoke(commands, command, standalone_mode=False)
    assert len(re.findall("already there", twice.output)) == 2
    assert (house / "site_data/log/added-2032.csv").read_text(encoding="utf-8").count("\n") == 2


def test_one_step_at_a_time_takes_the_value(browser: Browser, site: Path) -> None:
    """The view has the page's own field; the tap that leaves it does not pass what it has just been told."""
    _, address = top_up(site)
    page = opened(browser, address)
    high = page.locator(".sop-step[data-column=ph]").first.get_attribute("data-high")
    page.evaluate("""() => { const wanted = document.querySelector(".sop-step[data-column=ph]");
        for (const box of document.querySelectorAll("input[data-step]")) {
          if (box.closest(".sop-step") === wanted) break; box.click(); } }""")
    page.get_by_role("button", name="One step at a time").click()
    while not page.locator(".one .reading").count():
        page.clock.run_for(1000)
        page.locator(".one-next").click()
    page.locator(".one .reading-value").fill(f"{float(high or 0) + 1:.1f}")
    head = page.locator(".one-head").inner_text()
    page.locator(".one-next").click()
    assert page.locator(".one-head").inner_text() == head
    assert "Outside its limits" in page.locator(".one .reading-said").inner_text()
    page.clock.run_for(1000)
    page.locator(".one-next").click()
    assert page.locator(".one-head").inner_text() != head
    page.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_fields_and_list_suit_a_phone(browser: Browser, site: Path, scheme: str) -> None:
    """With a value outside its limits: the rules of accessibility, a narrow screen, large targets, nothing from outside."""
    _, address = top_up(site)
    page, outside, errors = open_page(browser, address, 320, scheme)
    ph = field(page, "ph")
    typed(ph, "9.9")
    for place in (address, site / "readings.html"):
        if page.url != place.as_uri():
            page.goto(place.as_uri())
            page.locator("select").select_option("SOP-16")
        assert page.evaluate("document.documentElement.scrollWidth") <= 320
        assert small_targets(page) == []
        assert errors == []
        violations = Axe().run(page).response["violations"]
        assert [f"{one['id']}: {one['nodes'][0]['html'][:120]}" for one in violations] == []
        errors.clear()  # the tool asks for style sheets, which the page does not let it
    assert outside == []
    page.context.close()
