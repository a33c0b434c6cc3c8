"""Withdrawn revisions as pages: every line as it was, reached from the history and from records, from no menu."""

from __future__ import annotations

from collections.abc import Iterable

from macros.manual.revisions import WithdrawnView
from macros.rendering.environment import render


def withdrawn_pages(withdrawn: Iterable[WithdrawnView]) -> dict[str, str]:
    """Address -> text of each withdrawn revision."""
    return {one.address.removesuffix(".html") + ".md": render("withdrawn.md.j2", w=one) for one in withdrawn}
