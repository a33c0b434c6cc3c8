"""The page of what is due: the phone's own date decides, and its days are those of the calendar."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from macros.calendar.events import expanded, known_events
from tests.browser.conftest import HOUSES
from tests.browser.looking import look_at
from tests.making import made_site

pytestmark = [pytest.mark.browser, pytest.mark.parametrize("site", ["fourth"], indirect=True)]


@pytest.fixture
def today(browser: Browser, site: Path) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, timezone_id="Pacific/Auckland")
    page = context.new_page()
    page.goto((site / "today.html").as_uri())
    yield page
    context.close()


def test_days_are_those_of_the_calendar(today: Page) -> None:
    """Every day of two months, and a leap day's month, against the expansion in Python."""
    site = made_site(HOUSES / "fourth")
    events = known_events(site.register, site.views)
    first = date.fromisoformat(json.loads(today.locator("#today-data").inner_text())["first"])
    days = [first + timedelta(days=number) for number in (*range(60), *range(290, 310))]
    shown = today.evaluate(
        "days => { const data = JSON.parse(document.getElementById('today-data').textContent);"
        " return days.map(day => window.dueOnDay(data, day)) }",
        [day.isoformat() for day in days],
    )
    seen = 0
    for day, lists in zip(days, shown, strict=True):
        expected = sorted(event.title for event in expanded(events, day, day))
        assert sorted(title for _, title in lists["today"]) == expected, day
        week = expanded(
            [event for event in events if event.repeat is None or not event.repeat.daily],
            day + timedelta(days=1),
            day + timedelta(days=6),
        )
        assert sorted((at, title) for at, title in lists["week"]) == sorted(
            (event.day.isoformat(), event.title) for event in week
        )
        assert all(at < day.isoformat() for at, _ in lists["overdue"])
        seen += len(lists["overdue"])
    assert seen > 0


OVERDUE_NONE = "Nothing is overdue that this phone knows of."


def test_the_phone_tells_the_day_and_ticks_are_kept(today: Page) -> None:
    first = datetime.fromisoformat(json.loads(today.locator("#today-data").inner_text())["first"])
    day = first + timedelta(days=20)
    # Half past eight in the morning there is the evening before in Greenwich.
    today.clock.set_fixed_time(day + timedelta(hours=-4, minutes=30))
    today.evaluate("localStorage.clear()")
    today.reload()
    assert today.locator("#today-day").input_value() == day.date().isoformat()
    assert f"{day:%A} {day:%Y-%m-%d}" in today.locator("h2").all_inner_texts()
    # A phone that was not there before calls nothing overdue: it says once what it does not know.
    assert today.locator("h2").first.inner_text() == f"{day:%A} {day:%Y-%m-%d}"
    told = today.locator(".today-unknown")
    assert told.locator("summary").inner_text().startswith("Not known on this phone (")
    assert f"due before {day:%Y-%m-%d}" in told.locator("summary").inner_text()
    assert not told.locator(".today-item").first.is_visible()
    assert OVERDUE_NONE in today.locator("#today-lists").inner_text()
    # Twenty days later the same phone knows: what came due since is overdue until it is ticked.
    today.clock.set_fixed_time(day + timedelta(days=20, hours=-4, minutes=30))
    today.reload()
    overdue = today.locator("h2:text-is('Overdue') + .today-list .today-item")
    before = overdue.count()
    assert before > 1
    overdue.first.locator("input").check()
    today.reload()
    assert overdue.count() == before - 1
    kept = today.evaluate("window.kept.get('today').since")
    assert kept == day.date().isoformat()


def test_a_day_outside_asks_for_a_new_build(today: Page) -> None:
    last = json.loads(today.locator("#today-data").inner_text())["last"]
    beyond = (date.fromisoformat(last) + timedelta(days=1)).isoformat()
    today.locator("#today-day").fill(beyond)
    told = today.locator("#today-lists").inner_text()
    assert f"{beyond} is outside. Ask for a new build." in told
    assert today.locator(".today-item").count() == 0


def test_today_suits_a_phone_in_the_dark(browser: Browser, site: Path) -> None:
    look_at(browser, site / "today.html", 390, "dark")
