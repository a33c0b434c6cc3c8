"""Measuring tools and meters, by the names on their labels."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from macros.ground.field_types import Count, Day, Duration, Identifier, Mass, Name, Number, ToolMeasure
from macros.ground.records import Record

Group = Literal["acids_bases", "acids", "bases", "nutrients", "sanitizer", "water", "level"]


class MeasuringTool(Record):
    """A tool with marks. It serves the groups of liquids under `for` and no other."""

    id: Identifier | None = None
    name: Name
    capacity: ToolMeasure
    mark: ToolMeasure
    smallest_use: ToolMeasure
    tare: Mass | None = None
    count: Count = 1
    for_: tuple[Group, ...] = Field(alias="for")


class Meter(Record):
    """A pen: `buffers` mark a pH pen, `standard` an EC pen."""

    name: Name
    resolution: Name
    accuracy: Name
    calibrate_every: Duration
    buffers: tuple[Number, ...] = ()
    standard: Name | None = None
    last: Day | None = None

    @property
    def measures(self) -> str:
        """`ph`, `ec`, or nothing known."""
        return "ph" if self.buffers else "ec" if self.standard else ""


class InventoryThing(Record):
    """A thing of the room that is no measuring tool: as the pages name it, what its label reads, where it lives."""

    thing: Name
    label: Name | None = None
    kept_at: Name | None = None
    count: Count = 1
