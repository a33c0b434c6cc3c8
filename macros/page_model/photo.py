"""What a page shows of a photograph: the owner's words, where its copies lie, and what points into it."""

from __future__ import annotations

from dataclasses import dataclass

Shape = tuple[float, ...]


@dataclass(frozen=True)
class PhotoView:
    """One photograph. `name` is its file, `code` that of its content.

    `address` is its copy for the screen from the root of the site, `paper` the grey copy as a `data:` address, for a sheet
    needs no other file. `arrows` (from x, y to x, y) and `circles` (x, y, radius) are in percent of width and height, a
    radius of the width.
    """

    name: str
    code: str
    alt: str
    caption: str
    address: str
    paper: str
    width: int
    height: int
    arrows: tuple[Shape, ...] = ()
    circles: tuple[Shape, ...] = ()
