"""One photograph, from anybody's file to a picture that holds pixels and nothing else. The only module that imports PIL.

A camera writes place, time and its own number into a file; a stranger may write a program, or a picture of a few bytes
that unfolds to gigabytes. So the file is decoded by kinds we name, within bounds, and what is kept is written anew.
"""

from __future__ import annotations

import io
import warnings

from PIL import Image, ImageOps, UnidentifiedImageError

from macros.photographs.webp import (
    PAPER_QUALITY,
    PAPER_SIDE,
    SCREEN_BYTES,
    SCREEN_SIDE,
    SCREEN_TRIES,
    SMALL_QUALITY,
    SMALL_SIDE,
    Copies,
    NoPhotograph,
)

MOST_SIDE = 10_000
MOST_PIXELS = 64_000_000
"""Bounds on a file: over what the camera of a telephone writes, and below what fills the memory of a small machine."""

_KINDS = ("JPEG", "PNG", "WEBP")
_READ = "A photograph is a JPEG, PNG or WebP file that a camera or a drawing program wrote"


def cleaned(data: bytes) -> Copies:
    """The photograph turned as it was shot, scaled, without any word of camera, time or position.

    Raises
    ------
    NoPhotograph
        the file is no still picture of a known kind, is damaged, or is larger than the bounds.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # bounds of our own are told in our own words
            with Image.open(io.BytesIO(data), formats=_KINDS) as image:
                _bounded(image)
                # The decoder of JPEG scales by itself: a quarter of the time for a photograph of 12 million pixels.
                image.draft("RGB", (2 * SCREEN_SIDE, 2 * SCREEN_SIDE))
                upright = ImageOps.exif_transpose(image)
                flat = _on_white(upright)
    except UnidentifiedImageError as error:
        raise _unknown(data) from error
    except Image.DecompressionBombError as error:
        raise _too_large("the picture has far more pixels than a photograph") from error
    except NoPhotograph:
        raise
    except Exception as error:  # a decoder of damaged files raises whatever its library happens to raise
        raise NoPhotograph(
            "the picture is damaged or cut off", _READ, "Copy it from the camera again"
        ) from error
    screen, (width, height) = _for_screen(flat)
    return Copies(
        screen=screen,
        paper=_webp(_scaled(flat, PAPER_SIDE).convert("L"), PAPER_QUALITY),
        width=width,
        height=height,
    )


def small_copy(data: bytes) -> bytes:
    """A smaller copy of one of our own pictures, for a file that must stay small."""
    with Image.open(io.BytesIO(data), formats=_KINDS) as image:
        return _webp(_scaled(image.convert("RGB"), SMALL_SIDE), SMALL_QUALITY)


def _bounded(image: Image.Image) -> None:
    width, height = image.size
    if max(width, height) > MOST_SIDE or width * height > MOST_PIXELS:
        raise _too_large(f"the picture is {width} x {height} pixels")
    if getattr(image, "n_frames", 1) > 1:
        raise NoPhotograph("the picture moves", "A page holds still pictures", "Save one frame as a JPEG")


def _too_large(what: str) -> NoPhotograph:
    allowed = f"At most {MOST_SIDE} pixels a side and {MOST_PIXELS // 1_000_000} million in all"
    return NoPhotograph(what, allowed, "Scale it down; 2000 pixels a side are plenty")


def _on_white(image: Image.Image) -> Image.Image:
    """Plain red, green and blue; what a drawing left transparent is white, as paper is."""
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        see_through = image.convert("RGBA")
        white = Image.new("RGBA", see_through.size, "white")
        return Image.alpha_composite(white, see_through).convert("RGB")
    return image.convert("RGB")


def _for_screen(image: Image.Image) -> tuple[bytes, tuple[int, int]]:
    """The copy for the screen and its size: the first try within the bytes, else the last, which is the smallest."""
    data, size = b"", image.size
    for side, quality in SCREEN_TRIES:
        copy = _scaled(image, side)
        data, size = _webp(copy, quality), copy.size
        if len(data) <= SCREEN_BYTES:
            break
    return data, size


def _scaled(image: Image.Image, side: int) -> Image.Image:
    """A copy whose longer side is at most `side` pixels; a smaller picture stays as it is."""
    copy = image.copy()
    copy.thumbnail((side, side), Image.Resampling.LANCZOS)
    copy.info.clear()  # whatever the file said beside its pixels
    return copy


def _webp(image: Image.Image, quality: int) -> bytes:
    out = io.BytesIO()
    image.convert("RGB").save(out, "WEBP", quality=quality, method=4)
    return out.getvalue()


def _unknown(data: bytes) -> NoPhotograph:
    """Words for a file that is no picture we read; the kinds people have by mistake are named."""
    head = data[:400].lstrip().lower()
    if data[4:12] in (b"ftypheic", b"ftypheix", b"ftypmif1", b"ftypheim", b"ftyphevc"):
        return NoPhotograph(
            "this is a HEIC picture, as some telephones save them",
            _READ,
            "Save or export it as a JPEG; the camera's setting may be called most compatible",
        )
    if head.startswith((b"<svg", b"<?xml", b"<!doctype", b"<html")):
        return NoPhotograph(
            "this is a page or a drawing in text, not a photograph", _READ, "Export it as a PNG"
        )
    if head.startswith(b"gif8"):
        return NoPhotograph("this is a GIF", _READ, "Save it as a PNG")
    return NoPhotograph(
        "this is no picture, or its beginning is damaged", _READ, "Copy it from the camera again"
    )
