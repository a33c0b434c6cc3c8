"""All that a house prints beside its controlled items, each thing as lines: labels, questions, the paper of training.

A controlled item is a page, a checklist or a wall card, and is issued. A thing follows from items: when they are issued
anew it is printed anew. What says which copy it is (revision, code, day, draft) is no line here either.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256

from macros.amounts import Register
from macros.manual.pages.printed_lines import LineKind, PrintedLine
from macros.page_model.job_breakdown import BreakdownView
from macros.page_model.page import PageView
from macros.paper.labels.all_labels import house_labels
from macros.paper.labels.label import LabelRow, LabelView
from macros.training.path.naming_test import Plant, plants_of
from macros.training.path.path import ModuleView, training_path
from macros.training.path.sheets import TrainerView, TrainingRecordView, trainer_view, training_record
from macros.training.self_checks.all_questions import short_name
from macros.training.self_checks.question import QuestionView

MOST_TESTS = 6
"""Steps a question names on the trainer's key; how many more it tests is told as a number."""
MOST_ALIKE = 3
"""Look-alikes a plant card tells apart."""


@dataclass(frozen=True)
class PrintedThing:
    """One thing the house prints or shows: its own key, its kind in words, and its lines in order.

    `pages` are the keys of the controlled items it follows from; none means that it follows from the whole house.
    `kept` tells that its old lines are kept, so that old and new values can be told; else only that it differs.
    """

    key: str
    kind: str
    title: str
    address: str
    pages: tuple[str, ...]
    lines: tuple[PrintedLine, ...]
    kept: bool = True

    @property
    def code(self) -> str:
        """Fingerprint of its texts in their order: 16 hex digits of SHA-256."""
        return sha256("\n".join(line.text for line in self.lines).encode()).hexdigest()[:16]


def printed_things(
    register: Register, views: Sequence[PageView], questions: Sequence[QuestionView]
) -> Iterator[PrintedThing]:
    """Labels, then the questions of each unit with their two papers, then the paper of training, then plant cards."""
    yield from _labels(register, views)
    yield from _questions(register.house.house.name, views, questions)
    yield from _training(register, views)
    plants = plants_of(register.house)
    if len(plants) > 1:
        house = PrintedLine("house", "text", register.house.house.name)
        lines = [house, *(line for plant in plants for line in _plant(plant))]
        yield PrintedThing(
            "NAMING-CARDS", "plant cards", "Plant cards", "training/naming.html", (), _told(lines)
        )


# ------------------------------------------------------------------ labels


def _labels(register: Register, views: Sequence[PageView]) -> Iterator[PrintedThing]:
    seen: dict[str, int] = {}
    for label in house_labels(register, views):
        key = f"LABEL {label.kind}: {label.what}"
        times = seen[key] = seen.get(key, 0) + 1
        source = next((view for view in views if view.key == label.source.key), None)
        yield PrintedThing(
            key if times == 1 else f"{key} ({times})",
            "label",
            label.what,
            source.page_address if source else "",
            (source.key,) if source else (),
            _told(_label(label)),
        )


def _label(label: LabelView) -> Iterator[PrintedLine]:
    yield PrintedLine("name", "text", label.name)
    yield PrintedLine("under the name", "text", label.sub)
    yield PrintedLine("system", "text", label.badge)
    for row in label.rows:
        yield from _row(row)
    yield PrintedLine("house", "text", label.source.house_name)
    yield PrintedLine("figures of", "text", label.source.key)


def _row(row: LabelRow) -> Iterator[PrintedLine]:
    place = row.head.rstrip(":") or "row"
    kind: LineKind = "caution" if row.word else "amount"
    yield PrintedLine(place, kind, " ".join(one for one in (row.word, row.head, row.text) if one))
    for blank in row.blanks:
        yield PrintedLine("to write", "text", f"{blank.head} {blank.after}".strip())


# ------------------------------------------------------------------ questions


def _questions(
    house_name: str, views: Sequence[PageView], questions: Sequence[QuestionView]
) -> Iterator[PrintedThing]:
    titles = {view.key: view.title for view in views}
    for module in dict.fromkeys(question.module for question in questions):
        name = short_name(module)
        own = [question for question in questions if question.module == module]
        pages = tuple(dict.fromkeys(target.page_key for question in own for target in question.tests))
        address = f"training/check-{name.lower()}.html"
        heads = {q.id: _heading(q, titles) for q in own}
        shown = [line for q in own for line in _self_check(q, heads[q.id])]
        house = PrintedLine("house", "text", house_name)
        key = [house, *(line for n, q in enumerate(own, start=1) for line in _key(n, q, heads[q.id]))]
        asked = [house, *(line for n, q in enumerate(own, start=1) for line in _asked(n, q, heads[q.id]))]
        yield PrintedThing(
            f"QUESTIONS-{name}", "questions", f"Self-check {name}", address, pages, _told(shown)
        )
        yield PrintedThing(
            f"ASK-{name}", "question sheet", f"Question sheet {name}", address, pages, _told(asked), False
        )
        yield PrintedThing(
            f"KEY-{name}", "trainer's key", f"Trainer's key {name}", address, pages, _told(key), False
        )


def _heading(question: QuestionView, titles: dict[str, str]) -> str:
    caution = bool(question.tests[0].caution) and not question.template
    return "Cautions" if caution else titles[question.page_key]


def _self_check(question: QuestionView, heading: str) -> Iterator[PrintedLine]:
    """What the page asks, and what its script judges by."""
    place = f"question {question.id}"
    yield PrintedLine(f"{place}: under", "text", heading)
    yield PrintedLine(place, "text", f"{question.scope} {question.text}".strip())
    yield PrintedLine(f"{place}: answer", "amount", _pieces(question.answer, question.unit, question.tool))
    yield PrintedLine(f"{place}: right within", "limit", question.tolerance)
    yield PrintedLine(f"{place}: why", "text", question.why)
    yield PrintedLine(f"{place}: kind", "text", question.kind)
    for text, means in question.wrong:
        yield PrintedLine(f"{place}: wrong answer", "text", f"{text}: {means}")
    for head, texts in (("choice", question.choices), ("order", question.items)):
        for text in texts:
            yield PrintedLine(f"{place}: {head}", "text", text)
    yield PrintedLine(f"{place}: stands at", "text", f"{question.page_key}, step {question.step_number}")


def _key(number: int, question: QuestionView, heading: str) -> Iterator[PrintedLine]:
    place = f"question {question.id}"
    why = question.why if question.why != question.answer else ""
    tests = [f"{target.page_key} step {target.number}" for target in question.tests]
    more = f"{len(tests) - MOST_TESTS} more" if len(tests) > MOST_TESTS else ""
    texts = (
        heading,
        str(number),
        question.scope,
        question.text,
        question.answer,
        question.tool,
        question.tolerance,
        why,
    )
    for text in (
        *texts,
        *(_pieces(*pair) for pair in question.wrong),
        question.id,
        *tests[:MOST_TESTS],
        more,
    ):
        yield PrintedLine(place, "text", text)


def _asked(number: int, question: QuestionView, heading: str) -> Iterator[PrintedLine]:
    choices = (
        ("yes", "no") if question.kind == "yes_no" else question.choices if question.kind == "choice" else ()
    )
    unit = question.unit if question.kind == "number" else ""
    tool = "tool" if question.kind == "number" and question.tool else ""
    for text in (heading, str(number), question.scope, question.text, *choices, unit, tool):
        yield PrintedLine(f"question {question.id}", "text", text)


# ------------------------------------------------------------------ training


def _training(register: Register, views: Sequence[PageView]) -> Iterator[PrintedThing]:
    path = training_path(register, views)
    for module in path.modules if path else ():
        name, taught = module.data.short, tuple(page.key for page in module.taught)
        trainer = _trainer(trainer_view(register, module))
        record = _record(training_record(register, module))
        yield PrintedThing(
            f"{name}-trainer",
            "trainer's sheet",
            f"Trainer's sheet {name}",
            module.trainer_address,
            taught,
            _told(trainer),
        )
        for sheet in module.sheets:
            title = f"Breakdown {sheet.number} of {sheet.count}: {sheet.page.title}"
            lines = _told(_breakdown(sheet))
            yield PrintedThing(
                sheet.key, "breakdown sheet", title, module.address, (sheet.page.key,), lines, False
            )
        yield PrintedThing(
            f"{name}-record",
            "training record",
            f"Training record {name}",
            module.address,
            taught,
            _told(record),
        )


def _trainer(view: TrainerView) -> Iterator[PrintedLine]:
    data = view.module.data
    yield PrintedLine("title", "text", view.module.title)
    yield PrintedLine("house", "text", view.house_name)
    yield PrintedLine("level", "text", f"{data.level_before} to {data.level_after}")
    for place, texts in (
        ("passed before", [short_name(unit) for unit in data.needs]),
        ("get ready", [_pieces(*pair) for pair in view.get_ready]),
        ("get ready", data.get_ready),
        ("pages", list(dict.fromkeys(page.document for page in view.module.taught))),
        ("prepare", view.told.prepare),
        ("present", view.told.present),
        ("try out", [_pieces(one.what, one.watch) for one in view.told.passes]),
        ("watch for", data.watch_for),
        ("passed when", view.mastered),
        ("follow up", view.follow_up),
    ):
        for text in texts:
            yield PrintedLine(place, "text", text)


def _record(view: TrainingRecordView) -> Iterator[PrintedLine]:
    module: ModuleView = view.module
    yield PrintedLine("title", "text", module.title)
    yield PrintedLine("house", "text", view.house_name)
    yield PrintedLine("unit", "text", module.data.unit)
    for place, texts in (
        ("runs", view.runs),
        ("topic", [_pieces(key, text) for key, text, _ in view.topics]),
        ("rule", [module.run_text, *view.methods, *view.days]),
        ("kept", [view.reviewed_within, view.kept]),
    ):
        for text in texts:
            yield PrintedLine(place, "text", text)


def _breakdown(view: BreakdownView) -> Iterator[PrintedLine]:
    for text in (
        view.page.house_name,
        view.page.title,
        view.page.system,
        view.page.key,
        f"{view.number} of {view.count}",
        *view.phases,
    ):
        yield PrintedLine("head", "text", text)
    for step in view.steps:
        yield PrintedLine(f"step {step.id}", "text", _pieces(str(step.number), step.mark, step.text))
        for group in step.groups:
            for point in group.points:
                yield PrintedLine(f"step {step.id}: key point", "text", point)
            yield PrintedLine(f"step {step.id}: reason", "text", group.reason)


def _plant(plant: Plant) -> Iterator[PrintedLine]:
    place = f"plant {plant.number}"
    for text in (str(plant.number), plant.name, plant.botanical, plant.eaten, plant.leaf):
        yield PrintedLine(place, "text", text)
    for name, leaf in plant.alike[:MOST_ALIKE]:
        yield PrintedLine(f"{place}: not", "text", _pieces(name, leaf))
    if len(plant.alike) > MOST_ALIKE:
        yield PrintedLine(f"{place}: more", "text", str(len(plant.alike) - MOST_ALIKE))


# ------------------------------------------------------------------ parts


def _pieces(*texts: str) -> str:
    return ", ".join(text for text in texts if text)


def _told(lines: Iterator[PrintedLine] | Sequence[PrintedLine]) -> tuple[PrintedLine, ...]:
    """The lines that hold a text."""
    return tuple(line for line in lines if line.text)
