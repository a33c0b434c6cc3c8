"""Constants of water chemistry as typed records; units and sources stand in the file."""

from __future__ import annotations

from macros.field_types import Number, Text
from macros.published import published
from macros.records import Record

Coefficients = tuple[Number, Number, Number, Number, Number]


class Sourced(Record):
    """Where a group of constants is from."""

    source: Text
    obtained: Text


class Carbonate(Sourced):
    """log10 K = A + B*T + C/T + D*log10(T) + E/T^2, T [K]."""

    K1: Coefficients
    K2: Coefficients
    Kw: Coefficients


class Acid(Record):
    """pK at 25 degC, first dissociation first; enthalpy of dissociation [J/mol]."""

    pk: tuple[Number, ...]
    enthalpy: tuple[Number, ...]


class Acids(Sourced):
    """The acids that are known."""

    phosphoric: Acid
    citric: Acid
    sulfuric: Acid
    nitric: Acid


class Davies(Sourced):
    """A of the Davies equation at 25 degC, and its change a degree."""

    at_25: Number
    per_degree: Number


class IonPairs(Sourced):
    """Association constants at 25 degC, log10 K."""

    CaHPO4: Number
    MgHPO4: Number
    CaH2PO4: Number
    MgH2PO4: Number
    CaHCO3: Number
    MgHCO3: Number
    CaSO4: Number
    MgSO4: Number


class Chemistry(Record):
    """The file."""

    carbonate: Carbonate
    acids: Acids
    davies: Davies
    pairs: IonPairs


def chemistry() -> Chemistry:
    """The file."""
    return published(Chemistry, "chemistry")
