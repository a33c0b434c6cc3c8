"""A procedure file: front matter as typed records, steps as data, body as prose.

From the steps alone come supplies, PPE, cautions, records, minutes and the checklist; nothing of these is
listed by hand.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from macros.house.base import Flag, Identifier, Number, Record

Text = str
"""A text of a page; it may hold `{{ amount("...") }}` and the other words of `words.py`."""

SECTIONS = ("Room and people", "Chemicals", "Cleaning", "Reservoirs", "Seed and plants", "Rounds", "Faults")
"""The sections a reader looks in, in the order of the menu."""

ROLES = ("acid", "base", "sanitizer")
"""Roles of chemicals a page may name instead of a house's own id, so that it fits any house."""


StateFact = Literal[
    "crop_present",
    "timer_controlled",
    "mains_device_present",
    "children_possible",
    "unattended",
    "spill",
    "water_below_minimum",
]
"""What an author may say of the state at a step; it wins over what the house says."""


class AmountAsk(Record):
    """An amount shown at a step: its id and, where the page's own keys do not settle it, the keys that do."""

    id: str
    of: dict[str, str] = Field(default_factory=dict)


class Handling(Record):
    """A chemical touched in a step: a house id, a role or `part`; and at which strength."""

    chemical: str
    at: str


class Wait(Record):
    """A wait after the step: at least, at most, and what then."""

    least: Text
    greatest: Text
    then: Text


class StepRecord(Record):
    """A value to write down, with the limits printed beside the blank."""

    quantity: Text
    limits: Text


class SafeToLeave(Record):
    """How long the work may stand after this step, and in which state."""

    for_: Text = Field(alias="for")
    as_: Text = Field(alias="as")


class Lift(Record):
    """Something carried: a container of the house and the heights it goes between."""

    container: str
    from_: Literal["floor", "knee", "waist", "shoulder", "above_shoulder"] = Field(alias="from")
    to: Literal["floor", "knee", "waist", "shoulder", "above_shoulder"]
    persons: Number = 1


class StepData(Record):
    """One step as written. `id` is stable: ticks, questions and sign-off hang on it."""

    id: Identifier
    do: Text
    action: str
    phase: Text = ""
    short: Text = ""
    repeat: Literal["task", "part", "tray", "variety"] | None = None
    only_with: str | None = None
    amount: tuple[AmountAsk, ...] = ()
    expect: Text = ""
    wait: Wait | None = None
    uses: tuple[Text, ...] = ()
    handles: tuple[Handling, ...] = ()
    lifts: tuple[Lift, ...] = ()
    near: tuple[Literal["mains", "lit_lamp", "top_tier", "open_water", "ladder"], ...] = ()
    where: Text = ""
    state: dict[StateFact, Flag] = Field(default_factory=dict)
    hands: Literal["0", "1", "2"] = "1"
    minutes: Text = "1"
    after: tuple[str, ...] = ()
    record: StepRecord | None = None
    critical: Flag = False
    hold: Flag = False
    easily_missed: Flag = False
    safe_to_leave: SafeToLeave | None = None
    reason: Text = ""


class Deviation(Record):
    """If something goes wrong: sign, act, who decides (a sign-off level), what to record."""

    sign: Text
    act: Text
    who: Literal["0", "1", "2", "3", "4"]
    record: Text


class ProcedureData(Record):
    """The front matter of one procedure."""

    id: str
    title: Text
    section: str
    for_each: Literal["system", "room"] = "room"
    job: Identifier | None = None
    sheet: Literal["one_page", "pages", "none"] = "pages"
    who: Literal["0", "1", "2", "3", "4"]
    purpose: Text
    when: Text
    not_for: Text
    before: tuple[Text, ...]
    steps: tuple[StepData, ...]
    done_when: tuple[Text, ...]
    clean_up: tuple[Text, ...]
    if_wrong: tuple[Deviation, ...]
    figures: tuple[Literal["planting_map", "level_stick", "topup_table"], ...] = ()
    references: tuple[str, ...] = ()
    see_also: tuple[str, ...] = ()
