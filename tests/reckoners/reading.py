"""What a person typed, read strictly: a number with a point, a whole count, a time of the 24 h clock; else a refusal."""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress
from datetime import date

from macros.amounts.reckoners import sentence
from tests.reckoners.answer import Answer

_BLANKS = " \t\r\n\u00a0"
MOST_COUNT = 20
"""A count of doses or failed strips over this is a slip."""


class Unread(Exception):  # noqa: N818 - told to whoever typed
    """What was typed cannot be read; `answer` says what was read, what is allowed and what to do."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.answer = refused(text)


def refused(text: str) -> Answer:
    """A refusal in one text."""
    return Answer("refused", text)


def read_number(typed: str, what: str, how: str) -> tuple[float, str]:
    """The number and its text without blanks around it.

    Parameters
    ----------
    typed : as it stands in the field
    what : the field in words
    how : what may be written there, in words

    Raises
    ------
    Unread
        empty, a comma that may part thousands, below zero, a unit or letters, or more digits than a scale shows.
    """
    text = _plain(typed, what, how)
    if re.fullmatch(r"[0-9]{1,6}(\.[0-9]{1,4})?", text):
        return float(text), text
    shown = _shown(text)
    if re.fullmatch(r"[0-9]{1,6},[0-9]{1,4}", text):
        mended = text.replace(",", ".")
        if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", text):
            whole = text.replace(",", "")
            raise Unread(sentence("reading.two_ways", typed=shown, mended=mended, whole=whole))
        return float(mended), mended
    if re.match(r"[-\u2212][0-9.]", text):
        raise Unread(sentence("reading.below_zero", typed=shown, how=how))
    if re.fullmatch(r"[0-9]+(\.[0-9]+)?", text):
        raise Unread(sentence("reading.too_long", typed=shown, how=how))
    raise Unread(sentence("reading.no_number", typed=shown, how=how))


def read_count(typed: str, what: str) -> int:
    """A whole count, 0 to 20."""
    how = sentence("reading.count")
    text = _plain(typed, what, how)
    if re.fullmatch(r"[0-9]{1,2}", text) and int(text) <= MOST_COUNT:
        return int(text)
    raise Unread(sentence("reading.no_count", typed=_shown(text), how=how))


def read_clock(typed: str, what: str) -> int:
    """A time as 06:30, 6.30, 0630 or 630 [minutes after midnight]."""
    how = sentence("reading.clock")
    text = _plain(typed, what, how)
    found = re.fullmatch(r"([0-9]{1,2})[:.,]?([0-9]{2})", text)
    if found:
        hour, minute = int(found.group(1)), int(found.group(2))
        if hour <= 23 and minute <= 59:
            return hour * 60 + minute
    shown = _shown(text)
    if re.search(r"[AaPp]\.?[Mm]", text):
        raise Unread(sentence("reading.clock_half_day", typed=shown))
    raise Unread(sentence("reading.no_clock", typed=shown, how=how))


def read_day(typed: str, what: str) -> date:
    """A day of this century as 2031-06-30."""
    how = sentence("reading.day")
    text = _plain(typed, what, how)
    if re.fullmatch(r"20[0-9]{2}-[0-9]{2}-[0-9]{2}", text):
        with suppress(ValueError):
            return date.fromisoformat(text)
    raise Unread(sentence("reading.no_day", typed=_shown(text), how=how))


def read_choice(typed: str, choices: Iterable[str], what: str) -> str:
    """One of the list, by its id."""
    if typed in choices:
        return typed
    raise Unread(sentence("reading.no_choice", what=what))


def _plain(typed: str, what: str, how: str) -> str:
    text = typed.strip(_BLANKS)
    if not text:
        raise Unread(sentence("reading.empty", what=what, how=how))
    return text


def _shown(text: str) -> str:
    """At most twenty characters of what was typed."""
    return text if len(text) <= 20 else text[:20] + "..."
