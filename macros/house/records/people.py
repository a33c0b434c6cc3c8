"""People, policies, labour, supplies, training and document control."""

from __future__ import annotations

from datetime import date
from typing import Literal

from pydantic import Field

from macros.ground.field_types import (
    Count,
    Day,
    Duration,
    Flag,
    Fraction,
    Identifier,
    Length,
    Mass,
    Name,
    Number,
    StrengthField,
    Temperature,
    Text,
    Volume,
    VolumePerDay,
    Wage,
)
from macros.ground.records import Record
from macros.house.records.systems import Basis


class Person(Record):
    """A role and what it may do. `initials` are those of the one person who has it, as they stand on sign-offs and on paper;
    `starts` is its first day of work.
    """

    role: Identifier
    initials: Name | None = None
    starts: Day | None = None
    may: tuple[Name, ...] = ()
    sheets_signed: Name | None = None
    sign_off_level: Count | None = None
    away: tuple[Day, ...] = ()

    def is_there(self, day: date) -> bool:
        """Whether the role works in the house by that day and is not away on it."""
        return day not in self.away and self.has_started(day)

    def has_started(self, day: date) -> bool:
        """Whether its first day of work has come; a role that names none was always there."""
        return self.starts is None or self.starts <= day

    @property
    def level(self) -> int:
        """What the role may do alone from its first day on, 0 to 4; who may do all, trains others."""
        if self.sign_off_level is not None:
            return self.sign_off_level
        return 4 if "all" in self.may else 0


class Lifting(Record):
    """The house's limits on lifting; `reach` is ankles to hands, `lift_from` and `lift_to` the heights of the hands."""

    basis: Basis | None = None
    one_person_limit: Mass
    two_person_limit: Mass
    reach: Length | None = None
    lift_from: Length | None = None
    lift_to: Length | None = None


class Labour(Record):
    """What an hour costs and how long a shift is."""

    cost: Wage | None = None
    two_people_share: Fraction | None = None
    longest_shift: Duration | None = None


class CleanoutTask(Record):
    """A stage of the cleanout day as the owner times it; `next_day` marks one done on the day after."""

    id: Identifier
    hands_on: Duration
    wait: Duration
    after: tuple[Identifier, ...] = ()
    next_day: Flag = False


class Margins(Record):
    """The house's own margins."""

    basis: Basis | None = None
    sowing_certainty: Fraction | None = None
    topup_strength: Fraction | None = None
    reserve_volume: Volume | None = None
    loop_volume_margin: Fraction | None = None
    open_water_evaporation: VolumePerDay | None = None


class Supplies(Record):
    """How stocks are reordered. `tool_dip_every` is how long one jar of tool dip stands before a fresh one."""

    lead_time: Duration
    safety_fraction: Fraction
    tool_dip_every: Duration | None = None


class Disposal(Record):
    """Where waste may go."""

    spent_solution_to: Text | None = None
    dilute_peroxide_below: StrengthField | None = None
    dilute_chlorine_below: StrengthField | None = None
    dilute_peracetic_acid_below: StrengthField | None = None
    dilute_quaternary_ammonium_below: StrengthField | None = None
    plant_waste_to: Text | None = None


class Policies(Record):
    """Rules the owner has set. Initials stay off the published site unless `publish_names` is yes.

    `unapproved` says what becomes of a page that is not issued as it is: `draft` marks it, `refuse` stops the build.
    """

    peroxide_or_acid_alone_in_room: Flag = False
    spill_limit: Volume | None = None
    reservoir_change_every: Duration | None = None
    daily_log_kept_for: Duration | None = None
    harvest_hold_after_any_spray: Text | None = None
    cold_store: Temperature | None = None
    flower_shelf_life: Duration | None = None
    leaf_shelf_life: Duration | None = None
    allergen_notice_to_kitchen: Flag | None = None
    nobody_eats_in_room: Flag | None = None
    publish_names: Flag = False
    unapproved: Literal["draft", "refuse"] = "draft"
    disposal: Disposal | None = None


class Training(Record):
    """How a helper is trained."""

    trainee_shadow_runs: Number
    modules: dict[str, Duration] = Field(default_factory=dict)


class Issued(Record):
    """One issue of a page, checklist or card: who approved which values when, and why.

    `noted` is the day of a correction that changed no meaning: it keeps revision and effective day, and no sign-off is
    opened by it. `trayside issue` writes these entries.
    """

    page: Name
    revision: Count
    effective: Day
    approved_by: Name
    why: Text
    values_code: Name
    retrain: Literal["yes", "no"] | None = None
    noted: Day | None = None
