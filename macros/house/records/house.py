"""The whole house: every section of its files as one record."""

from __future__ import annotations

from pydantic import Field, PrivateAttr

from macros.ground.field_types import Name, Text
from macros.ground.records import Record
from macros.house.records.chemicals import Chemical, TestStrip
from macros.house.records.crops import CropPlan, EdibleList, Germination, Nursery, Plug, SeedLot, Variety
from macros.house.records.document_control import Review, WallCopy
from macros.house.records.feeding import Nutrients
from macros.house.records.log import LogRow, RecordRow
from macros.house.records.own_cautions import OwnCaution
from macros.house.records.people import (
    CleanoutTask,
    Issued,
    Labour,
    Lifting,
    Margins,
    Person,
    Policies,
    Supplies,
    Training,
)
from macros.house.records.photographs import PhotoWords
from macros.house.records.room import Electricity, HouseFacts, Room, WaterSource, open_fields
from macros.house.records.sanitizing import Sanitizing, SoakedPart, SoakTub
from macros.house.records.sign_offs import SignOff
from macros.house.records.systems import System
from macros.house.records.tools import InventoryThing, MeasuringTool, Meter, Scale


class House(Record):
    """All facts of one house. Sections without a default are needed; the rest may be left out.

    `own_frequencies` and `own_sources` are rhythms and sources that only the house's own pages name; `own_cautions` stand
    beside ours.
    """

    house: HouseFacts
    water_source: WaterSource
    systems: tuple[System, ...]
    nutrients: Nutrients
    measuring_tools: tuple[MeasuringTool, ...]
    scales: tuple[Scale, ...] = ()
    room: Room | None = None
    electricity: Electricity | None = None
    germination: Germination | None = None
    nursery: Nursery | None = None
    plug: Plug | None = None
    inventory: tuple[InventoryThing, ...] = ()
    frequencies: dict[str, Name] = Field(default_factory=dict)
    own_frequencies: dict[str, Name] = Field(default_factory=dict)
    own_sources: dict[str, Text] = Field(default_factory=dict)
    own_cautions: tuple[OwnCaution, ...] = ()
    parts_to_soak: tuple[SoakedPart, ...] = ()
    soak_tub: SoakTub | None = None
    chemicals: tuple[Chemical, ...] = ()
    test_strips: tuple[TestStrip, ...] = ()
    sanitizing: Sanitizing | None = None
    meters: tuple[Meter, ...] = ()
    edible_list: EdibleList | None = None
    varieties: tuple[Variety, ...] = ()
    seed_lots: tuple[SeedLot, ...] = ()
    crop_plan: CropPlan | None = None
    margins: Margins | None = None
    supplies: Supplies | None = None
    sow_layout: dict[str, tuple[Name, ...]] = Field(default_factory=dict)
    people: tuple[Person, ...] = ()
    lifting: Lifting | None = None
    labour: Labour | None = None
    cleanout_tasks: tuple[CleanoutTask, ...] = ()
    policies: Policies | None = None
    training: Training | None = None
    issued: tuple[Issued, ...] = ()
    sign_offs: tuple[SignOff, ...] = ()
    wall_copies: tuple[WallCopy, ...] = ()
    reviews: tuple[Review, ...] = ()
    photos: tuple[PhotoWords, ...] = ()
    log: tuple[LogRow, ...] = ()
    records: tuple[RecordRow, ...] = ()

    _issues: tuple[tuple[Issued, ...], dict[str, list[Issued]]] = PrivateAttr(default=((), {}))

    def unfilled(self) -> tuple[tuple[Record, str], ...]:
        """Every text that waits to be filled in before a sheet may be used: record and field."""
        records = (self.house.emergency, self.house.places, self.sanitizing)
        return tuple((one, name) for one in records if one is not None for name in open_fields(one))

    def unfilled_words(self) -> str:
        """What waits to be filled in, as a sheet says it; empty where nothing does."""
        names = ", ".join(name for _, name in self.unfilled()).replace("_", " ")
        return f"Not filled in: {names}." if names else ""

    @property
    def us(self) -> bool:
        """Whether the house prints US units."""
        return self.house.unit_style == "us"

    def issues_of(self, key: str) -> list[Issued]:
        """Every issue of an item, oldest first; they are sorted by item once, for every page asks."""
        entries, by_item = self._issues
        if entries is not self.issued:
            by_item = {}
            for entry in self.issued:
                by_item.setdefault(entry.page, []).append(entry)
            self._issues = (self.issued, by_item)
        return list(by_item.get(key, ()))

    def role_of(self, who: str) -> str:
        """The role of the person with these initials, where people ties them to one; else the name as it is."""
        plain = who.replace(".", "")
        own = (one.role for one in self.people if one.initials and one.initials.replace(".", "") == plain)
        return next(own, who)

    def system(self, id_: str) -> System:
        """The system with this letter; KeyError for an unknown one."""
        for system in self.systems:
            if system.id == id_:
                return system
        raise KeyError(id_)

    def chemical(self, id_: str) -> Chemical:
        """The stock with this id; KeyError for an unknown one."""
        for chemical in self.chemicals:
            if chemical.id == id_:
                return chemical
        raise KeyError(id_)

    def chemicals_with_role(self, role: str) -> tuple[Chemical, ...]:
        """The stocks of a role, in the order of the file."""
        return tuple(chemical for chemical in self.chemicals if chemical.role == role)
