"""The trainer's sheet and the training record of one module."""

from __future__ import annotations

from dataclasses import dataclass

from macros.amounts import Register
from macros.manual.chemical_training import chemical_topics
from macros.manual.forms import REVIEW_DAYS, kept_for
from macros.manual.repeats import repeat_days
from macros.manual.training_path import ModuleView
from macros.manual.views import PageView
from macros.published import load


@dataclass(frozen=True)
class TrainerView:
    """Four steps of instruction for one module. `get_ready` are the four lines of TWI, `ready` the module's own list.

    `passes` are (what the helper does, what to watch for); `taught` the pages with their revisions.
    """

    module: ModuleView
    house_name: str
    built_for: str
    get_ready: tuple[tuple[str, str], ...]
    ready: tuple[str, ...]
    prepare: tuple[str, ...]
    present: tuple[str, ...]
    passes: tuple[tuple[str, str], ...]
    follow_up: tuple[str, ...]
    watch_for: tuple[str, ...]
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
    told, house = load("training")["trainer"], register.house
    days = [str(day) for day in repeat_days()]
    return TrainerView(
        module,
        house.house.name,
        register.built_for.isoformat(),
        tuple(
            (line["head"], line["text"].format(hours=module.hours or "as long as it takes"))
            for line in told["get_ready"]
        ),
        module.data.get_ready,
        tuple(told["prepare"]),
        tuple(told["present"]),
        tuple((one["what"], one["watch"]) for one in told["passes"]),
        tuple(line.format(days=f"{', '.join(days[:-1])} and {days[-1]}") for line in told["follow_up"]),
        module.data.watch_for,
        (*module.data.mastered, module.run_text),
        tuple(dict.fromkeys((told["source"], load("training")["run"]["source"], module.data.source))),
    )


def training_record(register: Register, module: ModuleView) -> TrainingRecordView:
    """The blank record of one person in this module."""
    told, house = load("training"), register.house
    name = module.data.short
    topics = [(f"{name} {page.key}", page.title, revision(page)) for page in module.taught]
    topics += [(f"{name} chemicals", topic, "") for topic in chemical_topics(module.data.unit)]
    topics += [(name, line, "") for line in module.data.mastered]
    return TrainingRecordView(
        module,
        house.house.name,
        register.built_for.isoformat(),
        tuple(topics),
        tuple(told["methods"]),
        tuple(str(day) for day in repeat_days()),
        f"{REVIEW_DAYS} days",
        kept_for(house),
    )


def revision(page: PageView) -> str:
    """The revision of a page, and that it is a draft."""
    return f"{page.control.revision}{' DRAFT' if page.control.draft_reasons else ''}"
