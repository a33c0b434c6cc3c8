"""A house whose every free text is script, opened: nothing of it runs, nothing is asked of the network or of other files."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Request

from macros.doors.mkdocs_plugin import build_site
from macros.doors.publish import own_config, write_one_file
from tests.html.hostile import hostile_house
from tests.making import made_site
from tests.site.test_hostile import HOSTILE

pytestmark = pytest.mark.browser

PAGES = ("index", "readings", "reference/log", "p/sop-08-k", "sheets/sop-08-k", "today", "reckon/reckoner-k")
IN_THE_FILE = ("readings.html", "p/sop-08-k.html")


def test_nothing_runs_and_nothing_outside_is_asked_for(browser: Browser, tmp_path: Path) -> None:
    house, _ = hostile_house(tmp_path, HOSTILE)
    build_site(own_config(), house / "site", {"house": str(house)})
    manual, _ = write_one_file(house, None, made_site(house))
    page = browser.new_page()
    ran: list[str] = []
    asked: list[str] = []

    def note(request: Request) -> None:
        asked.append(request.url)

    page.on("dialog", lambda dialog: (ran.append(dialog.message), dialog.dismiss()))
    page.on("request", note)
    addresses = [(house / "site" / f"{name}.html").as_uri() for name in PAGES]
    addresses += [f"{manual.as_uri()}#{name}" for name in IN_THE_FILE]
    for address in addresses:
        page.goto(address)
        shown = page.evaluate("document.body.innerText")
        assert "<script>alert(1)</script>" in shown or "readings" in address, address
        assert page.evaluate("document.querySelectorAll('[onerror], img[src=x]').length") == 0, address
    assert ran == []
    ours = ((house / "site").as_uri() + "/", manual.as_uri(), "data:", "blob:")
    assert len(asked) > len(addresses)
    assert [url for url in asked if not url.startswith(ours)] == []
    page.close()
