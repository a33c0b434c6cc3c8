"""When a self-check is done again after a sign-off."""

from __future__ import annotations

from macros.published import load


def repeat_days() -> tuple[int, ...]:
    """Days after a sign-off on which the self-check is done again, as `sign_off.yml` has them."""
    return tuple(int(days) for days in load("sign_off")["recall_days"])
