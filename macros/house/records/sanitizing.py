"""Sanitizing tasks, rinses and how strength is proved."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from macros.ground.field_types import (
    AreaRate,
    Count,
    Duration,
    Flag,
    Fraction,
    Identifier,
    Length,
    MassConcentration,
    Name,
    Number,
    StrengthField,
    Text,
    Volume,
)
from macros.ground.records import Record
from macros.house.records.systems import Basis
from macros.published.safety.sanitizers import NeutralizerName


class SanitizingTask(Record):
    """One use of a sanitizer, within what its label allows."""

    chemical: Identifier
    target: StrengthField
    ceiling: StrengthField
    coverage: AreaRate | None = None
    waste_factor: Number | None = None
    batch: Volume | None = None
    wet_time: Duration | None = None
    run_time: Duration | None = None
    loads_per_batch: Count | None = None
    batch_life: Duration | None = None
    level: Literal["pump_minimum_plus_flood"] | None = None
    rinse: Flag
    proved_with: Identifier | None = None


class Rinse(Record):
    """Rinse water and what may stay behind."""

    rate_trays: AreaRate | None = None
    rate_parts: Volume | None = None
    reservoir_rinse_volume: Volume | None = None
    residue_allowed: MassConcentration | None = None
    verify_with: Text | None = None


class HouseNeutralizer(Record):
    """A powder that takes a sanitizer out of a used batch before it is let go; it is weighed, and left to work before a strip."""

    substance: NeutralizerName
    act_time: Duration
    basis: Basis | None = None


class Sanitizing(Record):
    """The house's sanitizing. Without the label it rests on nothing is printed."""

    basis: Basis | None = None
    label_reference: Text | None = None
    tasks: dict[str, SanitizingTask] = Field(default_factory=dict)
    rinse: Rinse | None = None
    neutralizer: HouseNeutralizer | None = None


class SoakedPart(Record):
    """A small part counted for one cleanout of one system; `left_on_each` is the water that clings to one shaken out."""

    name: Name
    count_per_system: Count
    bulk_volume_each: Volume
    solid_volume_each: Volume
    left_on_each: Volume | None = None


class SoakTub(Record):
    """The tub parts are soaked in."""

    inside_length: Length
    inside_width: Length
    working_depth: Length
    packing_fraction: Fraction = 0.60
    count: Count = 1
