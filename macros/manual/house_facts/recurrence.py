"""Rhythms: "every 7 days" as data, the days they fall on, and their words."""

from __future__ import annotations

import math
import re
from calendar import monthrange
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from macros.calculations.crop.sowing import WEEKDAYS

_DAYS = {"s": 1 / 86400, "min": 1 / 1440, "h": 1 / 24, "hour": 1 / 24, "day": 1.0, "week": 7.0}
_MONTHS = {"month": 1, "year": 12}
_DAYS_OF_A_MONTH = 28
"""A part of a month is counted as if all months were as short as the shortest: too early is the safe side."""
_WORDS = {
    "daily": ("day", 1), "weekly": ("day", 7), "fortnightly": ("day", 14),
    "monthly": ("month", 1), "quarterly": ("month", 3), "yearly": ("month", 12), "annually": ("month", 12),
}  # fmt: skip
_MOST = {"day": 36_500, "month": 1_200}
"""A hundred years: a rhythm is no longer, so that its days stay within the calendar."""
_EVERY = re.compile(r"every (?:(\d{1,7}(?:\.\d{1,7})?) )?(s|min|h|hours?|days?|weeks?|months?|years?)\b")
_ON_WEEKDAY = re.compile(rf"every ({'|'.join(day.lower() for day in WEEKDAYS)})\b")
_WITHIN_A_DAY = re.compile(r"\b(daily|a day|each day|morning|evening|noon|night|shift)\b")


@dataclass(frozen=True)
class Repeat:
    """Comes back every so many days or months.

    `on` tells where in its month a rhythm of months falls: on the date of its first day (the last day of a month
    that has no such date), or on the first weekday of the month that is the weekday of its first day.
    """

    unit: Literal["day", "month"]
    every: int
    on: Literal["date", "first_weekday"] = "date"

    @property
    def daily(self) -> bool:
        """Whether it is every day."""
        return self.unit == "day" and self.every == 1

    @property
    def weekly(self) -> bool:
        """Whether it is every week, on one weekday."""
        return self.unit == "day" and self.every == 7

    def days(self, start: date, last: date) -> Iterator[date]:
        """Every day of the rhythm from its first, `start`, to `last`, both included."""
        day, count = start, 0
        while day <= last:
            yield day
            count += 1
            day = self.nth(start, count)

    def nth(self, start: date, count: int) -> date:
        """The day `count` rounds after `start`."""
        if self.unit == "day":
            return start + timedelta(days=count * self.every)
        if self.on == "date":
            return months_later(start, count * self.every)
        return first_weekday(months_later(start.replace(day=1), count * self.every), start.weekday())


@dataclass(frozen=True)
class Rhythm:
    """A rhythm: `weekday` is the day a text names, 0 for Monday; `known` is false where it names no count."""

    repeat: Repeat
    weekday: int | None = None
    known: bool = True


def parse_rhythm(text: str) -> Rhythm:
    """A rhythm as typed by an owner or in a published file.

    Allowed: "every 7 days" (days, weeks, months, years; hours and minutes count as daily or as whole days, rounded
    down), "every Monday", "daily" to "yearly", and what happens several times a day. What follows the count, as
    ", lights on", is left alone. A text that names no count of days is taken as daily, the safe side; `known` is
    false unless it speaks of a day.
    """
    plain = " ".join(text.lower().split())
    counted = _EVERY.match(plain)
    if counted:
        unit = counted[2] if counted[2] in _DAYS else counted[2].rstrip("s")
        return rhythm_every(float(counted[1] or 1), unit)
    weekday = _ON_WEEKDAY.match(plain)
    if weekday and not re.match(r" (?:and|or)\b|,? \w*day\b", plain[weekday.end() :]):
        names = [day.lower() for day in WEEKDAYS]
        return Rhythm(Repeat("day", 7), names.index(weekday[1]))
    word = _WORDS.get(plain.split(",")[0])
    if word:
        unit, count = word
        return Rhythm(Repeat("month" if unit == "month" else "day", count))
    return Rhythm(Repeat("day", 1), known=bool(_WITHIN_A_DAY.search(plain)))


def rhythm_every(number: float, unit: str) -> Rhythm:
    """Every so many of a unit of time: whole months as months; all else as days, rounded down, at least one."""
    if unit in _MONTHS:
        months = number * _MONTHS[unit]
        if months >= 1 and months == int(months):
            return Rhythm(_repeat("month", int(months)))
        return Rhythm(_repeat("day", math.floor(months * _DAYS_OF_A_MONTH)))
    return Rhythm(_repeat("day", math.floor(number * _DAYS[unit] + 1e-9)))


def _repeat(unit: Literal["day", "month"], every: int) -> Repeat:
    return Repeat(unit, min(max(1, every), _MOST[unit]))


def repeat_words(repeat: Repeat, start: date) -> str:
    """The rhythm in words: "every day", "every Wednesday", "every 14 days", "every month"."""
    if repeat.daily:
        return "every day"
    if repeat.weekly:
        return f"every {WEEKDAYS[start.weekday()]}"
    number = "" if repeat.every == 1 else f"{repeat.every} "
    words = f"every {number}{repeat.unit}{'s' if number else ''}"
    return f"{words}, first {WEEKDAYS[start.weekday()]}" if repeat.on == "first_weekday" else words


def months_later(day: date, months: int) -> date:
    """The same date so many months later; the last day of a month that has no such date."""
    index = day.year * 12 + day.month - 1 + months
    year, month = divmod(index, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def weekday_from(day: date, weekday: int) -> date:
    """The first such weekday on or after `day`; 0 is Monday."""
    return day + timedelta(days=(weekday - day.weekday()) % 7)


def first_weekday(month: date, weekday: int) -> date:
    """The first such weekday of the month `month` lies in."""
    return weekday_from(month.replace(day=1), weekday)


def first_weekday_from(day: date, weekday: int) -> date:
    """The first such weekday of a month that is on or after `day`."""
    here = first_weekday(day, weekday)
    return here if here >= day else first_weekday(months_later(day.replace(day=1), 1), weekday)
