"""Sources named on pages, kept once in `published/sources.yml`."""

from __future__ import annotations

from collections.abc import Sequence

from macros.house import House
from macros.published.pages.sources import sources


def reference_texts(keys: Sequence[str], house: House) -> tuple[str, ...]:
    """The texts of known sources, each with the way it was obtained; those of the house say that they are its own."""
    known = {key: one.reference for key, one in sources().items()}
    known |= {key: f"{text} (obtained: this house's own)" for key, text in house.own_sources.items()}
    return tuple(known[key] for key in keys)
