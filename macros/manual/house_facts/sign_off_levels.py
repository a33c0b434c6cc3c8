"""The sign-off levels of the house, 0 to 4, in words."""

from __future__ import annotations

LEVELS = ("0 visitor", "1 watches and rinses", "2 works under eyes", "3 works alone", "4 trains others")


def who_line(level: int) -> str:
    """Who may do a page of this least level."""
    if level == 0:
        return "Anybody."
    return f"Sign-off level {LEVELS[level]}, or higher. Below it only beside somebody who has it."
