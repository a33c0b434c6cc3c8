"""Stocks: sanitizer, acid and base as bought, and the strips that read them."""

from __future__ import annotations

import math
from typing import Literal

from macros.ground.field_types import (
    Count,
    Day,
    Density,
    Fraction,
    Identifier,
    MassConcentration,
    MolarMass,
    Name,
    Price,
    StrengthField,
    VolumeOrMass,
)
from macros.ground.records import Record
from macros.house.records.systems import Basis
from macros.published.safety.sanitizers import StripFor


class Chemical(Record):
    """One stock, copied from its label and safety data sheet."""

    id: Identifier
    name: Name
    role: Literal["sanitizer", "acid", "base", "cleaner"]
    basis: Basis | None = None
    active: Name
    strength: StrengthField
    density: Density | None = None
    molar_mass: MolarMass | None = None
    container: VolumeOrMass
    containers_in_stock: Count
    opened: Day | None = None
    expires: Day | None = None
    lot: Name | None = None
    loss_per_month_after_opening: Fraction | None = None
    discard_below_fraction: Fraction | None = None
    price_per_container: Price | None = None
    store_with: Name | None = None
    never_with: tuple[Name, ...] = ()
    ppe: tuple[Identifier, ...] = ()
    sds_page: Name | None = None
    sds_codes: tuple[Name, ...] = ()


class TestStrip(Record):
    """Test strips the house owns, with the values printed on their pads."""

    __test__ = False  # a record, not a test of pytest

    id: Identifier
    name: Name
    measures: StripFor
    pads: tuple[MassConcentration, ...]

    @property
    def lowest_read(self) -> float:
        """The first value over 0 that it shows [mg/L]; infinite where it shows none."""
        return min((float(pad.to("mg/L")) for pad in self.pads if pad.value > 0), default=math.inf)
