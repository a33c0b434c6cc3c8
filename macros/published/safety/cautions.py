"""The caution catalogue as typed records."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, cached_property, partial
from types import MappingProxyType
from typing import Annotated, Literal, get_args

from pydantic import AfterValidator, Field

from macros.ground.field_types import Identifier, Mapped, Number, Text
from macros.ground.names import Gaps, slots_in
from macros.ground.records import Record
from macros.published import published
from macros.published.names import Equipment, FirstAidKind, Substance, complete, declared, distinct
from macros.published.safety.conditions import Condition, NumberFact, YesNoFact, parts_of
from macros.published.safety.signal_words import Risk

NamedFact = Literal[
    YesNoFact, NumberFact, "seed_treatment", "helper_flags", "handled_strength", "sds_codes", "lift_mass_kg",
    "lift_above_shoulder", "lift_from_below_knee",
]  # fmt: skip
"""Facts that may be not known; a material, a state, a finding and a tool are said or are not there."""

SlottedText = Annotated[Text, Gaps("gap of this text", partial(declared, "cautions", "slots"))]


class Escalation(Risk):
    """When the word rises, to what, and why."""

    when: Condition


class ExtraPpe(Record):
    """Equipment that a condition adds."""

    when: Condition
    add: tuple[Equipment, ...]
    note: Text = ""


class Slot(Record):
    """Where a slot's value comes from, how it is printed and what stands there when it is not known."""

    comes_from: Literal["handling", "lift", "pair", "text", NumberFact] = Field(alias="from")
    unit: Literal["", "kg", "L", "degC", "m", "cm"] = ""
    direction: Literal["nearest", "down", "up"] = Field("nearest", alias="round")
    edges: tuple[Number, ...] = ()
    unknown: Text = ""
    zero: Literal["", "unknown"] = ""
    before: Text = ""

    @property
    def name(self) -> str:
        """Its name in the texts."""
        return str(self.path[-1]) if self.path else ""


class Caution(Risk):
    """One hazard, one wording. `word` follows from severity and likelihood."""

    id: Identifier
    title: Text
    hazard: SlottedText
    consequence: SlottedText
    avoidance: SlottedText
    short_hazard: Text
    short_avoidance: Text
    ppe: tuple[Equipment, ...]
    ppe_extra: tuple[ExtraPpe, ...] = ()
    first_aid: tuple[FirstAidKind, ...]
    label: frozenset[Substance]
    trigger: Condition
    escalate: tuple[Escalation, ...] = ()
    source: Text
    obtained: Text
    note: Text = ""

    @cached_property
    def place_in_file(self) -> int:
        """Its place in the catalogue, from 0; after all of it for one of a house, which stands in no file of ours."""
        return int(self.path[-1]) if self.path else len(catalogue())

    @cached_property
    def slots(self) -> tuple[str, ...]:
        """Names of the slots its text holds."""
        return slots_in(" ".join((self.hazard, self.consequence, self.avoidance)))

    @cached_property
    def substances(self) -> frozenset[str]:
        """The substances its trigger speaks of."""
        return frozenset(
            one for part in parts_of(self.trigger) if part.handled for one in part.handled.substance
        )

    @cached_property
    def of_the_whole_page(self) -> bool:
        """Whether it speaks of no substance, but of what other moments of the page hold, or of who does it."""
        return not self.label and any(part.caution or part.pair for part in parts_of(self.trigger))

    @cached_property
    def rests_on_others(self) -> bool:
        """Whether its trigger looks at other cautions of the step."""
        return any(part.caution for part in parts_of(self.trigger))


class Cautions(Record):
    """The file: how a fact that is not known is named, how each slot is filled, and the cautions."""

    facts: Annotated[Mapped[NamedFact, Text], complete(lambda: get_args(NamedFact))]
    slots: Mapped[Identifier, Slot]
    cautions: Annotated[tuple[Caution, ...], AfterValidator(distinct)]


Catalogue = Mapping[str, Caution]


@cache
def catalogue() -> Catalogue:
    """Every caution by its id, in file order."""
    return MappingProxyType({one.id: one for one in cautions().cautions})


def cautions() -> Cautions:
    """The file."""
    return published(Cautions, "cautions")
