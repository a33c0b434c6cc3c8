"""The search index of the site: small, weighed by what a page is for, and loaded only when somebody searches."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from material.plugins.search.plugin import SearchIndex

from macros.html.search_sections import search_sections

WHOLE = "search/whole_index.js"
"""Where the whole index lies: a script, for a page opened from disk may read no other file."""

FIELDS = {"title": {"boost": 12.0}, "text": {"boost": 1.0}, "tags": {"boost": 12.0}}
"""What a word counts in a title, in a text, and among the words a page is also searched by. Our own figures."""

WEIGHTS = (
    ("p/", 4.0),
    ("today", 3.0),
    ("reckon/", 2.0),
    ("reference/hurt", 4.0),
    ("reference/findings", 1.5),
    ("reference/glossary", 1.5),
    ("training/trainer", 0.1),
    ("training/", 0.4),
)
OF_A_HEAD, OF_A_SECTION = 2.0, 0.5
"""Whoever searches means to do something: first the pages one works by, last the trainer's. What any other
page is about counts more than what it says besides. Our own figures."""

TITLES_ONLY = ("reference/workings", "training/coverage", "reference/photographs", "reference/requirements")
"""Pages whose text repeats what other pages say, or is numbers: found by their heads alone."""


_HEAD = re.compile(r"<(h[1-6])\b[\s\S]*?</\1>")


class ManualSearchIndex(SearchIndex):  # type: ignore[misc]  # the theme is not typed
    """The theme's index, which takes our own pages apart in a third of the time."""

    entries: list[dict[str, Any]]
    whole = ""
    """The finished index as a script."""

    def add_entry_from_context(self, page: Any) -> None:
        """The sections of one page, each weighed; the words it is also searched by belong to its head alone."""
        first = len(self.entries)
        sections = search_sections(_searched(page.content or "", page.url))
        if sections is None or page.meta.get("search"):
            super().add_entry_from_context(page)
        else:
            for section in sections:
                self.create_entry_for_section(section, page.toc, page.url, page)
        for place, entry in enumerate(self.entries[first:]):
            _weigh(entry, page.url, head=place == 0)

    def generate_search_index(self, prev: SearchIndex | None) -> str:
        """What the theme loads on every page: the settings, and no text."""
        entries, self.entries = self.entries, []  # written once, below
        data = json.loads(super().generate_search_index(prev))
        self.entries = entries
        data["config"]["fields"] = FIELDS
        whole = {**data, "docs": entries}
        written = json.dumps(whole, ensure_ascii=False, separators=(",", ":"), default=str)
        self.whole = f"window.wholeIndex={written}\n"
        return json.dumps(data, separators=(",", ":"))

    def write_whole(self, site: Path) -> None:
        """Write the index that is loaded at the first touch of the search."""
        if self.whole:
            (site / WHOLE).write_text(self.whole, encoding="utf-8")


def _searched(html: str, address: str) -> str:
    """What of a page is looked for: all of it, or its heads alone."""
    if not address.startswith(TITLES_ONLY):
        return html
    return "".join(found[0] for found in _HEAD.finditer(html))


def _weigh(entry: dict[str, Any], address: str, *, head: bool) -> None:
    other = OF_A_HEAD if head else OF_A_SECTION
    entry["boost"] = next((weight for start, weight in WEIGHTS if address.startswith(start)), other)
    if not head:
        entry.pop("tags", None)
    if address.startswith(TITLES_ONLY):
        entry["text"] = ""
