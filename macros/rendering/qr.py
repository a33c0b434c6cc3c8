"""The QR code of an address, as SVG sized by CSS."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

import segno
from markupsafe import Markup


@lru_cache(maxsize=4096)
def qr_svg(address: str) -> Markup:
    """Black on white, error level M, no border: the sheet's layout keeps the quiet zone of four modules."""
    # Any mask is read; weighing all eight costs more than the rest of a sheet. The browser tests read codes back.
    code = segno.make(address, error="m", micro=False, mask=2)
    side = len(code.matrix)
    return Markup(
        f'<svg viewBox="0 0 {side} {side}" class="segno"><title>Address of the live page</title>'
        f'<path fill="#fff" d="M0 0h{side}v{side}h-{side}z"/>'
        f'<path class="qrline" stroke="#000" d="{_dark_runs(code.matrix)}"/></svg>'
    )


_DARK = re.compile(b"\x01+")


def _dark_runs(matrix: Sequence[bytearray]) -> str:
    """The dark modules as strokes along the middle of each row, from where the last one ended.

    The library's own drawing goes through single modules and takes four times as long; a test compares the two.
    """
    strokes: list[str] = []
    x = y = 0
    for row, modules in enumerate(matrix):
        for run in _DARK.finditer(modules):
            start, end = run.span()
            strokes.append(
                f"m{start - x} {row - y}h{end - start}" if strokes else f"M{start} 0.5h{end - start}"
            )
            x, y = end, row
    return "".join(strokes)


def modules_across(address: str) -> int:
    """Modules on one side, without the quiet zone."""
    return int(segno.make(address, error="m", micro=False).symbol_size(border=0)[0])
