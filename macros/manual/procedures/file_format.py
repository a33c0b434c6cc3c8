"""A procedure file: front matter as typed records, steps as data, body as prose.

From the steps alone come supplies, PPE, cautions, records, minutes and the checklist; nothing of these is
listed by hand. A `Text` may hold `{{ amount("...") }}` and the other words of `words.py`.
"""

from __future__ import annotations

from typing import Any, ClassVar, Literal

from pydantic import Field, model_validator

from macros.ground.field_types import Flag, Identifier, Number, Text
from macros.ground.records import Record
from macros.manual.procedures.only_with import OnlyWithField
from macros.published.labour.effects import Does, RoomWords, Some
from macros.published.names import (
    AmountId,
    DocumentId,
    JobId,
    PageLoad,
    PagePlace,
    PageSource,
    PageThing,
    RowKey,
    Unit,
    Waivable,
)

SECTIONS = (
    "Room and people",
    "Chemicals",
    "Cleaning",
    "Tank and feed",
    "Seed and plants",
    "Rounds",
    "Faults",
)
"""The sections a reader looks in, in the order of the menu."""

Figure = Literal[
    "planting_map", "level_stick", "topup_table", "tray_section", "hole_section", "lamp_gap", "day_wheel", "chemical_shelf"
]  # fmt: skip
"""Drawings a page may ask for."""

LogField = Literal[
    "level", "added", "ec", "ec_after", "ph", "acid", "ph_after", "temperature", "strip_reading"
]  # fmt: skip
"""Fields of the house log that a step's value goes to."""

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
    """An amount shown at a step: its id and, where the page's own keys do not settle it, the keys that do.

    `means` says at the number what it is not, where a reader could take it so: the most that may be, or all in the tank.
    """

    id: AmountId
    means: Text = ""
    of: dict[str, str] = Field(default_factory=dict)


class Handling(Record):
    """A chemical touched in a step: a house id, a role or `part`; and at which strength."""

    chemical: str
    at: str


class Wait(Record):
    """A wait after the step: at least, at most, what then, and what to do when the time was missed."""

    least: Text
    greatest: Text
    then: Text
    missed: Text = ""


class StepRecord(Record):
    """A value to write down, with the limits printed beside the blank; `outside` is what to do then, in few words.

    For a value typed on a phone, `unit` is the unit it is in, `least` and `most` are the ends of its limits as plain
    numbers (`most_fact` a fact of the house, by its path), and `log` is the field of the house log it goes to.
    """

    quantity: Text
    limits: Text
    outside: Text | None = None
    unit: Text = ""
    least: Text = ""
    most: Text = ""
    most_fact: str = ""
    log: LogField | None = None


class SafeToLeave(Record):
    """How long the work may stand after this step, and in which state.

    `stands` says what of `as` is done on leaving, in words of the room: the drawing shows it so.
    """

    for_: Text = Field(alias="for")
    as_: Text = Field(alias="as")
    stands: RoomWords | None = None


class Lift(Record):
    """Something carried: a container of the house and the heights it goes between."""

    container: PageLoad
    from_: Literal["floor", "knee", "waist", "shoulder", "above_shoulder"] = Field(alias="from")
    to: Literal["floor", "knee", "waist", "shoulder", "above_shoulder"]
    persons: Number = 1


class StepData(Record):
    """One step as written. `id` is stable: ticks, questions and sign-off hang on it.

    `looks_up` names the tables of the page the step is done by: on a phone they stand with it.

    `does` says what the action cannot know of itself, and `needs` what must be so beside what the action needs;
    the rehearsal runs the step by both. A step with `only_when` is left out while the room stands otherwise.
    """

    id: Identifier
    do: Text
    action: str
    phase: Text = ""
    short: Text = ""
    repeat: Literal["task", "part", "tray", "variety", "system", "rinse"] | None = None
    only_with: OnlyWithField | None = None
    amount: tuple[AmountAsk, ...] = ()
    looks_up: tuple[str, ...] = ()
    expect: Text = ""
    wait: Wait | None = None
    uses: tuple[PageThing, ...] = ()
    handles: tuple[Handling, ...] = ()
    lifts: tuple[Lift, ...] = ()
    near: tuple[Literal["mains", "lit_lamp", "top_tier", "open_water", "ladder", "dry_plugs"], ...] = ()
    where: PagePlace = ""
    state: dict[StateFact, Flag] = Field(default_factory=dict)
    does: Does | None = None
    needs: RoomWords | None = None
    only_when: RoomWords | None = None
    hands: Literal["0", "1", "2"] = "1"
    minutes: Text = "1"
    after: tuple[str, ...] = ()
    record: StepRecord | None = None
    doer: Text = ""
    one_of: tuple[Text, ...] = ()
    until: Text = ""
    critical: Flag = False
    hold: Flag = False
    easily_missed: Flag = False
    safe_to_leave: SafeToLeave | None = None
    reason: Text = ""


class Before(Record):
    """What must be so before the page begins, and who brings it about.

    `by` names a page, a rhythm of `frequencies.yml`, or one of: supply (it is fetched), people (hands, gear, who is there),
    owner (it is decided and on file), look (the one who begins looks and does not begin without).
    """

    alone: ClassVar[str] = "say"

    say: Text
    by: Some[str] = ()

    @model_validator(mode="before")
    @classmethod
    def _said_alone(cls, written: Any) -> Any:
        return {cls.alone: written} if isinstance(written, str) else written


DeviationKind = Literal["spill", "exposure", "out_of_range", "power_loss", "interrupted", "other"]
"""What goes wrong. A page tells each kind that its own steps can meet."""


class Deviation(Record):
    """If something goes wrong: kind, sign, act, who decides (a sign-off level), what to record.

    `of` names the steps whose value it is about: a phone tells the act where that value is outside its limits.
    """

    kind: DeviationKind = "other"
    of: tuple[str, ...] = ()
    sign: Text
    act: Text
    who: Literal["0", "1", "2", "3", "4"]
    record: Text


class OutsideFigure(Record):
    """A figure written on the page that this house did not work out, and the key of its source."""

    figure: Text
    source: PageSource


class CleaningFacts(Record):
    """What a cleaning page says beside its steps: how things come apart, stay clean, and are looked at before use."""

    take_apart: Text
    protect_until_use: Text
    inspect_before_use: Text


class Waiver(Record):
    """A requirement this page does not meet, by its id, and why that is right here."""

    line: Waivable
    reason: Text


class Drop(Record):
    """A step of the shipped page that a house's own page leaves out, and why."""

    step: str
    reason: Text


class TableColumn(Record):
    """A column of a table: an amount by its id, or a fact of the record the row is about."""

    head: Text
    amount: AmountId | None = None
    of: dict[str, str] = Field(default_factory=dict)
    fact: str | None = None


class TableAsk(Record):
    """A table on the page: a table amount as it is, or rows over one key with a column for each amount or fact.

    `by` is a key of amounts: variety, chemical, system, growth_stage ... A step looks a table up by its `name`, or by
    its amount.
    """

    title: Text
    name: Identifier | None = None
    amount: AmountId | None = None
    by: RowKey | None = None
    columns: tuple[TableColumn, ...] = ()

    @property
    def looked_up_as(self) -> str:
        """What a step calls it; empty for a table no step can name."""
        return self.name or self.amount or ""


class ProcedureData(Record):
    """The front matter of one procedure. `emergency` is the word on its button; such a page has three `first_lines`.

    `starts_from` and `ends_in` say how the system stands before the first step and after the last; "Before you start" and
    "Done when" begin with it. `checklist` gives the page a checklist of its steps that must not be missed: read each item, then do it; or do the
    work from memory, then confirm each item. `log_note` is what the house log notes of its readings; `searched_as` are
    words people type that no title has.
    """

    id: str
    title: Text
    section: str
    for_each: Literal["system", "room"] = "room"
    job: JobId | None = None
    log_note: Text = ""
    sheet: Literal["one_page", "pages", "none"] = "pages"
    checklist: Literal["read_do", "do_confirm"] | None = None
    who: Literal["0", "1", "2", "3", "4"]
    purpose: Text
    when: Text
    not_for: Text
    starts_from: RoomWords | None = None
    ends_in: RoomWords | None = None
    before: tuple[Before, ...]
    steps: tuple[StepData, ...]
    done_when: tuple[Text, ...]
    clean_up: tuple[Text, ...]
    if_wrong: tuple[Deviation, ...]
    first_lines: tuple[Text, ...] = ()
    emergency: Text = ""
    units: tuple[Unit, ...] = ()
    cleaning: CleaningFacts | None = None
    figures: tuple[Figure, ...] = ()
    tables: tuple[TableAsk, ...] = ()
    outside_figures: tuple[OutsideFigure, ...] = ()
    waive: tuple[Waiver, ...] = ()
    drops: tuple[Drop, ...] = ()
    references: tuple[PageSource, ...] = ()
    see_also: tuple[DocumentId, ...] = ()
    searched_as: tuple[Text, ...] = ()
    reckoners: tuple[Literal["level", "ec", "ph", "missed_flood", "strip", "batch", "order"], ...] = ()
