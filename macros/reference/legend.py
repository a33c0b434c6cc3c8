"""The page that says how the drawings of the room are read: each thing in each of its states, with its words."""

from __future__ import annotations

from dataclasses import replace

from macros.html.environment import render
from macros.html.room_drawing import room_drawing
from macros.page_model.room_view import RoomView

_PLAIN = RoomView(
    title="",
    said="",
    trays=2,
    level=0.6,
    fill_mark=0.8,
    water="plain",
    up=False,
    pump=False,
    air=False,
    lamps=False,
    timer="off",
    valve="shut",
    lid="shut",
    stones=True,
    crop=False,
)
STATES: tuple[tuple[str, dict[str, object]], ...] = (
    ("Everything out: three plugs hang beside their sockets (pump, air pump, lamps), the timer is off, the drain is shut by a lever across its pipe, the lid lies on. Plain water stands under the fill mark, told by the black arrow.", {}),
    ("The pump is plugged in: its socket is full and a lead leaves it.", {"pump": True}),
    ("The air pump is plugged in: bubbles rise from the stones.", {"air": True}),
    ("The lamps are plugged in: rays under each.", {"lamps": True}),
    ("The timer is on AUTO: its clock has hands.", {"timer": "auto"}),
    ("The drain is open: its lever lies along the pipe, an arrow leads out.", {"valve": "open"}),
    ("The lid is off: it leans on the tank.", {"lid": "open"}),
    ("The lid is ajar.", {"lid": "ajar"}),
    ("The air stones lie under the tank: they are out.", {"stones": False}),
    ("Water stands on the trays.", {"up": True, "level": 0.3}),
    ("Plants stand on the trays.", {"crop": True}),
    ("The tank holds feed: dots.", {"water": "feed"}),
    ("The tank holds sanitizer: slanting lines.", {"water": "sanitizer"}),
    ("The tank is empty.", {"water": "none", "level": 0.0}),
)  # fmt: skip
"""Each state beside the one above it from which it differs."""


def legend_text() -> str:
    """The page as Markdown with finished blocks."""
    drawn = []
    for number, (words, changed) in enumerate(STATES):
        view = replace(_PLAIN, title=words, said=words, **changed)  # type: ignore[arg-type]
        drawn.append(room_drawing(view, f"legend-{number}"))
    return render("legend.md.j2", drawn=drawn)
