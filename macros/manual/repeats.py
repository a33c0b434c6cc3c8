"""When a self-check is done again after a sign-off."""

from __future__ import annotations

from datetime import date, timedelta

from macros.published import load


def repeat_days() -> tuple[int, ...]:
    """Days after a sign-off on which the self-check is done again, as `sign_off.yml` has them."""
    return tuple(int(days) for days in load("sign_off")["recall_days"])


def repeat_dates(signed: date) -> tuple[date, ...]:
    """The days of the spaced repeats after the day of a sign-off."""
    return tuple(signed + timedelta(days=days) for days in repeat_days())
