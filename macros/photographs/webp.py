"""What a cleaned photograph is: its copies, their sizes, and how a kept copy is known again without a decoder."""

from __future__ import annotations

from dataclasses import dataclass

MOST_BYTES = 40_000_000
"""Bytes of a file that are read: over what the camera of a telephone writes."""

SCREEN_SIDE, SCREEN_QUALITY = 800, 68
"""Longer side in pixels on a page: two for each point of a phone 390 points wide."""

SCREEN_BYTES = 40_000
SCREEN_TRIES = ((SCREEN_SIDE, SCREEN_QUALITY), (SCREEN_SIDE, 50), (560, 50), (400, 50), (280, 40))
"""Bytes of a copy for the screen, and the side and quality that are tried in turn: a page of eleven is under 600 kB."""

PAPER_SIDE, PAPER_QUALITY = 630, 80
"""Longer side in pixels on paper, grey: 80 mm at 200 dots an inch."""

SMALL_SIDE, SMALL_QUALITY = 400, 55
"""Longer side in pixels in a manual of one file that has no room for more: one for each point of a phone."""

RECIPE = f"s{SCREEN_SIDE}q{SCREEN_QUALITY}b{SCREEN_BYTES // 1000}-p{PAPER_SIDE}q{PAPER_QUALITY}"
"""Part of the name of a kept copy: a change of the sizes above makes every copy anew."""


@dataclass(frozen=True)
class Copies:
    """The scaled copies of one photograph as WebP, and the size of the one for the screen in pixels."""

    screen: bytes
    paper: bytes
    width: int
    height: int


class NoPhotograph(Exception):  # noqa: N818 - carries the words of a refusal
    """A file that is not used: what was found, what is allowed, what to do."""

    def __init__(self, what: str, allowed: str, remedy: str) -> None:
        super().__init__(what)
        self.words = (what, allowed, remedy)


def plain_webp(data: bytes) -> tuple[int, int] | None:
    """Width and height of a copy as `cleaned` writes it: one frame of pixels and no other part. None for anything else.

    A kept copy lies in a house's folder, where anybody may have put another file in its place.
    """
    size = int.from_bytes(data[4:8], "little")
    part = int.from_bytes(data[16:20], "little")
    whole = data[:4] == b"RIFF" and data[8:16] == b"WEBPVP8 " and len(data) == size + 8
    if not whole or not 0 <= size - (12 + part) <= 1 or data[23:26] != b"\x9d\x01\x2a":
        return None
    width, height = (int.from_bytes(data[at : at + 2], "little") & 0x3FFF for at in (26, 28))
    return (width, height) if 0 < max(width, height) <= max(SCREEN_SIDE, PAPER_SIDE) else None
