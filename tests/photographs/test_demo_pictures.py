"""The pictures of the demo house: what lies there is what the script draws, and each has its words and its source."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import material
from PIL import Image

from macros.house import load_house
from macros.html.paper import ASSETS
from macros.published.pages.findings import findings
from tests.making import ROOT, made_site
from tests.photographs.draw_demo import FOLDER, drawings

MOST_BYTES = 30_000


def test_the_pictures_are_those_the_script_draws() -> None:
    drawn = dict(drawings())
    lying = {path.relative_to(FOLDER).with_suffix("").as_posix(): path for path in FOLDER.rglob("*.png")}
    assert sorted(drawn) == sorted(lying)
    other = [
        f"{name}: run python -m tests.photographs.draw_demo"
        for name, path in lying.items()
        if Image.open(path).convert("L").tobytes() != drawn[name].tobytes()
    ]
    assert other == []
    assert [name for name, path in lying.items() if path.stat().st_size > MOST_BYTES] == []


def test_every_picture_has_words_and_says_what_it_was_drawn_after() -> None:
    house, _ = load_house(ROOT)
    assert house is not None
    words = {one.file.removesuffix(".png"): one for one in house.photos}
    varieties = [
        f"varieties/{one.id}/{part}" for one in house.varieties for part in ("leaf", "flower", "cut")
    ]
    assert sorted(words) == sorted([*varieties, *(f"findings/{one.id}" for one in findings().findings)])
    assert [name for name, one in words.items() if "Drawn " not in (one.caption or "")] == []


def test_every_page_with_its_pictures_is_under_600_kb_over_the_wire() -> None:
    """Its text and all it can load, compressed as a server does; every script, style and font, loaded by the page or not."""
    theme = Path(material.__file__).parent / "templates" / "assets"
    files = [
        *ASSETS.glob("*.js"),
        *ASSETS.glob("*.css"),
        *theme.glob("javascripts/bundle.*.js"),
        *theme.glob("stylesheets/*.css"),
    ]
    fonts = list((ASSETS / "fonts").glob("*.woff2"))
    assert min(len(files), len(fonts)) > 2
    shared = sum(len(gzip.compress(file.read_bytes())) for file in files) + sum(
        f.stat().st_size for f in fonts
    )
    site = made_site(ROOT)
    weights = {}
    for name, text in site.pages.items():
        pictures = set(re.findall(r'<img src="(?:\.\./)*(photos/[^"]+)"', text))
        if pictures:
            weights[name] = (
                shared + len(gzip.compress(text.encode())) + sum(len(site.pictures[p]) for p in pictures)
            )
    assert {"reference/findings.md", "training/naming.md"} <= weights.keys()
    assert {name: weight for name, weight in weights.items() if weight > 600_000} == {}
