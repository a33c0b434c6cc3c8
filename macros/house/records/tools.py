"""Measuring tools and meters, by the names on their labels."""

from __future__ import annotations

import re
from typing import Literal

from pydantic import Field

from macros.ground.field_types import Count, Day, Duration, Flag, Identifier, Mass, Name, Number, ToolMeasure
from macros.ground.records import Record
from macros.ground.units import QuantityMistake, parse_quantity

Group = Literal["acids_bases", "acids", "bases", "nutrients", "sanitizer", "water", "level"]


class MeasuringTool(Record):
    """A tool with marks. It serves the groups of liquids under `for` and no other.

    `acids_bases` is for a house that has one of the two: it serves the one the house has.
    """

    id: Identifier | None = None
    name: Name
    capacity: ToolMeasure
    mark: ToolMeasure
    smallest_use: ToolMeasure
    tare: Mass | None = None
    count: Count = 1
    for_: tuple[Group, ...] = Field(alias="for")


class Scale(Record):
    """A scale for powders: the most it weighs and the smallest step it shows."""

    name: Name
    capacity: Mass
    mark: Mass


class Meter(Record):
    """A pen: `buffers` mark a pH pen, `standard` an EC pen.

    `compensates` tells whether an EC pen shows the value at 25 degC in any water; `scale` how many ppm it shows for
    1 mS/cm, where it shows ppm.
    """

    name: Name
    resolution: Name
    accuracy: Name
    calibrate_every: Duration
    buffers: tuple[Number, ...] = ()
    standard: Name | None = None
    compensates: Flag | None = None
    scale: Literal["500", "700"] | None = None
    last: Day | None = None

    @property
    def measures(self) -> str:
        """`ph`, `ec`, or nothing known."""
        return "ph" if self.buffers else "ec" if self.standard else ""

    @property
    def last_digit(self) -> float | None:
        """The smallest step it shows, in the unit typed with it, as `0.01 mS/cm`, ppm as mS/cm; None where told in words."""
        typed = re.match(r"(\d+(?:\.\d+)?)(?: |$)", self.resolution)
        return float(typed[1]) / self._shown_per_unit if typed else None

    @property
    def _shown_per_unit(self) -> float:
        return float(self.scale) if self.scale is not None else 1.0

    @property
    def shows(self) -> float | None:
        """The smallest step it shows [mS/cm, or pH units]; None where it is told in words or is none."""
        try:
            step = (
                self.last_digit
                if self.measures == "ph"
                else parse_quantity(self.resolution, "conductivity").to("mS/cm")
            )
        except QuantityMistake:
            return None
        return step or None

    @property
    def reads_off(self) -> float | None:
        """How far it may read off [mS/cm, or pH units], as `±0.1`; None where it is told in words."""
        text = self.accuracy.lstrip("±+-/ ")
        try:
            if self.measures == "ph":
                return float(text)
            if text.endswith("ppm"):
                return float(text.removesuffix("ppm")) / self._shown_per_unit
            return parse_quantity(text, "conductivity").to("mS/cm")
        except (ValueError, QuantityMistake):
            return None


class InventoryThing(Record):
    """A thing of the room that is no measuring tool: as the pages name it, what its label reads, where it lives."""

    thing: Name
    label: Name | None = None
    kept_at: Name | None = None
    count: Count = 1
