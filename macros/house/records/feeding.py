"""Feed parts, their order, and the rates and bands of each growth stage."""

from __future__ import annotations

from macros.ground.field_types import (
    Conductivity,
    Count,
    DoseRate,
    Identifier,
    MassConcentration,
    Name,
    Ph,
    Price,
    VolumeOrMass,
)
from macros.ground.records import Record
from macros.house.records.systems import Basis


class NutrientPart(Record):
    """One bottle or bag of feed. `contains` names what must not meet another part undiluted; `sds_codes` not given: not known.

    A liquid part has `ec_per_ml_per_l`, a dry one, which is weighed, `ec_per_g_per_l`.
    """

    id: Identifier
    name: Name
    container: VolumeOrMass | None = None
    containers_in_stock: Count | None = None
    price_per_container: Price | None = None
    ec_per_ml_per_l: Conductivity | None = None
    ec_per_g_per_l: Conductivity | None = None
    contains: tuple[Identifier, ...] = ()
    sds_codes: tuple[Name, ...] | None = None


class FeedStage(Record):
    """Rates and bands for one stage of growth."""

    rates: dict[str, DoseRate]
    ec_target: Conductivity
    ec_low: Conductivity
    ec_high: Conductivity
    ph_low: Ph
    ph_target: Ph
    ph_high: Ph
    total_nitrogen: MassConcentration | None = None

    def weighs(self, part: str) -> bool:
        """Whether a part is dosed dry, in grams."""
        rate = self.rates.get(part)
        return rate is not None and rate.unit.startswith("g/")


class Nutrients(Record):
    """The feed of the house."""

    basis: Basis | None = None
    mixing_order: tuple[Identifier, ...]
    parts: tuple[NutrientPart, ...]
    total_nitrogen_at_leafy_rate: MassConcentration | None = None
    total_phosphorus_at_leafy_rate: MassConcentration | None = None
    stages: dict[str, FeedStage]

    def parts_in_order(self) -> tuple[NutrientPart, ...]:
        """The parts in the order in which they go into the tank."""
        by_id = {part.id: part for part in self.parts}
        return tuple(by_id[name] for name in self.mixing_order if name in by_id)

    def weighs(self, part: str) -> bool:
        """Whether a part is dry feed, weighed in grams."""
        return any(stage.weighs(part) for stage in self.stages.values())
