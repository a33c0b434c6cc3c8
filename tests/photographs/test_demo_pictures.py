"""The pictures of the demo house: what lies there is what the script draws, and each has its words and its source."""

from __future__ import annotations

from PIL import Image

from macros.house import load_house
from macros.published.pages.findings import findings
from tests.making import ROOT
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
