"""The manual as one file: which pages it holds, what it says it lacks, and what happens where there is no room."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace
from random import Random

import pytest
from PIL import Image

from macros.html.phone.one_file import FilePage
from macros.photographs.clean import small_copy
from macros.site import one_file as module
from macros.site.one_file import is_carried, manual_as_one_file
from macros.site.site import Site
from tests.making import manual_of


def picture(number: int) -> bytes:
    """A picture of noise, which nothing makes small."""
    data = io.BytesIO()
    Image.frombytes("RGB", (800, 600), Random(number).randbytes(800 * 600 * 3)).save(data, "WEBP", quality=68)
    return data.getvalue()


PICTURES = {f"photos/{number}.webp": picture(number) for number in range(3)}
SITE = Site(
    name="House",
    pictures=PICTURES,
    navigation=[
        {"Start": "index.md"},
        {"Cleaning": [{"Sanitize the loop, A": "p/sop-06-a.md"}]},
        {"Reference": [{"Workings": "reference/workings.md"}]},
    ],
    extra={"day": "2026-03-10", "language": "en", "emergency": [], "call": "112"},
)
PAGES = [
    FilePage("index.html", "Start", "<h1>House</h1>" + "".join(f'<img src="{name}" alt="Picture">' for name in PICTURES)),
    FilePage("p/sop-06-a.html", "Sanitize the loop, A", "<h1>Sanitize the loop</h1>"),
    FilePage("reckon/reckoner-a.html", "System A", "<h1>Reckoners of system A &#38; more</h1>"),
    FilePage("reference/workings.html", "Workings", "<h1>Workings</h1>"),
]  # fmt: skip


def pictures_in(html: str) -> dict[str, str]:
    held = re.search(r'<script type="application/json" id="pictures">(.*?)</script>', html)
    assert held is not None
    found: dict[str, str] = json.loads(held[1])
    return found


def test_the_file_lists_its_pages_and_says_what_is_not_in_it() -> None:
    made = manual_as_one_file(SITE, PAGES, [], [])
    titles = dict(re.findall(r'data-page="([^"]+)" data-title="([^"]+)"', made.text))
    assert titles["p/sop-06-a.html"] == "Sanitize the loop, A"
    assert titles["reckon/reckoner-a.html"] == "Reckoners of system A &amp; more"
    assert "reference/workings.html" not in titles
    contents = made.text[made.text.index('data-page="contents.html"') :]
    assert "<h2>Cleaning</h2>" in contents
    assert '<a href="p/sop-06-a.html">' in contents
    assert "Workings</a>" not in contents
    assert "Not in it: workings, checks, house facts, sheets to print" in contents
    assert re.search(r"as it was for 2026-03-10, code <code>[0-9a-f]{4} [0-9a-f]{4}</code>", contents)
    assert made.without == ()
    assert set(pictures_in(made.text)) == set(PICTURES)


def test_pictures_without_room_are_scaled_then_left_out_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    bare = len(manual_as_one_file(replace(SITE, pictures={}), PAGES[1:], [], []).text)
    small = max(len(small_copy(data)) for data in PICTURES.values())
    most = bare + 1000 + 2 * (4 * small // 3 + 100)  # a page with three pictures, and room for two of them
    monkeypatch.setattr(module, "MOST_BYTES", most)
    made = manual_as_one_file(SITE, PAGES, [], [])
    kept = pictures_in(made.text)
    assert len(kept) == 2
    assert [*kept, *made.without] == list(PICTURES)
    assert all(len(data) <= 4 * small / 3 + 40 for data in kept.values())
    assert len(made.text) <= most
    assert "<strong>1 picture left out:</strong> there was no room." in made.text


def test_what_a_helper_needs_is_in_the_file() -> None:
    """Issue 21: procedures, emergencies, today, findings, things, reckoners."""
    addresses = {address.removesuffix(".md") + ".html" for address in manual_of("fourth").pages}
    carried = {address for address in addresses if is_carried(address)}
    assert {"index.html", "today.html", "reference/findings.html", "reference/inventory.html"} <= carried
    assert {
        one for one in addresses if one.startswith(("p/", "reckon/", "training/m", "training/check-"))
    } <= carried
    assert not any(one.startswith(("issues/", "training/trainer-")) for one in carried)
    assert "reference/workings.html" in addresses - carried
