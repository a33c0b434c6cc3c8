"""The QR code of an address, as SVG sized by CSS."""

from __future__ import annotations

from functools import lru_cache

import segno
from markupsafe import Markup


@lru_cache(maxsize=4096)
def qr_svg(address: str) -> Markup:
    """Black on white, error level M, no border: the sheet's layout keeps the quiet zone of four modules."""
    # Any mask is read; weighing all eight costs more than the rest of a sheet. The browser tests read codes back.
    code = segno.make(address, error="m", micro=False, mask=2)
    title = "Address of the live page"
    return Markup(code.svg_inline(border=0, omitsize=True, dark="#000", light="#fff", title=title))


def modules_across(address: str) -> int:
    """Modules on one side, without the quiet zone."""
    return int(segno.make(address, error="m", micro=False).symbol_size(border=0)[0])
