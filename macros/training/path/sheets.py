"""The trainer's sheet and the training record of one module."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from macros.amounts import Register
from macros.manual.records.record_form import REVIEW_DAYS, kept_for
from macros.page_model.page import PageView
from macros.published.training.training import Trainer, sign_off_rules, training
from macros.training.path.chemicals import chemical_topics
from macros.training.path.path import ModuleView


@dataclass(frozen=True)
class TrainerView:
    """Four steps of instruction for one module. `get_ready` are the four lines of TWI; `told` is as published."""

    module: ModuleView
    told: Trainer
    house_name: str
    built_for: str
    get_ready: tuple[tuple[str, str], ...]
    follow_up: tuple[str, ...]
    mastered: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True)
class TrainingRecordView:
    """The record of one person in one module: a line for each topic, blanks for runs, method, result, signatures.

    A topic is (unit and page or subject, what it is, revision or empty).
    """

    module: ModuleView
    house_name: str
    built_for: str
    topics: tuple[tuple[str, str, str], ...]
    methods: tuple[str, ...]
    days: tuple[str, ...]
    reviewed_within: str
    kept: str

    @property
    def runs(self) -> tuple[str, ...]:
        """Heads of the columns for the dates of the runs."""
        return (*(f"Run {n}" for n in range(1, self.module.runs + 1)), "Unannounced")


def trainer_view(register: Register, module: ModuleView) -> TrainerView:
    """What the trainer does, from getting ready to following up."""
    told, house = training().trainer, register.house
    days = [str(day) for day in sign_off_rules().recall_days]
    return TrainerView(
        module,
        told,
        house.house.name,
        register.built_for.isoformat(),
        tuple(
            (line.head, line.text.format(hours=module.hours or "as long as it takes"))
            for line in told.get_ready
        ),
        tuple(line.format(days=f"{', '.join(days[:-1])} and {days[-1]}") for line in told.follow_up),
        (*module.data.mastered, module.run_text),
        tuple(dict.fromkeys((told.source, training().run.source, module.data.source))),
    )


def training_record(register: Register, module: ModuleView) -> TrainingRecordView:
    """The blank record of one person in this module."""
    house = register.house
    name = module.data.short
    topics = [(f"{name} {key}", title, revisions) for key, title, revisions in _taught(module)]
    topics += [(f"{name} chemicals", topic, "") for topic in chemical_topics(module.data.unit)]
    topics += [(name, line, "") for line in module.data.mastered]
    return TrainingRecordView(
        module,
        house.house.name,
        register.built_for.isoformat(),
        tuple(topics),
        training().methods,
        tuple(str(day) for day in sign_off_rules().recall_days),
        f"{REVIEW_DAYS} days",
        kept_for(house),
    )


def _taught(module: ModuleView) -> Iterator[tuple[str, str, str]]:
    """A line for each document, for it is signed off for every system at once: keys, title, revisions."""
    for document in dict.fromkeys(page.document for page in module.taught):
        pages = [page for page in module.taught if page.document == document]
        keys = ", ".join((pages[0].key, *(f"-{page.system}" for page in pages[1:])))
        yield keys, pages[0].title, ", ".join(dict.fromkeys(revision(page) for page in pages))


def revision(page: PageView) -> str:
    """The revision of a page, and that it is a draft."""
    return f"{page.control.revision}{' DRAFT' if page.control.draft_reasons else ''}"
