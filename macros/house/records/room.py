"""The house itself, its room, electricity and water."""

from __future__ import annotations

from typing import Literal

from macros.ground.field_types import (
    Airflow,
    Conductivity,
    Current,
    Day,
    EnergyPrice,
    Flag,
    Fraction,
    Identifier,
    Length,
    MassConcentration,
    Name,
    Ph,
    Power,
    ProgramVersion,
    Temperature,
    Voltage,
    VolumeFlow,
    VolumePerDay,
)
from macros.ground.records import Record
from macros.house.records.systems import Basis

PLACEHOLDER = "fill in before printing"


def open_fields(record: Record) -> tuple[str, ...]:
    """The fields of a record whose text still is the placeholder."""
    values = ((name, getattr(record, name)) for name in type(record).model_fields)
    return tuple(name for name, text in values if isinstance(text, str) and PLACEHOLDER in text.lower())


class Emergency(Record):
    """Numbers to ring. A number that still reads "fill in before printing" makes every sheet a draft."""

    ambulance_fire: Name
    poison_line: Name
    owner_phone: Name

    def unfilled(self) -> tuple[str, ...]:
        """The numbers that are not real yet."""
        return open_fields(self)


class Places(Record):
    """Where things are, in the words people of the house use. `street_address` is what is said to the ambulance;
    `gas_shutoff` may read "no gas in the house".
    """

    handwash: Name | None = None
    eyewash: Name | None = None
    first_aid: Name | None = None
    breaker_panel: Name | None = None
    water_shutoff: Name | None = None
    spill_kit: Name | None = None
    drain_for_waste: Name | None = None
    street_address: Name | None = None
    gas_shutoff: Name | None = None

    def unfilled(self) -> tuple[str, ...]:
        """The places nobody has written down yet."""
        return open_fields(self)


class HouseFacts(Record):
    """Name, units and people in charge. `paper` is what the printer holds, `made_with` the version of the program whose
    facts the owner has looked at.
    """

    name: Name
    made_with: ProgramVersion | None = None
    manual_version: Name | None = None
    as_of: Day | None = None
    unit_style: Literal["metric", "us"] = "metric"
    paper: Literal["A4", "Letter"] | None = None
    language: Identifier = "en"
    currency: Name | None = None
    site_address: Name | None = None
    children_possible: Flag | None = None
    emergency: Emergency
    responsible_person: Name | None = None
    places: Places

    @property
    def who_decides(self) -> str:
        """Who decides in this house, as the pages call them."""
        person = self.responsible_person
        return "the owner" if person in (None, "owner") else f"the {person}"


class Room(Record):
    """The room: size and air."""

    basis: Basis | None = None
    length: Length | None = None
    width: Length | None = None
    height: Length | None = None
    floor: Name | None = None
    coldest_surface_temperature: Temperature | None = None
    air_temperature_lights_on: Temperature | None = None
    air_temperature_lights_off: Temperature | None = None
    relative_humidity_lights_on: Fraction | None = None
    relative_humidity_lights_off: Fraction | None = None
    supply_air_temperature: Temperature | None = None
    supply_air_relative_humidity: Fraction | None = None
    exhaust_fan_flow_installed: Airflow | None = None
    dehumidifier_rating: VolumePerDay | None = None
    altitude: Length | None = None


class Circuit(Record):
    """One breaker."""

    id: Identifier
    breaker: Current
    rcd: Current | None = None
    continuous_fraction_allowed: Fraction | None = None


class Load(Record):
    """One plugged thing; the `current` on its label, where there is one, beats power over voltage.

    `continuous` tells whether it ever runs 3 h or more without a rest.
    """

    name: Name
    power: Power
    current: Current | None = None
    continuous: Flag | None = None
    circuit: Identifier


class Electricity(Record):
    """Supply, breakers and what hangs on them."""

    basis: Basis | None = None
    supply_voltage: Voltage
    price: EnergyPrice | None = None
    rcd_tested: Day | None = None
    circuits: tuple[Circuit, ...] = ()
    loads: tuple[Load, ...] = ()


class WaterSource(Record):
    """The tap water, as tested."""

    name: Name | None = None
    basis: Basis | None = None
    tested: Day | None = None
    ph: Ph
    ec: Conductivity
    alkalinity_as_caco3: MassConcentration
    calcium: MassConcentration | None = None
    sodium: MassConcentration | None = None
    chloride: MassConcentration | None = None
    free_chlorine: MassConcentration | None = None
    temperature: Temperature | None = None
    flow_at_tap: VolumeFlow | None = None
