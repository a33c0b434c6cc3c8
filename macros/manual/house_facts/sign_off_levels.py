"""The sign-off levels of the house, 0 to 4, in words."""

from __future__ import annotations

LEVELS = ("0 visitor", "1 beginner", "2 helper", "3 lead", "4 trainer")


def who_line(level: int) -> str:
    """Who may do a page of this least level."""
    if level == 0:
        return "Anybody."
    return f"May do this alone: level {LEVELS[level]}, or higher. Below it: only beside one who may."
