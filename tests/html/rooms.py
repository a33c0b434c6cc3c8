"""Moments of racks made for a test, in round numbers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from macros.page_model.room_view import RackSizes, RoomView

RACKS = (
    RackSizes(1, 0.8, 0.5, 0.4),
    RackSizes(3, 1.0, 0.8, 0.42),
    RackSizes(2, 0.5, 0.8, 0.3),
    RackSizes(9, 1.2, 0.6, 1.5),
)
IN_USE = RoomView(
    title="After step 5",
    said="the pump is plugged in",
    rack=RACKS[1],
    level=0.5,
    fill_mark=0.8,
    water="feed",
    up=False,
    pump=True,
    air=True,
    lamps=True,
    power=True,
    timer="auto",
    valve="shut",
    lid="shut",
    stones=True,
    crop=True,
)

WORDS: dict[str, tuple[Any, ...]] = {
    "water": ("none", "plain", "feed", "sanitizer"),
    "up": (True, False),
    "pump": (True, False),
    "air": (True, False, None),
    "lamps": (True, False, None),
    "power": (True, False),
    "timer": ("off", "auto", ""),
    "valve": ("open", "shut", ""),
    "lid": ("shut", "open", "ajar"),
    "stones": (True, False),
    "crop": (True, False),
    "level": (0.05, 0.5, 0.8, 1.0),
    "fill_mark": (0.6, 0.8),
}
"""Every word of a moment with all it can be."""


def moments() -> Iterator[RoomView]:
    """Each rack in use, drained bare with all out, and each with one word changed."""
    bare = {"up": True, "pump": False, "air": False, "lamps": False, "power": False, "timer": "off", "valve": "open", "lid": "open",
            "stones": False, "crop": False, "water": "sanitizer"}  # fmt: skip
    for rack in RACKS:
        for base in (replace(IN_USE, rack=rack), replace(IN_USE, rack=rack, **bare)):
            yield base
            for word, values in WORDS.items():
                yield from (
                    replace(base, **{word: value}) for value in values if value != getattr(base, word)
                )
