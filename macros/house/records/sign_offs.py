"""Sign-offs: who was seen to do a page alone, to which revision, by whom and when."""

from __future__ import annotations

import re

from macros.ground.field_types import Count, Day, Text
from macros.ground.records import Record

_INITIALS = re.compile(r"[^\W\d_](\.?[^\W\d_]){1,3}\.?\d?")


class SignOff(Record):
    """One sign-off. `who` and `by` are a role of `people` or initials; `procedure` is a page or all its systems.

    `level` is 1 to 4 as in `people`; without it the page may be done alone. `runs` are the days it was done alone.
    """

    who: Text
    procedure: Text
    revision: Count
    by: Text
    when: Day
    level: Count | None = None
    runs: tuple[Day, ...] = ()

    def covers(self, key: str) -> bool:
        """Whether the sign-off is to the page `key`: `SOP-08` is to `SOP-08-A` and `SOP-08-B`."""
        return covers(self.procedure, key)


def covers(procedure: str, key: str) -> bool:
    """Whether a procedure is the page `key` or the document it is of."""
    return key == procedure or key.startswith(f"{procedure}-")


def is_initials(text: str) -> bool:
    """Whether a text is 2 to 4 capital letters, with or without full stops, and a digit where two share them."""
    return _INITIALS.fullmatch(text) is not None and text == text.upper()
