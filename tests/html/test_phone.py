"""The manual on a phone: the list an installed site is fetched by, its manifest, and the document of the one file."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from pathlib import Path
from types import SimpleNamespace

import pytest
from PIL import Image

from macros.doors.mkdocs_plugin import ManualPlugin
from macros.html.content_policy import with_policy
from macros.html.environment import dialled
from macros.html.phone.installed import installed_files
from macros.html.phone.one_file import FilePage, OneFile, one_file, pictures_of

ASSETS = Path(__file__).parents[2] / "macros" / "html" / "theme" / "assets"

HOSTILE = '<p>a</p><!-- b --><script type="application/json">{}</script><SCRIPT>window.ran = 1</SCRIPT>'


@pytest.fixture
def site(tmp_path: Path) -> Path:
    for name in ("index.html", "404.html", "search/search_index.json", "assets/site.css", "assets/a.js.map"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(f"text of {name}", encoding="utf-8")
    return tmp_path


def listed(site: Path, day: str = "2026-03-10") -> dict[str, object]:
    found: dict[str, object] = json.loads(installed_files(site, "A house", "en", day)["issue.json"])
    return found


def test_the_list_names_every_file_of_the_issue_with_its_hash(site: Path) -> None:
    found = listed(site)
    assert found["date"] == "2026-03-10"
    files = found["files"]
    assert isinstance(files, dict)
    assert set(files) == {
        "index.html", "404.html", "search/search_index.json", "assets/site.css", "manifest.webmanifest"
    }  # fmt: skip
    assert files["index.html"] == hashlib.sha256(b"text of index.html").hexdigest()


def test_the_code_of_an_issue_moves_with_any_file_and_its_day_and_with_nothing_else(site: Path) -> None:
    first = listed(site)["code"]
    for name, data in installed_files(site, "A house", "en", "2026-03-10").items():
        (site / name).write_bytes(data)  # as a build leaves it: the list does not count itself
    assert listed(site)["code"] == first
    assert listed(site, "2026-03-11")["code"] != first
    (site / "assets" / "site.css").write_text("another", encoding="utf-8")
    assert listed(site)["code"] != first


def test_the_manifest_names_the_house_and_icons_of_the_size_it_says(site: Path) -> None:
    manifest = json.loads(
        installed_files(site, 'Cellar "Garden" & Söhne', "en", "2026-03-10")["manifest.webmanifest"]
    )
    assert manifest["name"] == 'Cellar "Garden" & Söhne'
    assert manifest["start_url"] == "./index.html"
    seen = set()
    for icon in manifest["icons"]:
        file = ASSETS.parent / icon["src"]
        seen.add((icon["sizes"], icon["purpose"]))
        if file.suffix == ".png":
            with Image.open(file) as image:
                assert "x".join(map(str, image.size)) == icon["sizes"]
        else:
            assert file.read_text(encoding="utf-8").startswith("<svg")
    assert {("192x192", "any"), ("512x512", "maskable"), ("any", "any")} <= seen


def made(*pages: FilePage, pictures: dict[str, bytes] | None = None) -> str:
    return one_file(
        OneFile(
            name="A &amp; B", language="en", pages=pages, emergency=[{"word": "Leak", "address": "p/sop-20.html"}],
            call="112", styles=["assets/site.css"], scripts=["assets/ticks.js", "assets/kept.js"], pictures=pictures or {},
        )
    )  # fmt: skip


def test_the_policy_of_the_one_file_names_its_own_scripts_and_no_other() -> None:
    html = made(FilePage("index.html", "Start", HOSTILE))
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]+)"', html)
    assert policy is not None
    rules = dict(rule.split(" ", 1) for rule in policy[1].split("; "))
    assert rules["default-src"] == "'none'"
    scripts = re.findall(r"<script>(.*?)</script>", html, re.DOTALL)
    hashes = [base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() for text in scripts]
    assert rules["script-src"].split() == [f"'sha256-{code}'" for code in hashes]
    assert len(scripts) == 3  # what keeps things, the shell, the ticks
    assert "window.kept" in scripts[0]
    assert "document$" in scripts[1]
    assert "connect-src" not in rules
    assert 'href="tel:112"' in html


def test_a_page_lies_in_the_one_file_as_text_that_ends_no_script() -> None:
    html = made(FilePage("index.html", 'Start "here" <b>', HOSTILE))
    laid = re.search(
        r'<script type="text/plain" data-page="index.html"([^>]*)>(.*?)</script>', html, re.DOTALL
    )
    assert laid is not None
    assert 'data-title="Start &#34;here&#34; &lt;b&gt;"' in laid[1]
    assert re.sub(r"<\\(?=/script|script|!--)", "<", laid[2], flags=re.IGNORECASE) == HOSTILE


def test_pictures_and_scripts_of_a_page_are_found_from_where_it_stands() -> None:
    body = '<img src="../photos/a.webp" alt="A"><script src="../assets/reckoners.js" defer></script>'
    page = FilePage("reckon/one.html", "One", body)
    assert pictures_of([page, page]) == ["photos/a.webp"]
    html = made(page, pictures={"photos/a.webp": b"abc"})
    assert '<img data-picture="photos/a.webp" alt="A">' in html
    assert '{"photos/a.webp":"data:image/webp;base64,YWJj"}' in html
    assert "<script src" not in html
    assert "form[data-reckoner]" in html


@pytest.mark.parametrize("content", ["<script>window.ran = 1</script>", "<script>window.ran = 1"])
def test_a_script_that_got_into_a_page_has_no_hash_in_the_served_policy(content: str) -> None:
    plugin = ManualPlugin()
    plugin.load_config({"served": True})
    page = SimpleNamespace(content=f"<p>text</p>{content}")
    frame = "<html><head></head><body><script>theme()</script>{}<script>more()</script></body></html>"
    html = plugin.on_post_page(frame.format(page.content), page=page, config=None)  # type: ignore[arg-type]
    policy = html[: html.index(">", html.index("<meta"))]
    theme = [base64.b64encode(hashlib.sha256(text).digest()).decode() for text in (b"theme()", b"more()")]
    assert f"script-src 'self' 'sha256-{theme[0]}' 'sha256-{theme[1]}';" in policy
    assert "manifest-src 'self'" in policy


def test_a_sheet_of_our_own_has_no_inline_script_that_may_run() -> None:
    html = with_policy("<html><head></head><body><script>window.ran = 1</script></body></html>", True)
    assert "script-src 'self';" in html


@pytest.mark.parametrize(
    ("written", "number"),
    [("112", "112"), ("+44 20 7946 0000", "+442079460000"), ("(212) 555-0143", "2125550143"), ("555-0143 (fictional)", "5550143"),
     ("fill in before printing", ""), ("112 or 999", "")],
)  # fmt: skip
def test_what_a_telephone_dials_is_one_number_or_none(written: str, number: str) -> None:
    assert dialled(written) == number
