"""Two builds of one config: opened from disk, and served over http. Each passes its own content policy, search works."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import one_of_a_kind, serving

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def served(served_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, str]]:
    """The served build of a house, and the address it is served at."""
    site = shutil.copytree(served_site, tmp_path_factory.mktemp("served") / "site")
    with serving(site) as base:
        yield site, base


def kinds(site: Path) -> list[str]:
    """A page of each folder, and those at the top; every kind of page is opened from disk by the tests of the pages."""
    found = one_of_a_kind([path for path in sorted(site.rglob("*.html")) if path.name != "404.html"])
    addresses = [path.relative_to(site).as_posix() for path in found]
    folders = dict.fromkeys(address.rpartition("/")[0] for address in addresses)
    return [
        address
        for folder in folders
        for address in [one for one in addresses if one.rpartition("/")[0] == folder][: 1 if folder else None]
    ]


def opened_quietly(browser: Browser, base: str, addresses: list[str]) -> list[str]:
    """What goes wrong on opening each page: requests beyond `base`, console errors, a policy that forbids."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    told: list[str] = []
    page.on(
        "request",
        lambda request: (
            told.append(f"asks for {request.url}")
            if not request.url.startswith((base, "data:", "blob:"))
            else None
        ),
    )
    page.on("console", lambda message: told.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: told.append(str(error)))
    for address in addresses:
        page.goto(base + address)
        assert page.locator('meta[http-equiv="Content-Security-Policy"]').count() == 1, address
    page.goto(base + "index.html")
    page.locator(".md-header__button[for=__search]").click()
    page.locator("input.md-search__input").click()
    page.keyboard.type("heel", delay=50)
    page.wait_for_selector(".md-search-result__item", timeout=15000)
    context.close()
    return told


def test_served_pages_pass_their_policy_and_ask_for_nothing_outside(
    browser: Browser, served: tuple[Path, str]
) -> None:
    site, base = served
    assert opened_quietly(browser, base, kinds(site)) == []


@pytest.mark.parametrize("site", ["fourth"], indirect=True)
def test_pages_from_disk_pass_their_policy_and_ask_for_nothing_outside(browser: Browser, site: Path) -> None:
    assert opened_quietly(browser, f"file://{site}/", kinds(site)) == []


def test_buttons_of_a_sheet_work_under_the_served_policy(browser: Browser, served: tuple[Path, str]) -> None:
    site, base = served
    page = browser.new_page()
    page.add_init_script("window.print = () => { document.title = 'printing'; }")
    page.goto(base + next(iter(sorted((site / "sheets").glob("sop-08-*.html")))).relative_to(site).as_posix())
    page.click("[data-act=print]")
    assert page.title() == "printing"
    page.click("[data-act=large]")
    assert page.locator(".sheet.large").count() == 1
    page.close()


def test_what_gets_into_a_served_page_does_not_run(browser: Browser, served: tuple[Path, str]) -> None:
    """A script that was written into a page afterwards is not among the hashes: the browser refuses it."""
    site, base = served
    page_file = site / "index.html"
    text = page_file.read_text(encoding="utf-8")
    page_file.write_text(text.replace("</body>", "<script>window.ran = 1</script></body>"), encoding="utf-8")
    page = browser.new_page()
    refused: list[str] = []
    page.on("console", lambda message: refused.append(message.text) if message.type == "error" else None)
    page.goto(base + "index.html")
    assert page.evaluate("window.ran") is None
    assert any("Content Security Policy" in line for line in refused)
    page_file.write_text(text, encoding="utf-8")
    page.close()


@pytest.mark.parametrize("site", ["fourth"], indirect=True)
def test_a_page_loads_lightly(site: Path) -> None:
    """A procedure page with all it loads, compressed as a server does, without the search: at most 350 kB."""
    import gzip
    import re

    for path in sorted((site / "p").glob("*.html")):
        html = path.read_text(encoding="utf-8")
        names = re.findall(r'(?:src|href)="(\.\./assets/[^"?]+\.(?:js|css))"', html)
        loaded = [path, *((path.parent / name).resolve() for name in dict.fromkeys(names))]
        fonts = sorted((site / "assets" / "fonts").glob("*.woff2"))
        weight = sum(len(gzip.compress(file.read_bytes())) for file in loaded)
        weight += sum(font.stat().st_size for font in fonts)
        assert len(names) > 3
        assert weight <= 350_000, f"{path.name}: {weight / 1000:.0f} kB"
