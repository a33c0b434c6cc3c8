"""What stands in the calendar, in which words, and where its days come from."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from macros.ground.field_types import Flag, Mapped, Name, Text
from macros.ground.names import NameOf, gaps
from macros.ground.records import Record
from macros.published import published
from macros.published.names import AmountId, DocumentId, Rhythm

_KINDS = """
    cleanout planting planting_set sowing dome_off harvest_opens harvest_closes window_closes window_opens discard expiry tank_change
    topup calibration rcd_test water_test drill machine_care trace_drill refresher sign_off_refresh recall review shelf_check away person_starts weekly_check
    eyewash strainer stock_count succession daily_check level_reading dome_check
"""
EventKind = Annotated[str, NameOf("kind of entry", _KINDS.split)]
"""A kind of entry the calendar makes."""


class EventWords(Record):
    """A kind of entry: its name, the whole title with `{thing}`, the words before the thing where space is short."""

    name: Name
    title: Annotated[Name, gaps("thing")]
    short: Name
    document: DocumentId = Field(alias="page")
    late: Flag = False


class Calendar(Record):
    """`calendar.yml`; its head says every part."""

    kinds: Mapped[EventKind, EventWords]
    amounts: Mapped[AmountId, EventKind]
    amounts_not_shown: Mapped[AmountId, Text]
    rhythms: Mapped[Rhythm, EventKind]
    rhythms_not_shown: Mapped[Rhythm, Text]
    change_notes: tuple[Name, ...]


def calendar() -> Calendar:
    """All that is published on the calendar."""
    return published(Calendar, "calendar")
