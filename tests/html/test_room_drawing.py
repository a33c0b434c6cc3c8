"""The drawing of a room: each word alone changes it, shape tells without colour, nothing a page may not carry."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest

from macros.html.room_drawing import PARTS, TIERS_MOST, frame, room_drawing, symbol, water_height
from macros.page_model.room_view import RoomView
from tests.html.rooms import IN_USE, RACKS, WORDS, moments

SMALLEST, LARGEST = 1_400, 9_000
"""Characters of one drawing: a page carries up to ten."""
HOSTILE = '<script>alert("x")</script>{{ 7*7 }}'


def without_colour(text: str) -> str:
    """The drawing as grey paper shows it: which classes there are stays, what they are filled with is not looked at."""
    return re.sub(r"\b(?:rlit|roff)\b", "rlamp", text)


@pytest.mark.parametrize("word", WORDS)
def test_every_word_alone_changes_the_drawing(word: str) -> None:
    for rack in RACKS:
        base = replace(IN_USE, rack=rack, up=True)
        drawn = [without_colour(room_drawing(replace(base, **{word: value}), "r")) for value in WORDS[word]]
        assert len(set(drawn)) == len(WORDS[word]), f"{word} on {rack}"


@pytest.mark.parametrize("thing", ["pump", "air", "lamps"])
def test_a_plug_is_in_its_socket_or_hangs(thing: str) -> None:
    def hanging(is_in: bool | None) -> int:
        return room_drawing(replace(IN_USE, **{thing: is_in}), "r").count('class="rpl"')

    assert [hanging(is_in) for is_in in WORDS[thing]] == [is_in is False for is_in in WORDS[thing]]


def test_bubbles_rise_only_from_stones_that_lie_in_water_with_the_current_on() -> None:
    def bubbles(view: RoomView) -> int:
        return room_drawing(view, "r").count('class="rb"')

    beside_the_plug = bubbles(replace(IN_USE, air=False))
    assert bubbles(IN_USE) == 2 * beside_the_plug
    for other in ({"stones": False}, {"power": False}, {"water": "none", "level": 0.0}):
        assert bubbles(replace(IN_USE, **other)) == beside_the_plug, other


def test_lamps_are_dark_without_current_though_plugged_in() -> None:
    assert 'class="roff"' not in room_drawing(IN_USE, "r")
    dark = room_drawing(replace(IN_USE, power=False), "r")
    assert dark.count('class="roff"') == IN_USE.rack.trays


def test_what_a_system_lacks_is_not_drawn() -> None:
    bare = room_drawing(replace(IN_USE, air=None, lamps=None, timer="", valve="", crop=False), "r")
    for name in ("rst", "rb", "rlit", "roff", "rv", "rvs", "rg"):
        assert f'class="{name}"' not in bare, name


def test_tank_trays_and_level_are_to_scale() -> None:
    for rack in RACKS:
        at = frame(rack)
        assert at.tray_width / at.tank_width == pytest.approx(rack.tray_width / rack.tank_width, rel=0.02)
        assert len(at.tiers) == min(rack.trays, TIERS_MOST)
        assert at.tiers[-1] + 38 < at.tank_top < at.floor
    assert [water_height(replace(IN_USE, level=share), 100) for share in (0.25, 0.5, 1.0)] == [25, 50, 100]


def test_the_water_ends_at_the_brim_and_a_little_shows() -> None:
    assert water_height(replace(IN_USE, level=1.4), 100) == 100
    assert water_height(replace(IN_USE, level=0.001), 100) > 0
    assert water_height(replace(IN_USE, level=0.0, water="none"), 100) == 0


def test_a_rack_of_many_trays_says_that_there_are_more() -> None:
    assert 'class="rdot"' in room_drawing(replace(IN_USE, rack=RACKS[3]), "r")
    assert 'class="rdot"' not in room_drawing(IN_USE, "r")


def test_a_drawing_is_small_and_carries_nothing_a_page_may_not() -> None:
    sizes: Counter[bool] = Counter()
    for view in moments():
        text = room_drawing(view, "sop-99-z-look-12")
        sizes[SMALLEST <= len(text) <= LARGEST] += 1
        assert "\n" not in text
        assert not re.search(r"<(script|style|image|use|foreignObject|text)\b|\s(style|on\w+|href)=", text)
        assert not re.search(r"#[0-9a-fA-F]{3,6}\b", re.sub(r"url\(#[^)]*\)", "", text)), (
            "a colour of its own"
        )
        ids = re.findall(r'\sid="([^"]+)"', text)
        assert len(ids) == len(set(ids)) == 3
        assert all(one.startswith("sop-99-z-look-12-") for one in ids)
    assert sizes[True] > 150
    assert not sizes[False]


def test_who_cannot_see_it_is_told() -> None:
    text = room_drawing(IN_USE, "r")
    assert 'role="img" aria-labelledby="r-t r-d"' in text
    assert '<title id="r-t">After step 5</title><desc id="r-d">the pump is plugged in</desc>' in text


def test_hostile_words_are_text() -> None:
    text = room_drawing(replace(IN_USE, title=HOSTILE, said=HOSTILE), "r")
    assert "<script" not in text
    assert text.count("&lt;script&gt;") == 3


@pytest.mark.parametrize("part", PARTS)
def test_a_symbol_is_cut_out_of_the_drawing_itself(part: str) -> None:
    whole, cut = room_drawing(IN_USE, "r"), symbol(IN_USE, "r", part)
    box = re.compile(r'viewBox="(-?\d+) (-?\d+) (\d+) (\d+)" width="\d+"')
    inside, around = (box.search(text) for text in (cut, whole))
    assert inside
    assert around
    left, top, width, height = map(int, inside.groups())
    assert 0 <= left < left + width <= int(around[3])
    assert top + height <= int(around[4]) + 10
    assert box.sub("", cut).split("</svg>")[0] == box.sub("", whole).split("</svg>")[0]
