"""The menu of the site: every page that a room names for it, under its head."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any

from markupsafe import escape

from macros.html.site_text import SiteText
from macros.manual.procedures.file_format import SECTIONS

HEADS = ("Start", "Today", "Readings on this phone", *SECTIONS, "Training", "Reckoners", "Reference")
"""The heads in their order; under each the pages stand as their rooms give them."""

MOST = 6
"""Pages of one thing that stand in a row. More form a group, which the theme leaves closed on all other pages: with all
of them open on every page the site would grow with the square of the systems. Our own figure."""


def menu_of(texts: Iterable[SiteText]) -> list[dict[str, Any]]:
    """The menu as the generator takes it: a page is its title and address, a head its name and what is under it."""
    named = sorted((one for one in texts if one.menu), key=lambda one: HEADS.index(one.menu[0]))
    return _level(named, 0)


def _level(texts: Sequence[SiteText], depth: int) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for head, inside in groupby(texts, key=lambda one: one.menu[depth] if one.menu[depth + 1 :] else ""):
        if head:
            found.append({str(escape(head)): _level(list(inside), depth + 1)})
            continue
        for alike, same in groupby(inside, key=lambda one: one.alike):
            entries = [{str(escape(one.menu[depth])): one.address} for one in same]
            found += in_a_row_or_group(str(escape(alike)), entries) if alike else entries
    return found


def in_a_row_or_group(title: str, entries: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """The entries of one thing, or one entry `title` that holds them where they are more than `MOST`."""
    return list(entries) if len(entries) <= MOST else [{title: list(entries)}]
