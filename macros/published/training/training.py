"""How a helper is trained and signed off, as published: units, modules, the trainer's sheet, chemicals, runs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from macros.ground.field_types import Count, Identifier, Mapped, Name, Text
from macros.ground.names import gaps
from macros.ground.records import Record
from macros.published import published
from macros.published.names import DocumentId, Substance, Unit


class TrainingUnits(Record):
    """`training_units.yml`."""

    units: Mapped[Identifier, Name]


def training_units() -> Mapping[str, str]:
    """The units a helper is trained in: id -> name, in the order in which they are passed."""
    return published(TrainingUnits, "training_units").units


class SignOffRules(Record):
    """`sign_off.yml`: months without the work and days after a sign-off, and how many runs a sign-off takes."""

    not_done_months: Count
    good_runs: Count
    unannounced_runs: Count
    recall_days: tuple[Count, ...]


def sign_off_rules() -> SignOffRules:
    """Runs, months and days of a sign-off."""
    return published(SignOffRules, "sign_off")


class Module(Record):
    """A module. `needs` are units passed first, `teaches` documents worked in shadow runs here."""

    unit: Unit
    needs: tuple[Unit, ...]
    level_before: Count
    level_after: Count
    teaches: tuple[DocumentId, ...]
    learns: Text
    get_ready: tuple[Text, ...]
    watch_for: tuple[Text, ...]
    mastered: tuple[Text, ...]
    source: Text

    @property
    def title(self) -> str:
        """The name of its unit."""
        return training_units()[self.unit]

    @property
    def short(self) -> str:
        """The short name: `M8`."""
        return short_name(self.unit)


def short_name(unit: str) -> str:
    """`M8` of `M8_cleanout`."""
    return unit.partition("_")[0]


class Run(Record):
    """What is said of the runs before a sign-off."""

    text: Annotated[Text, gaps("runs", "unannounced")]
    source: Text


class ReadyLine(Record):
    """One of the four lines of getting ready."""

    head: Text
    text: Annotated[Text, gaps("hours")]


class Pass(Record):
    """What the helper does, and what the trainer watches for."""

    what: Text
    watch: Text


class Trainer(Record):
    """Four steps of instruction."""

    get_ready: tuple[ReadyLine, ...]
    prepare: tuple[Text, ...]
    present: tuple[Text, ...]
    passes: tuple[Pass, ...]
    follow_up: tuple[Annotated[Text, gaps("days")], ...]
    source: Text


class ChemicalLessons(Record):
    """What is told of chemicals. `noticed` is by substance; one that is not listed there has the words `unlisted`."""

    module: Unit
    source: Text
    when: Text
    topics: tuple[Text, ...]
    work_practice: tuple[Text, ...]
    labels: Text
    unlisted: Text
    noticed: Mapped[Substance, Text]


class Training(Record):
    """`training.yml`; `modules` in the order in which they are passed."""

    modules: tuple[Module, ...]
    run: Run
    trainer: Trainer
    methods: tuple[Text, ...]
    chemicals: ChemicalLessons


def training() -> Training:
    """Modules, the trainer's sheet, and what is told of chemicals."""
    return published(Training, "training")
