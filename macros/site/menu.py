"""The menu of the site where one thing has many pages, one for each system."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

MOST = 6
"""Pages of one thing that stand in a row. More form a group, which the theme leaves closed on all other pages: with all
of them open on every page the site would grow with the square of the systems. Our own figure."""


def in_a_row_or_group(title: str, entries: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """The entries of one thing, or one entry `title` that holds them where they are more than `MOST`."""
    return list(entries) if len(entries) <= MOST else [{title: list(entries)}]
