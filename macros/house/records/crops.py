"""Seed, plugs, varieties, the edible list and the crop plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Literal

from pydantic import Field

from macros.ground.field_types import (
    ClockTime,
    Conductivity,
    Count,
    DailyLight,
    Day,
    Duration,
    Flag,
    Fraction,
    Identifier,
    Length,
    Mass,
    Name,
    Number,
    Ph,
    Power,
    Ppfd,
    Temperature,
    Text,
    Volume,
)
from macros.ground.records import Record
from macros.ground.units import parse_quantity
from macros.house.records.systems import Basis

Weekday = Literal["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]


class PlugSheet(Record):
    """A sheet of plugs."""

    rows: Count
    columns: Count


class Germination(Record):
    """Domes, sheets and the heat mat."""

    sheet: PlugSheet
    heat_mat_setpoint: Temperature | None = None


class Nursery(Record):
    """Where plugs grow on."""

    trays: Count
    light_power: Power | None = None
    canopy_ppfd: Ppfd | None = None
    on: ClockTime | None = None
    off: ClockTime | None = None
    hung_above_tray: Length | None = None
    lamp_risk_group: Count | None = None
    emits_uv: Flag | None = None
    solution_batch: Volume | None = None


class Plug(Record):
    """What a plug is made of, and what it and its roots hold."""

    basis: Basis | None = None
    material: Literal["plant_fibre", "peat", "mineral_wool", "foam"] | None = None
    volume: Volume
    available_water_fraction: Fraction
    root_mat_water_full_grown: Volume | None = None
    allowed_depletion: Fraction | None = None
    dry_limit: Fraction | None = None
    dark_use_fraction: Fraction | None = None


class EdibleEntry(Record):
    """A species and the parts of it the house serves."""

    botanical: Name
    parts: tuple[Name, ...]
    caution: Text | None = None
    references: tuple[Name, ...] = ()


class EdibleList(Record):
    """What may be planned for eating, checked by a person."""

    checked_by: Name
    checked_on: Day
    source: Text
    entries: tuple[EdibleEntry, ...]


class Variety(Record):
    """One variety, from seed to harvest; days count from sowing."""

    id: Identifier
    botanical: Name
    part: Name
    system: Identifier
    germination: Fraction
    survival: Fraction
    seed_treatment: Literal["untreated", "treated", "unknown"] | None = None
    seeds_per_plug: Count = 1
    pre_soak: Duration | None = None
    light_to_germinate: Literal["light", "dark", "indifferent"] | None = None
    germination_temperature: Temperature | None = None
    germination_days: Count | None = None
    dome_days: Count | None = None
    transplant_day_min: Count | None = None
    transplant_day_max: Count | None = None
    first_harvest_day: Count | None = None
    last_harvest_day: Count | None = None
    spacing: Length
    thin_to: Count | None = None
    ec_low: Conductivity | None = None
    ec_high: Conductivity | None = None
    ph_low: Ph | None = None
    ph_high: Ph | None = None
    storage_temperature: Temperature | None = None
    grown_height: Length | None = None
    water_per_day: Volume | None = None
    dli_target: DailyLight | None = None
    yield_per_plant_week: Number | None = None
    yield_per_plant: Mass | None = None
    yield_unit: Name | None = None
    leaf_look: Name | None = None
    look_alike_group: Name | None = None

    @property
    def spoken(self) -> str:
        """The id as people say it."""
        return self.id.replace("_", " ")

    def looks_like(self, other: Variety) -> bool:
        """Whether young plants of both look alike."""
        return self.look_alike_group not in (None, "none") and self.look_alike_group == other.look_alike_group


class SeedLot(Record):
    """A packet of seed in the drawer; `germination` is the share of `seeds_tested` that came up."""

    id: Identifier
    variety: Identifier
    treatment: Literal["untreated", "treated", "unknown"]
    tested: Day | None = None
    germination: Fraction | None = None
    seeds_tested: Count | None = None


class Block(Record):
    """Plants of one variety on cup plates named system-shelf-half; shelf 1 is the lowest.

    `planting_day` is that of a set planted after the rest of its system; without one that of the system.
    """

    variety: Identifier
    cup_plates: tuple[Name, ...]
    plants: Count
    planting_day: Day | None = None


class MovedToSoil(Record):
    """Plants that leave the rack for pots."""

    plants: Count
    pot_volume: Volume
    settle_allowance: Fraction | None = None
    bag_volume: Volume | None = None
    bag_mass: Mass | None = None


class SystemDays(Record):
    """The days of a system that is cleaned out and planted on days of its own."""

    system: Identifier
    planting_day: Day
    cleanout_day: Day | None = None


@dataclass(frozen=True)
class Planting:
    """The plants of one variety that are planted on one day.

    `record` holds the day. `several` tells that the variety is planted on other days too: its amounts then name the day.
    """

    variety: Variety
    day: date
    record: Record
    blocks: tuple[Block, ...]
    several: bool

    @property
    def keys(self) -> dict[str, str]:
        """What tells its amounts apart."""
        day = {"planting": self.day.isoformat()} if self.several else {}
        return {"variety": self.variety.id, **day}

    @property
    def spoken(self) -> str:
        """Its name as people say it."""
        return f"{self.variety.spoken} planted {self.day}" if self.several else self.variety.spoken

    @property
    def plants(self) -> int:
        """How many plants it is."""
        return sum(block.plants for block in self.blocks)


class CropPlan(Record):
    """What stands where, and when. `planting_day` is the first of a system: a block may be planted later.

    `other_systems` are planted on other days than `planting_day`.
    """

    planting_day: Day
    cleanout_day: Day | None = None
    cleanout_system: Identifier | None = None
    other_systems: tuple[SystemDays, ...] = ()
    sow_weekday: Weekday | None = None
    blocks: tuple[Block, ...] = ()
    weekly_demand: dict[str, Name] = Field(default_factory=dict)
    moved_to_soil: MovedToSoil | None = None

    def days_of(self, system: str) -> CropPlan | SystemDays:
        """The record that holds the planting day of a system."""
        return next((own for own in self.other_systems if own.system == system), self)

    def plantings_of(self, variety: Variety) -> tuple[Planting, ...]:
        """What is planted of a variety on each day, the first day first."""
        first = self.days_of(variety.system)
        days: dict[date, list[Block]] = {}
        for block in self.blocks:
            if block.variety == variety.id:
                days.setdefault(block.planting_day or first.planting_day, []).append(block)
        return tuple(
            Planting(variety, day, next((b for b in own if b.planting_day), first), tuple(own), len(days) > 1)
            for day, own in sorted(days.items())
        )

    def later_day(self, block: Block, system: str) -> date | None:
        """The day of a block that is planted after the first day of its system; None where it is planted on that."""
        return None if block.planting_day == self.days_of(system).planting_day else block.planting_day

    def sets_of(self, system: str, varieties: Iterable[Variety]) -> tuple[Planting, ...]:
        """What is planted on a system after its first planting day, by day."""
        first = self.days_of(system).planting_day
        own = (
            one for v in varieties if v.system == system for one in self.plantings_of(v) if one.day != first
        )
        return tuple(sorted(own, key=lambda one: (one.day, one.variety.id)))

    def all_days(self) -> tuple[CropPlan | SystemDays, ...]:
        """The record of the plan's own days, and those of the systems with others."""
        return self, *self.other_systems

    def cleanout_of(self, system: str) -> Day | None:
        """The day on which a system is cleaned out; None where the plan names none."""
        own = self.days_of(system)
        if own is self and self.cleanout_system not in (None, system):
            return None
        return own.cleanout_day

    def demand(self, variety: str) -> tuple[float, str]:
        """What is wanted of a variety in a week: a count, with no unit, or grams. QuantityMistake where it is neither."""
        text = self.weekly_demand[variety]
        if text.replace(".", "", 1).isdigit():
            return float(text), ""
        return parse_quantity(text, "mass").to("g"), "g"
