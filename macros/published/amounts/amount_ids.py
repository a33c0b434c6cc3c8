"""The ids an amount may have: whoever asks for an amount, on a page or elsewhere, names one of these."""

from __future__ import annotations

from functools import cache

from macros.published.names import declared


@cache
def known_amount_ids() -> frozenset[str]:
    """Every id of an amount the program can work out, as `checked_by.yml` lists them; a house need not have all."""
    return frozenset(declared("checked_by"))
