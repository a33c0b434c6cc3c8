"""Sources named on pages, kept once in `published/sources.yml`."""

from __future__ import annotations

from collections.abc import Sequence

from macros.published import load


def reference_texts(keys: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """(texts of the known keys, keys that are not known)."""
    sources = load("sources")
    known = tuple(
        f"{sources[key]['text']} (obtained: {sources[key]['obtained']})" for key in keys if key in sources
    )
    return known, tuple(key for key in keys if key not in sources)
