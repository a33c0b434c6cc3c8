"""The drawing of a QR code against the library's own drawing of the same code."""

from __future__ import annotations

import pytest
import segno

from macros.rendering.qr import qr_svg

TITLE = "Address of the live page"


@pytest.mark.parametrize("length", [1, 20, 40, 60, 90, 140, 200])
def test_drawing_is_that_of_the_library(length: int) -> None:
    address = ("https://manual.example/p/sop-08-a.html?" * 6)[:length]
    code = segno.make(address, error="m", micro=False, mask=2)
    drawn = code.svg_inline(border=0, omitsize=True, dark="#000", light="#fff", title=TITLE)
    assert qr_svg(address) == drawn
