"""Pictures made for the tests: good ones of every kind, and files that are none or hide something."""

from __future__ import annotations

import io
import struct
import zlib

from PIL import Image
from PIL.PngImagePlugin import PngInfo

SECRET = b"52 deg 31' N 13 deg 24' E, body no. 0815"


def picture(width: int = 400, height: int = 300, mode: str = "RGB") -> Image.Image:
    """Upper left quarter black, the rest light: which side is up can be told from it."""
    image = Image.new(mode, (width, height), "white" if mode != "1" else 1)
    image.paste("black" if mode != "1" else 0, (0, 0, width // 2, height // 2))
    return image


def saved(image: Image.Image, kind: str = "JPEG", **more: object) -> bytes:
    """The file of an image."""
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def _camera_data(turned: int) -> Image.Exif:
    exif = Image.Exif()
    exif[0x0112], exif[0x010F], exif[0xA431] = turned, "Maker", SECRET.decode()
    exif[0x8825] = {1: "N", 2: (52.0, 31.0, 0.0), 3: "E", 4: (13.0, 24.0, 0.0)}
    return exif


def with_camera_data(turned: int = 1) -> bytes:
    """A JPEG with position, number of the camera, comment, and the turn of the camera as in the EXIF standard."""
    return saved(picture(), exif=_camera_data(turned), comment=SECRET)


def webp_with_camera_data() -> bytes:
    """The same as a WebP."""
    return saved(picture(), "WEBP", exif=_camera_data(1), xmp=SECRET)


def png_with_text() -> bytes:
    """A PNG with words beside its pixels."""
    words = PngInfo()
    words.add_text("Comment", SECRET.decode())
    return saved(picture(), "PNG", pnginfo=words)


def moving(kind: str) -> bytes:
    """Two frames in one file."""
    return saved(picture(), kind, save_all=True, append_images=[Image.new("RGB", (400, 300), "red")])


def bomb(width: int = 60_000, height: int = 60_000) -> bytes:
    """A PNG whose head promises more pixels than any memory holds; a kilobyte of file."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = [(b"IHDR", head), (b"IDAT", zlib.compress(bytes(10_000))), (b"IEND", b"")]
    body = b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in parts
    )
    return b"\x89PNG\r\n\x1a\n" + body
