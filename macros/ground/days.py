"""Days as people write them, and the first and last the manual knows."""

from __future__ import annotations

import re
from datetime import date

from macros.ground.units import QuantityMistake

FIRST_DAY, LAST_DAY = date(1970, 1, 1), date(2199, 12, 31)
"""Days outside these are slips, and days reckoned from them may lie past what a calendar holds."""
KNOWN_DAYS = f"From {FIRST_DAY} to {LAST_DAY}"


def read_day(text: str) -> date:
    """The day of a text as 2026-04-14.

    Raises
    ------
    QuantityMistake
        it is no date, or none between `FIRST_DAY` and `LAST_DAY`.
    """
    try:
        if re.fullmatch(r"\d{4}-\d\d-\d\d", text) is None:
            raise ValueError
        day = date.fromisoformat(text)
    except ValueError as error:
        raise QuantityMistake(
            f'"{text}" is not a date', "Year, month, day: 2026-04-14", "Write it so"
        ) from error
    if not FIRST_DAY <= day <= LAST_DAY:
        raise QuantityMistake(f'"{text}" is no day of this work', KNOWN_DAYS, "Look at the year")
    return day
