"""The preview: every answer is made of the files as they are at that moment."""

from __future__ import annotations

import gc
import re
import threading
import time
import urllib.error
import urllib.request
import weakref
from collections.abc import Iterator
from pathlib import Path

import pytest

from macros.doors.mkdocs_plugin import ThemedSite, build_site
from macros.doors.preview import SCRIPT, STATE, Preview, server_of
from tests.benchmarks.projects import edit_a_fact, project_of
from tests.making import made_house, made_site

PAGE = "p/sop-08-k.html"
FACT = ('flow_at_tap: "8 L/min"', 'flow_at_tap: "8"')


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return project_of(made_house(tmp_path_factory.mktemp("preview")))


@pytest.fixture(scope="module")
def preview(house: Path) -> Iterator[Preview]:
    shown = Preview(house, house / "mkdocs.yml", None)
    yield shown
    shown.close()


def page(preview: Preview, address: str) -> str:
    """The page as it is answered, without the script that loads it again."""
    answer = preview.answer(address)
    assert answer.status == 200
    return _without_script(answer.content.decode())


def _without_script(html: str) -> str:
    before, mark, after = html.partition(f'<script src="/{SCRIPT}')
    assert mark, "a page of the preview loads the script that looks for changes"
    return before + after.partition("</script>")[2]


def wait_for_the_whole(preview: Preview, seconds: float = 60) -> None:
    end = time.monotonic() + seconds
    while preview.answer(STATE).content.endswith(b"-page"):
        assert time.monotonic() < end, "the whole manual never came"
        time.sleep(0.05)


INSTALLING = re.compile(
    r'<link rel="manifest".*?<meta name="theme-color"[^>]*>| *<script src="[./]*assets/installed.js"></script>\n *\n'
)
"""What a served page has more than one that is shown while it is written, which no device may keep."""


def test_pages_are_those_of_a_build_for_a_web_server(house: Path, preview: Preview, tmp_path: Path) -> None:
    build_site(house / "mkdocs.yml", tmp_path / "site", {"house": str(house), "served": True})
    wait_for_the_whole(preview)
    for address in (PAGE, "index.html", "reference/workings.html", "sheets/sop-08-k.html"):
        built = (tmp_path / "site" / address).read_text(encoding="utf-8")
        assert page(preview, address) == INSTALLING.sub("", built)
        assert len(INSTALLING.findall(built)) == (0 if address.startswith("sheets/") else 2)


def test_every_edit_shows_at_once(house: Path, preview: Preview) -> None:
    for _ in range(4):
        edit_a_fact(house)
        alone = page(preview, PAGE)  # before the whole manual can be there
        site = made_site(house, house / "procedures")
        finished = [line for line in site.pages["p/sop-08-k.md"].splitlines() if line.startswith("<")]
        assert len(finished) > 40
        assert [line for line in finished if line not in alone] == []
    fresh = ThemedSite(house / "mkdocs.yml", {"house": str(house)})
    fresh.show(site)
    index = fresh.file("index.html")
    assert index is not None
    assert page(preview, "index.html") == index.decode()


def test_what_pages_were_worked_out_with_is_let_go(house: Path) -> None:
    themed = ThemedSite(house / "mkdocs.yml", {"house": str(house)})
    site = made_site(house, house / "procedures")
    register, view = weakref.ref(site.register), weakref.ref(site.views[0])
    themed.show(site)
    del site
    gc.collect()
    assert (register(), view()) == (None, None)
    page_once = themed.file(PAGE)
    assert page_once is not None
    assert themed.file(PAGE) == page_once


def test_a_mistake_shows_as_the_list_of_what_to_mend(house: Path, preview: Preview) -> None:
    file = house / "site_data" / "house.yml"
    good = file.read_text(encoding="utf-8")
    assert good.count(FACT[0]) == 1
    file.write_text(good.replace(*FACT), encoding="utf-8")
    for address in (PAGE, "index.html"):
        assert "has no unit" in page(preview, address)
    file.write_text(good, encoding="utf-8")
    assert "has no unit" not in page(preview, PAGE)


def test_a_mistake_on_another_page_is_found_with_the_whole(house: Path, preview: Preview) -> None:
    other = house / "procedures" / "sop-16-daily-check.md"
    good = other.read_text(encoding="utf-8")
    wait_for_the_whole(preview)
    other.write_text(good + "\n{{ nothing_of_the_kind }}\n", encoding="utf-8")
    assert "nothing_of_the_kind" not in page(preview, PAGE)
    wait_for_the_whole(preview)
    assert "nothing_of_the_kind" in page(preview, PAGE)
    other.write_text(good, encoding="utf-8")


def test_the_server_answers_this_machine_alone(preview: Preview) -> None:
    server = server_of(preview, 0)
    running = threading.Thread(target=server.serve_forever)
    running.start()
    root = f"http://127.0.0.1:{server.server_port}"
    try:
        with urllib.request.urlopen(f"{root}/{SCRIPT}") as script:
            assert b"fetch" in script.read()
        with urllib.request.urlopen(f"{root}/assets/site.css") as style:
            assert style.headers["Content-Type"] == "text/css; charset=utf-8"
            assert style.headers["Cache-Control"] == "no-store"
        for address, host, status in (("/nowhere.html", "localhost", 404), ("/", "other.example", 403)):
            request = urllib.request.Request(root + address, headers={"Host": host})
            with pytest.raises(urllib.error.HTTPError) as refused:
                urllib.request.urlopen(request)
            refused.value.close()
            assert refused.value.code == status
    finally:
        server.shutdown()
        running.join()
        server.server_close()
