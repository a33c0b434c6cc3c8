"""Flood-and-drain systems: tank, pump, plumbing, trays, timer, lights."""

from __future__ import annotations

from typing import ClassVar, Literal

from macros.ground.field_types import (
    Airflow,
    AreaRate,
    BucketTest,
    ClockTime,
    Count,
    Duration,
    Flag,
    Fraction,
    Identifier,
    Length,
    Mass,
    Name,
    Power,
    Ppfd,
    Temperature,
    Volume,
    VolumeFlow,
)
from macros.ground.records import Record

Basis = Literal["measured", "label", "datasheet", "lab", "log", "policy", "assumption"]
Shape = Literal["box", "cylinder", "horizontal_cylinder", "cone_frustum", "tapered_box"]

SIZES: dict[str, tuple[str, ...]] = {
    "box": ("inside_length", "inside_width", "inside_height"),
    "cylinder": ("inside_diameter", "inside_height"),
    "horizontal_cylinder": ("inside_diameter", "inside_length"),
    "cone_frustum": ("inside_diameter_bottom", "inside_diameter_top", "inside_height"),
    "tapered_box": (
        "inside_length_bottom",
        "inside_length_top",
        "inside_width_bottom",
        "inside_width_top",
        "inside_height",
    ),
}
"""The measures each shape of tank needs, in the order of the calculations."""


class AirStones(Record):
    """Air stones in the tank."""

    count: Count
    airflow_each: Airflow


class Reservoir(Record):
    """The tank, measured inside with a tape; marks are heights of water above its floor."""

    basis: Basis | None = None
    shape: Shape
    inside_length: Length | None = None
    inside_width: Length | None = None
    inside_height: Length | None = None
    inside_diameter: Length | None = None
    inside_diameter_bottom: Length | None = None
    inside_diameter_top: Length | None = None
    inside_length_bottom: Length | None = None
    inside_length_top: Length | None = None
    inside_width_bottom: Length | None = None
    inside_width_top: Length | None = None
    fill_mark_height: Length
    pump_minimum_height: Length
    refill_mark_height: Length
    drain_valve: Flag = False
    left_after_draining: Volume | None = None
    water_temperature: Temperature | None = None
    air_stones: AirStones | None = None

    @property
    def height_field(self) -> str:
        """The field that says how high the tank is inside."""
        return "inside_diameter" if self.shape == "horizontal_cylinder" else "inside_height"


class Pump(Record):
    """The pump by its label; a bucket test at the top tray replaces the label."""

    basis: Basis | None = None
    flow_at_zero_head: VolumeFlow
    head_at_zero_flow: Length
    derate: Fraction | None = None
    bucket_test_at_top_tray: BucketTest = None


class Tubing(Record):
    """Supply tube from pump to top tray, for friction."""

    inside_diameter: Length
    length: Length
    fittings: Count = 0


class Plumbing(Record):
    """Pipes of a system and how its trays flood."""

    supply_tube_volume: Volume
    flood_order: Literal["simultaneous", "staggered"]
    standpipe_inside_diameter: Length | None = None
    drain_inside_diameter: Length | None = None
    tubing: Tubing | None = None


class Trays(Record):
    """Flood trays of a system, all alike, measured inside; `film_left` is the water that clings to their drained faces."""

    basis: Basis | None = None
    count: Count
    inside_length: Length
    inside_width: Length
    wall_height: Length
    flood_depth: Length
    overflow_head_allowed: Length | None = None
    left_in_tray_after_drain: Volume | None = None
    film_left: AreaRate | None = None
    top_tray_inlet_height_above_reservoir_floor: Length | None = None
    cup_plates_per_flood_tray: Count | None = None


class CupPlate(Record):
    """A plate with holes for cups."""

    rows: Count
    columns: Count
    hole_pitch: Length


class Timer(Record):
    """The flood timer."""

    type: Name | None = None
    smallest_step: Duration
    on_time_set: Duration
    floods_set: tuple[ClockTime, ...]
    longest_flood_allowed: Duration | None = None
    floods_in_dark: Flag = False


class Lights(Record):
    """Lamps over a system."""

    basis: Basis | None = None
    fixtures_per_shelf: Count | None = None
    power_per_fixture: Power | None = None
    canopy_ppfd: Ppfd | None = None
    on: ClockTime
    off: ClockTime
    hung_above_tray: Length | None = None
    lamp_risk_group: Count | None = None
    emits_uv: Flag | None = None


class Rack(Record):
    """The rack itself."""

    empty_mass: Mass | None = None
    shelf_rating: Mass | None = None
    fixed_to_wall: Flag | None = None


class System(Record):
    """One reservoir with the trays it floods. `id` is the letter people see everywhere."""

    why_needed: ClassVar = {
        "reservoir": (
            "Every page and dose here is for a tank whose pump floods trays; a shelf watered by hand or by drip, or a rack "
            "without a tank, is no such system",
            "Measure its tank; without one take the system out and write a page of its own under procedures/",
        )
    }

    id: Identifier
    name: Name
    rack: Rack | None = None
    fill_stage: Identifier
    reservoir: Reservoir
    pump: Pump | None = None
    plumbing: Plumbing | None = None
    trays: Trays
    cup_plate: CupPlate | None = None
    timer: Timer | None = None
    lights: Lights | None = None
