"""The manual in a cellar: a served site that was visited once, one whole issue of it at a time, and the manual as one file."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page

from macros.doors.publish import write_one_file
from macros.html.phone.installed import installed_files
from tests.browser.conftest import HOUSES, serving
from tests.making import manual_of

pytestmark = pytest.mark.browser

WAIT = 20_000
"""Milliseconds for a machine under load."""
OLD, NEW = "Solution change", "Solution renewal"
OFFER = "button:has-text('Take the new issue')"


@contextmanager
def phone(browser: Browser, **options: object) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 320, "height": 568}, **options)  # type: ignore[arg-type]
    yield context
    context.close()


def opened(context: BrowserContext, address: str, told: list[str] | None = None) -> Page:
    page = context.new_page()
    if told is not None:
        page.on("console", lambda line: told.append(line.text) if line.type == "error" else None)
        page.on("pageerror", lambda error: told.append(str(error)))
        page.on("request", lambda asked: told.append(asked.url) if asked.url.startswith("http") else None)
    page.goto(address)
    return page


def kept_code(page: Page) -> str:
    """The code the line of the page names once an issue is kept whole."""
    line = page.locator(".sop-issue:has-text('Kept on this device')")
    line.wait_for(timeout=WAIT)
    found = re.search(r"the issue of \d{4}-\d\d-\d\d, code ([0-9a-f]{4} [0-9a-f]{4})\.", line.inner_text())
    assert found is not None, line.inner_text()
    return found[1]


def issue(site: Path, day: str, *, changed: bool) -> None:
    """Another issue of a built site: pages and a style sheet of its own, and its list."""
    if changed:
        for page in site.glob("p/sop-08-*.html"):
            page.write_text(page.read_text(encoding="utf-8").replace(OLD, NEW), encoding="utf-8")
        style = site / "assets" / "site.css"
        style.write_text(style.read_text(encoding="utf-8") + ":root{--issue:new}", encoding="utf-8")
    for address, data in installed_files(site, "House", "en", day).items():
        (site / address).write_bytes(data)


def looks(page: Page) -> tuple[str, str]:
    """Of which issue a page and its style sheet are; both come from one."""
    style = page.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--issue')")
    return ("new" if NEW in page.inner_text("h1") else "old", style or "old")


@pytest.fixture(scope="module")
def site(served_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The served site with a few pages of it; that the list names every file is tested in tests/html."""
    site = shutil.copytree(served_site, tmp_path_factory.mktemp("offline") / "site")
    for folder in ("forms", "reference", "training", "assets/javascripts/lunr"):
        shutil.rmtree(site / folder)
    for page in [*site.glob("p/sop-*.html"), *site.glob("sheets/*.html")]:
        if not page.name.startswith("sop-08"):
            page.unlink()
    issue(site, "2026-03-10", changed=False)
    return site


def sop_08(site: Path) -> str:
    return sorted(site.glob("p/sop-08-*.html"))[0].relative_to(site).as_posix()


def test_after_one_visit_every_page_and_the_search_work_without_a_network(
    browser: Browser, site: Path
) -> None:
    told: list[str] = []
    with serving(site) as base, phone(browser) as context:
        page = opened(context, base)
        code = kept_code(page)
        manifest = page.evaluate(
            "async () => (await fetch(document.querySelector('link[rel=manifest]').href)).json()"
        )
        assert manifest["display"] == "standalone"
        context.set_offline(True)
        for address in (
            sop_08(site),
            "today.html",
            sorted(site.glob("sheets/sop-*.html"))[0].relative_to(site).as_posix(),
        ):
            page = opened(context, base + address, told)
            assert page.locator("h1, h2").count()
            assert page.evaluate("[...document.styleSheets].every((sheet) => sheet.cssRules.length > 0)")
        page = opened(context, base)
        assert kept_code(page) == code
        page.locator(".md-header__button[for=__search]").click()
        page.locator("input.md-search__input").click()
        page.keyboard.type("heel", delay=50)
        page.wait_for_selector(".md-search-result__item", timeout=WAIT)
        page.goto(base + "p/sop-99.html")
        assert page.inner_text("h1") == "No such page"
    assert [line for line in told if not line.startswith("http://127.0.0.1")] == []


def test_a_new_issue_waits_for_the_end_of_the_job_and_comes_whole(
    browser: Browser, site: Path, tmp_path: Path
) -> None:
    site = shutil.copytree(site, tmp_path / "site")
    page_of_job = sop_08(site)
    with serving(site) as base, phone(browser) as context:
        job = opened(context, base + page_of_job)
        first = kept_code(job)
        job.locator(".sop-tick").first.click()
        issue(site, "2026-04-01", changed=True)
        (site / page_of_job).rename(site / "away.html")
        (site / page_of_job).write_text(
            "of yet another issue", encoding="utf-8"
        )  # the site was built anew meanwhile
        other = opened(context, base + "index.html")
        failed = other.locator(".sop-issue:has-text('could not be kept')")
        failed.wait_for(timeout=WAIT)
        assert f"{page_of_job} is not the file of this issue" in failed.inner_text()
        assert looks(opened(context, base + page_of_job)) == ("old", "old")
        (site / "away.html").rename(site / page_of_job)
        other.reload()

        line = job.locator(".sop-issue:has-text('A new issue is here, of 2026-04-01')")
        line.wait_for(timeout=WAIT)
        assert "It is offered when this job is done." in line.inner_text()
        assert job.locator(OFFER).count() == 0
        context.set_offline(True)
        assert looks(opened(context, base + page_of_job)) == ("old", "old")
        assert job.locator("h1").inner_text().endswith(OLD)

        job.evaluate("window.kept.set('timers:SOP-08:x', { due: Date.now() })")
        job.locator(".sop-tick").first.click()  # no tick is left; the timer still runs, in any window
        other.wait_for_timeout(2500)
        assert other.locator(OFFER).count() == 0
        assert job.locator(OFFER).count() == 0
        job.evaluate("window.kept.remove('timers:SOP-08:x')")
        job.evaluate("document.documentElement.classList.add('one-open')")
        other.wait_for_timeout(2500)
        assert other.locator(OFFER).count() == 0
        job.evaluate("document.documentElement.classList.remove('one-open')")
        other.locator(OFFER).click(timeout=WAIT)

        job.locator(f"h1:has-text('{NEW}')").wait_for(timeout=WAIT)
        assert looks(job) == ("new", "new")
        second = kept_code(job)
        assert second != first
        assert kept_code(other) == second
        stores = job.evaluate("caches.keys()")
        assert [name[-64:-56] for name in stores if not name.endswith("in use")] == [second.replace(" ", "")]


def test_two_houses_on_one_device_keep_their_own(browser: Browser, site: Path, tmp_path: Path) -> None:
    """Served from two folders of one server, as a host has them: neither deletes nor shows what the other keeps."""
    for name in ("north", "south"):
        shutil.copytree(site, tmp_path / "all" / name)
    issue(tmp_path / "all" / "south", "2026-04-01", changed=True)
    with serving(tmp_path / "all") as base, phone(browser) as context:
        north = opened(context, f"{base}north/{sop_08(site)}")
        code = kept_code(north)
        south = opened(context, f"{base}south/{sop_08(site)}")
        assert kept_code(south) != code
        context.set_offline(True)
        north.reload()
        south.reload()
        assert (looks(north), looks(south)) == (("old", "old"), ("new", "new"))


@pytest.fixture(scope="module")
def one_file(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The address of the manual as one file."""
    house = shutil.copytree(HOUSES / "fourth", tmp_path_factory.mktemp("sent") / "house")
    file, _ = write_one_file(house, None, manual_of("fourth"))
    return f"file://{file}"


def find(page: Page, words: str) -> list[str]:
    page.fill("#find", words)
    page.locator("#found").wait_for()
    return page.locator("#found a").all_inner_texts()


def test_the_one_file_leads_ticks_times_reckons_and_finds(browser: Browser, one_file: str) -> None:
    told: list[str] = []
    with phone(browser) as context:
        page = opened(context, one_file, told)
        assert page.locator("#page h1").count() == 1
        page.click("#page a[href='#today.html']")
        page.fill(
            "#today-day", page.evaluate("JSON.parse(document.getElementById('today-data').textContent).first")
        )
        page.locator("#today-lists a[href^='#p/sop-']").first.click()
        page.locator("[data-ticks]").wait_for()
        page.go_back()
        page.locator("#today-lists").wait_for()

        assert len(find(page, "sop-08")) >= 1
        page.keyboard.press("Enter")
        page.locator("[data-ticks^='SOP-08']").wait_for()
        assert page.locator("#found").is_hidden()
        page.locator(".sop-tick input").nth(1).check()
        page.locator(".sop-step:has(.sop-timer) button:has-text('Start')").first.click()
        assert page.evaluate("localStorage.length") >= 1
        address = page.url
        page.goto(one_file + "#index.html")
        page.goto(address)
        assert page.locator(".sop-tick input").nth(1).is_checked()
        assert any("to go" in text for text in page.locator(".sop-timer").all_inner_texts())
        page.click("button:has-text('One step at a time')")
        page.locator(".one").wait_for()
        page.locator(".sop-help a[href^='#p/sop-20']").click()  # the emergency is one tap away from the view
        page.locator("[data-ticks^='SOP-20']").wait_for()
        assert page.evaluate("document.documentElement.classList.contains('one-open')") is False

        page.goto(
            one_file + "#" + page.evaluate("document.querySelector('[data-page^=\"reckon/\"]').dataset.page")
        )
        form = page.locator("form[data-reckoner=level]")
        form.locator("input").first.fill("10")
        form.locator("button").click()
        assert page.locator(".reckon-answer:not(:empty)").first.inner_text()
        assert find(page, "heel")[0]
        assert "in the text of pages" in page.inner_text("#found")
        assert find(page, "zzzz") == []
        assert "Nothing found." in page.inner_text("#found")
    assert told == []


EVERY_PAGE = """async () => {
  const told = [], pages = [...document.querySelectorAll("script[data-page]")].map((page) => page.dataset.page);
  for (const address of pages) {
    window.location.hash = address;
    await new Promise((next) => setTimeout(next, 0));
    if (!document.title.length || document.documentElement.scrollWidth > window.innerWidth) told.push(address + " is too wide");
    for (const link of document.querySelectorAll("#page a[href]")) {
      const href = link.getAttribute("href"), [there, id] = href.slice(1).split("#");
      if (/^[a-z]+:/.test(href)) continue;
      if (!pages.includes(there)) told.push(address + " leads to " + href);
      else if (there === address && id && !document.getElementById(id)) told.push(address + " has no " + id);
    }
  }
  return [pages.length, told];
}"""
"""Shows one page after another; (how many there are, those wider than the screen and links that lead nowhere)."""


def test_the_one_file_is_readable_on_a_small_phone(browser: Browser, one_file: str) -> None:
    found = []
    with phone(browser) as context:
        page = opened(context, one_file)
        count, told = page.evaluate(EVERY_PAGE)
        assert count > 40
        assert told == []
        page.goto(f"{one_file}#contents.html")
        found += [rule["id"] for rule in Axe().run(page).response["violations"]]
        page.emulate_media(color_scheme="dark")
        page.goto(f"{one_file}#today.html")
        find(page, "tank")
        found += [rule["id"] for rule in Axe().run(page).response["violations"]]
    assert found == []


def test_nothing_that_gets_into_the_one_file_runs(browser: Browser, one_file: str, tmp_path: Path) -> None:
    text = Path(one_file.removeprefix("file://")).read_text(encoding="utf-8")
    file = tmp_path / "manual.html"
    file.write_text(text.replace("</body>", "<script>window.ran = 1</script></body>"), encoding="utf-8")
    told: list[str] = []
    with phone(browser) as context:
        page = opened(context, f"file://{file}", told)
        assert page.evaluate("window.ran") is None
        assert any("Content Security Policy" in line for line in told)


def test_two_houses_sent_as_files_keep_their_ticks_apart(
    browser: Browser, one_file: str, tmp_path: Path
) -> None:
    """Files opened from disk share one store: the name of the house keeps them apart."""
    text = Path(one_file.removeprefix("file://")).read_text(encoding="utf-8")
    house = re.search(r'<meta name="house" content="([^"]+)">', text)
    assert house is not None
    other = tmp_path / "manual.html"
    other.write_text(text.replace(house[0], '<meta name="house" content="Another house">'), encoding="utf-8")
    with phone(browser) as context:
        page = opened(context, one_file)
        page.evaluate("window.kept.set('today', { one: 1 })")
        page.goto(f"file://{other}")
        assert page.evaluate("[window.kept.get('today'), window.kept.works]") == [None, True]
        page.goto(one_file)
        assert page.evaluate("window.kept.get('today')") == {"one": 1}
