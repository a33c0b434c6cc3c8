"""The one list of amount ids: every amount has a row in `checked_by.yml`."""

from __future__ import annotations

from functools import cache

from macros.published import load


@cache
def known_amount_ids() -> frozenset[str]:
    """Every id an amount may have."""
    return frozenset(load("checked_by"))
