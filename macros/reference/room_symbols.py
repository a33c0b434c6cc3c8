"""The page that explains the drawings of the room: each thing in each state, cut out of such a drawing, with its words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from markupsafe import Markup

from macros.html.environment import render
from macros.html.room_drawing import TIERS_MOST, room_drawing, symbol
from macros.page_model.room_view import RackSizes, RoomView
from macros.published.labour.effects import effects

TITLE = "How to read the drawings"

_IN_USE = RoomView(
    title="A rack in use",
    said="A drawing of a rack in use, from the top: lamps, plants on trays, the tank with feed, its air stones and its pump; "
    "at the right timer, breaker, plugs and drain valve.",
    rack=RackSizes(trays=2, tray_width=1.0, tank_width=0.8, tank_height=0.4),
    level=0.6,
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
"""Sizes of no house: the page is the same in every manual."""

_EMPTY = replace(_IN_USE, lamps=None, crop=False)

_STATES: dict[str, tuple[tuple[str, str, RoomView], ...]] = {
    "pump": (("pump", "in", _IN_USE), ("pump", "out", replace(_IN_USE, pump=False))),
    "air": (("air", "in", _IN_USE), ("air", "out", replace(_IN_USE, air=False))),
    "lamps": (("lamps", "in", _IN_USE), ("lamps", "out", replace(_IN_USE, lamps=False))),
    "timer": (("timer", "auto", _IN_USE), ("timer", "off", replace(_IN_USE, timer="off"))),
    "breaker": (("breaker", "on", _IN_USE), ("breaker", "off", replace(_IN_USE, power=False))),
    "valve": (("valve", "shut", _IN_USE), ("valve", "open", replace(_IN_USE, valve="open"))),
    "tank": (
        ("lid", "shut", _IN_USE),
        ("lid", "ajar", replace(_IN_USE, lid="ajar")),
        ("lid", "open", replace(_IN_USE, lid="open")),
        ("stones", "in", replace(_IN_USE, air=False)),
        ("stones", "out", replace(_IN_USE, stones=False)),
        ("water", "none", replace(_IN_USE, water="none", level=0.0)),
        ("water", "plain", replace(_IN_USE, water="plain")),
        ("water", "feed", _IN_USE),
        ("water", "sanitizer", replace(_IN_USE, water="sanitizer")),
    ),
    "tier": (
        ("trays", "drained", _EMPTY),
        ("trays", "up", replace(_EMPTY, up=True)),
        ("crop", "in", replace(_EMPTY, crop=True)),
    ),
}
"""Part of the drawing -> (word of the room, its value, the moment it is cut out of)."""

_TOLD: tuple[tuple[str, str, RoomView], ...] = (
    ("Bubbles: air runs into the water.", "tank", _IN_USE),
    ("The lamps are lit.", "tier", replace(_IN_USE, crop=False)),
    ("The lamps are dark: unplugged, or the breaker is off.", "tier", replace(_IN_USE, lamps=False, crop=False)),
    ("The arrow and the broken line are the fill mark; the thick line is the water.", "tank", _IN_USE),
)  # fmt: skip
_NOTES = (
    "Widths, the tank and its level are drawn to scale. The tiers stand closer than they do in the room.",
    f"Of a rack with more than {TIERS_MOST} trays {TIERS_MOST} are drawn, and three dots: the others look the same.",
    "A thing that a system does not have is not drawn.",
    "The drawing shows what the steps leave. Where the room looks otherwise, do not go on: find out why.",
)


@dataclass(frozen=True)
class Shown:
    """A symbol and its words."""

    drawing: Markup
    words: str


def room_symbols_text() -> str:
    """The page as Markdown."""
    whole = room_drawing(_IN_USE, "symbol-0")
    return render("room_symbols.md.j2", title=TITLE, whole=whole, shown=list(symbols()), notes=_NOTES)


def symbols() -> Iterator[Shown]:
    """Every symbol in each of its states, in the words of the pages."""
    told = [(_words(word, value), part, view) for part, rows in _STATES.items() for word, value, view in rows]
    for number, (words, part, view) in enumerate([*told, *_TOLD], 1):
        yield Shown(symbol(replace(view, title=words, said=words), f"symbol-{number}", part), words)


def _words(word: str, value: str) -> str:
    phrases = effects().words[word]
    text = phrases["say"].replace("{}", phrases[value])
    return text if text.endswith(".") else f"{text}."
