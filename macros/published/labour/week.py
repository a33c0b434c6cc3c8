"""The blank records of a week that belong to no single page, and what comes every day."""

from __future__ import annotations

from macros.ground.field_types import Count, Flag, Name
from macros.ground.records import Record
from macros.published import published
from macros.published.labour.calendar import EventKind


class HarvestColumn(Record):
    """A column of the harvest log and its width [mm]; 0 takes what is left. `traced`: a lot is followed by it."""

    head: Name
    width: Count
    traced: Flag = False


class WeekFacts(Record):
    """`week.yml`."""

    pests: tuple[Name, ...]
    harvest_columns: tuple[HarvestColumn, ...]
    every_day: tuple[EventKind, ...]


def week_facts() -> WeekFacts:
    """What the sheets of a week show."""
    return published(WeekFacts, "week")
