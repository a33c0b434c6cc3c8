"""Sources named on pages, kept once in `published/sources.yml`."""

from __future__ import annotations

from collections.abc import Sequence

from macros.published.pages.sources import sources


def reference_texts(keys: Sequence[str]) -> tuple[str, ...]:
    """The texts of known sources, each with the way it was obtained."""
    known = sources()
    return tuple(known[key].reference for key in keys)
