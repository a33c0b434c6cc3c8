"""Sources named on pages, kept once in `published/sources.yml`."""

from __future__ import annotations

from collections.abc import Sequence

from macros.published import load


def reference_texts(keys: Sequence[str]) -> tuple[str, ...]:
    """The texts of known sources, each with the way it was obtained."""
    sources = load("sources")
    return tuple(f"{sources[key]['text']} (obtained: {sources[key]['obtained']})" for key in keys)
