"""Document control in the room: which copies hang where, and when a page was read again."""

from __future__ import annotations

from typing import Literal

from macros.ground.field_types import Count, Day, Identifier, Name
from macros.ground.records import Record


class WallCopy(Record):
    """Copies of one page, checklist or card that hang at one place; `printed` is the revision that hangs there."""

    item: Identifier
    where: Name
    count: Count
    printed: Count


class Review(Record):
    """One review of a page, checklist or card as it was issued; with `change` it stays due until it is issued anew."""

    page: Identifier
    when: Day
    by: Identifier
    outcome: Literal["no change", "change"]
