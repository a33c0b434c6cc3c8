"""The day the manual is for. The program never reads the clock."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime

from macros.ground.days import FIRST_DAY, KNOWN_DAYS, LAST_DAY
from macros.ground.problems import Place, Problem
from macros.house.records.house import House

_REMEDY = "Give --date 2026-03-10, or write house.as_of"


def resolve_day(
    option: str | None, environment: Mapping[str, str], house: House
) -> tuple[date, Place] | Problem:
    """The day, and where it was said: `--date`, else SOURCE_DATE_EPOCH, else `house.as_of`.

    Parameters
    ----------
    option : ISO date of the command line or of mkdocs.yml
    environment : SOURCE_DATE_EPOCH [s since 1970, UTC] is read from it
    """
    if option is not None:
        try:
            return _within(date.fromisoformat(option), Place("--date", 1))
        except ValueError:
            return Problem(
                Place("--date", 1), "date", f'"{option}" is not a date', "Year, month, day", _REMEDY
            )
    epoch = environment.get("SOURCE_DATE_EPOCH")
    if epoch:
        try:
            day = datetime.fromtimestamp(int(epoch), UTC).date()
            return _within(day, Place("SOURCE_DATE_EPOCH", 1))
        except (ValueError, OverflowError, OSError):
            what = f'"{epoch}" is not a number of seconds'
            return Problem(Place("SOURCE_DATE_EPOCH", 1), "date", what, "Seconds since 1970", _REMEDY)
    if house.house.as_of is not None:
        return house.house.as_of, house.house.place("as_of")
    return Problem(
        house.place("house"), "house.as_of", "no day is given", "The manual is built for a day", _REMEDY
    )


def _within(day: date, place: Place) -> tuple[date, Place] | Problem:
    """The day, where the calendar of the manual reaches it."""
    if FIRST_DAY <= day <= LAST_DAY:
        return day, place
    return Problem(place, "date", f"{day} is no day of this work", KNOWN_DAYS, _REMEDY)
