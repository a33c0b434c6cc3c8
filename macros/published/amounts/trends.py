"""What a rise or fall of EC and pH over days means, as published."""

from __future__ import annotations

from macros.ground.field_types import Count, Text
from macros.ground.records import Record
from macros.published import published


class Meaning(Record):
    """What a trend tells, what comes next, and who says so."""

    means: Text
    next: Text
    source: Text


class Trend(Record):
    """The three ways a reading may go."""

    rising: Meaning
    falling: Meaning
    steady: Meaning


class Trends(Record):
    """`trends.yml`: which readings count, and what they mean."""

    days: Count
    least: Count
    oldest: Count
    ec: Trend
    ph: Trend


def trends() -> Trends:
    """All that is published on trends."""
    return published(Trends, "trends")
