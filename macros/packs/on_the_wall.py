"""Bench sheets that need not be carried: a copy of them hangs, in the revision the page has."""

from __future__ import annotations

from macros.control.documents.wall_copies import copies_of
from macros.packs.pack import PackContext
from macros.page_model.page import PageView


def hangs_at(pack: PackContext, page: PageView) -> str:
    """Where a bench sheet hangs that says what the page says; empty where it has to be printed.

    A draft says something else than any copy on a wall, and nobody hangs sheets in large print.
    """
    if pack.asked.large or page.control.draft_reasons or not page.sheet_address:
        return ""
    copies = copies_of(pack.house, page.key)
    return ", ".join(copy.where for copy in copies if str(copy.printed) == page.control.revision)


def on_the_wall(pack: PackContext) -> dict[str, str]:
    """Key of each page of the day that is left out of the pack -> where its sheet hangs."""
    return {page.key: where for page in pack.day_pages if (where := hangs_at(pack, page))}
