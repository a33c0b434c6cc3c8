"""Conditions of triggers as data: mappings read into typed records, never evaluated as code."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Any, Literal

from pydantic import Field, model_validator

from macros.ground.field_types import Flag, Mapped, Number
from macros.ground.records import Record, mistake
from macros.published.names import Action, CautionId, HazardCode, PairId, Substance

YesNoFact = Literal[
    "near_mains", "own_mains", "spill", "unattended", "water_below_minimum", "lamps_on", "mains_device_present",
    "timer_controlled", "crop_present", "children_possible", "lamp_emits_uv", "species_has_caution",
]  # fmt: skip
NumberFact = Literal[
    "open_water_volume_l", "reach_height_m", "water_temp_c", "tray_not_drained_h", "hose_unused_days",
    "nutrient_parts", "lamp_risk_group", "lamp_distance_m", "tier_mass_fraction", "rack_mass_kg", "shelf_rating_kg",
    "persons_in_room", "solution_volume_l", "drained_volume_l", "pump_minimum_depth_cm",
]  # fmt: skip
"""Facts of a step by what they are; a test holds them against the facts a step has."""


class Handled(Record):
    """One handled substance meets all of this. [% w/w]; `percent_min` is in, `percent_below` is out."""

    substance: frozenset[Substance] = frozenset()
    percent_min: Number | None = None
    percent_below: Number | None = None
    sds_codes_any: frozenset[HazardCode] = frozenset()
    sds_codes_none: frozenset[HazardCode] = frozenset()
    band_codes_any: frozenset[HazardCode] = frozenset()


class Lifted(Record):
    """One lift meets all of this [kg]."""

    mass_kg_min: Number
    above_shoulder: Flag = False
    from_below_knee: Flag = False


class WordFacts(Record):
    """A fact that is a word, or one of several words, is among these; one fact is named."""

    uses: tuple[Literal["ladder", "step_stool"], ...] = ()
    material: tuple[Literal["mineral_wool"], ...] = ()
    state: tuple[Literal["dry"], ...] = ()
    finding: tuple[Literal["visible_mould", "label_missing", "off_type_plant"], ...] = ()
    seed_treatment: tuple[Literal["untreated", "treated", "unknown"], ...] = ()
    helper_flags: tuple[Literal["asthma", "allergy", "weak_immune_defence", "pollen_allergy"], ...] = ()

    def items(self) -> list[tuple[str, tuple[str, ...]]]:
        """The fact named, with its words."""
        return [(name, getattr(self, name)) for name in type(self).model_fields if getattr(self, name)]


class Condition(Record):
    """One kind of condition, and on which steps a fact that is not known counts as met."""

    all: tuple[Condition, ...] | None = Field(None, min_length=1)
    any: tuple[Condition, ...] | None = Field(None, min_length=1)
    handled: Handled | None = None
    action: tuple[Action, ...] | None = None
    """The step's action is one of these, or counts as one."""
    pair: PairId | None = None
    """This pair is on the page and the step handles one side."""
    lift: Lifted | None = None
    is_: Mapped[YesNoFact, Flag] | None = Field(None, alias="is")
    one_of: WordFacts | None = None
    at_least: Mapped[NumberFact, Number] | None = None
    at_most: Mapped[NumberFact, Number] | None = None
    """A value on the bound is met."""
    caution: tuple[CautionId, ...] | None = None
    """One of these cautions is met at the same step."""
    unknown_counts_with: Condition | None = None

    @cached_property
    def kind(self) -> str:
        """The field that says what is asked."""
        (kind,) = self._kinds()
        return kind

    @cached_property
    def fact(self) -> tuple[str, Any]:
        """The fact it looks at, and what is asked of it; nothing for a condition of another kind."""
        asked = self.is_ or self.one_of or self.at_least or self.at_most
        return next(iter(asked.items())) if asked else ("", None)

    def _kinds(self) -> list[str]:
        fields = (name for name in type(self).model_fields if name != "unknown_counts_with")
        return [name for name in fields if getattr(self, name) is not None]

    @model_validator(mode="after")
    def _one_kind(self) -> Condition:
        kinds = self._kinds()
        if len(kinds) != 1:
            found = " and ".join(kinds).replace("is_", "is") or "nothing"
            raise mistake(f"{found} stands here", "One kind of condition", "Put several under all or any")
        if kinds[0] in _OF_FACTS and len(getattr(self, kinds[0]).items()) != 1:
            raise mistake(
                "not one fact stands here", "One fact with its value", "Put several under all or any"
            )
        if self.unknown_counts_with is not None and kinds[0] not in _OF_FACTS:
            raise mistake("unknown_counts_with stands here", "Only beside a fact", "Take it away")
        return self


_OF_FACTS = ("is_", "one_of", "at_least", "at_most")


def parts_of(condition: Condition) -> Iterator[Condition]:
    """The condition and everything inside it."""
    yield condition
    for part in (*(condition.all or ()), *(condition.any or ()), condition.unknown_counts_with):
        if part is not None:
            yield from parts_of(part)
