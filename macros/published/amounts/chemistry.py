"""Constants of water chemistry as typed records; units and sources stand in the file."""

from __future__ import annotations

from typing import Annotated

from pydantic import WithJsonSchema

from macros.ground.field_types import Number, Text
from macros.ground.records import Record
from macros.published import published

Constant = Annotated[Number, WithJsonSchema({"type": ["number", "string"]})]
"""Written in quotes, so that no editor rounds it."""

Coefficients = tuple[Constant, Constant, Constant, Constant, Constant]


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

    pk: tuple[Constant, ...]
    enthalpy: tuple[Constant, ...]


class Acids(Sourced):
    """The acids that are known."""

    phosphoric: Acid
    citric: Acid
    sulfuric: Acid
    nitric: Acid


class Davies(Sourced):
    """A of the Davies equation at 25 degC, and its change a degree."""

    at_25: Constant
    per_degree: Constant


class IonPairs(Sourced):
    """Association constants at 25 degC, log10 K."""

    CaHPO4: Constant
    MgHPO4: Constant
    CaH2PO4: Constant
    MgH2PO4: Constant
    CaHCO3: Constant
    MgHCO3: Constant
    CaSO4: Constant
    MgSO4: Constant


class Chemistry(Record):
    """The file."""

    carbonate: Carbonate
    acids: Acids
    davies: Davies
    pairs: IonPairs


def chemistry() -> Chemistry:
    """The file."""
    return published(Chemistry, "chemistry")
