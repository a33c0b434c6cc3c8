"""All that a house prints beside its controlled items, each thing as lines: labels, questions, the paper of training.

A controlled item is a page, a checklist or a wall card, and is issued. A thing follows from items: when they are issued
anew it is printed anew. What says which copy it is (revision, code, day, draft) is no line here either.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256

from macros.amounts import Register
from macros.control.documents.trace_form import ADDRESS as TRACE_ADDRESS
from macros.control.documents.trace_form import KEY as TRACE
from macros.control.documents.trace_form import TITLE as TRACE_TITLE
from macros.control.documents.trace_form import trace_lines
from macros.manual.pages.printed_lines import LineKind, PrintedLine, photo_line, room_lines
from macros.page_model.job_breakdown import BreakdownView
from macros.page_model.page import PageView
from macros.paper.labels.all_labels import house_labels
from macros.paper.labels.label import LabelView
from macros.photographs import NO_PHOTOGRAPHS, Photographs
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
    register: Register,
    views: Sequence[PageView],
    questions: Sequence[QuestionView],
    photographs: Photographs = NO_PHOTOGRAPHS,
) -> Iterator[PrintedThing]:
    """Labels, the form of a traced lot, then the questions of each unit with their two papers, then the paper of training, then plant cards."""
    house = _at("house", register.house.house.name)
    yield from _labels(register, views, photographs)
    form = _at("form", *trace_lines(register.house))
    yield PrintedThing(TRACE, "trace form", TRACE_TITLE, TRACE_ADDRESS, (), form)
    for module in dict.fromkeys(question.module for question in questions):
        yield from _questions(house, views, [one for one in questions if one.module == module])
    path = training_path(register, views)
    for unit in path.modules if path else ():
        yield from _training(register, unit)
    plants = plants_of(register.house, photographs)
    if len(plants) > 1:
        lines = (*house, *(line for plant in plants for line in _plant(plant)))
        yield PrintedThing("NAMING-CARDS", "plant cards", "Plant cards", "training/naming.html", (), lines)


def _at(place: str, *texts: str, kind: LineKind = "text") -> tuple[PrintedLine, ...]:
    """The texts that stand at one place; an empty one is no line."""
    return tuple(PrintedLine(place, kind, text) for text in texts if text)


def _pieces(*texts: str) -> str:
    return ", ".join(text for text in texts if text)


def _labels(
    register: Register, views: Sequence[PageView], photographs: Photographs
) -> Iterator[PrintedThing]:
    addresses = {view.key: view.page_address for view in views}
    seen: Counter[str] = Counter()
    for label in house_labels(register, views, photographs=photographs):
        key = f"LABEL {label.kind}: {label.what}"
        seen[key] += 1
        key += f" ({seen[key]})" if seen[key] > 1 else ""
        page = label.source.key
        yield PrintedThing(
            key, "label", label.what, addresses.get(page, ""), (page,) if page else (), tuple(_label(label))
        )


def _label(label: LabelView) -> Iterator[PrintedLine]:
    yield from _at("name", label.name)
    yield from _at("under the name", label.sub)
    yield from _at("system", label.badge)
    if label.photo is not None:
        yield photo_line("photograph", label.photo)
    for row in label.rows:
        text = " ".join(one for one in (row.word, row.head, row.text) if one)
        yield from _at(row.head.rstrip(":") or "row", text, kind="caution" if row.word else "amount")
        yield from _at("to write", *(f"{blank.head} {blank.after}".strip() for blank in row.blanks))
    yield from _at("house", label.source.house_name)
    yield from _at("figures of", label.source.key)


# ------------------------------------------------------------------ questions


def _questions(
    house: tuple[PrintedLine, ...], views: Sequence[PageView], own: Sequence[QuestionView]
) -> Iterator[PrintedThing]:
    """The self-check of one unit, and its two papers."""
    titles = {view.key: view.title for view in views}
    name = short_name(own[0].module)
    address = f"training/check-{name.lower()}.html"
    pages = tuple(dict.fromkeys(target.page_key for question in own for target in question.tests))
    headed = [(number, one, _heading(one, titles)) for number, one in enumerate(own, start=1)]
    shown = tuple(line for _, one, heading in headed for line in _self_check(one, heading))
    asked = (*house, *(line for one in headed for line in _asked(*one)))
    key = (*house, *(line for one in headed for line in _key(*one)))
    yield PrintedThing(f"QUESTIONS-{name}", "questions", f"Self-check {name}", address, pages, shown)
    yield PrintedThing(
        f"ASK-{name}", "question sheet", f"Question sheet {name}", address, pages, asked, False
    )
    yield PrintedThing(f"KEY-{name}", "trainer's key", f"Trainer's key {name}", address, pages, key, False)


def _heading(question: QuestionView, titles: Mapping[str, str]) -> str:
    caution = bool(question.tests[0].caution) and not question.template
    return "Cautions" if caution else titles[question.page_key]


def _self_check(question: QuestionView, heading: str) -> Iterator[PrintedLine]:
    """What the page asks, and what its script judges by."""
    place = f"question {question.id}"
    yield from _at(f"{place}: under", heading)
    yield from _at(place, f"{question.scope} {question.text}".strip())
    answer = _pieces(question.answer, question.unit, question.tool)
    yield from _at(f"{place}: answer", answer, kind="amount")
    yield from _at(f"{place}: right within", question.tolerance, kind="limit")
    yield from _at(f"{place}: why", question.why)
    yield from _at(f"{place}: kind", question.kind)
    yield from _at(f"{place}: wrong answer", *(f"{text}: {means}" for text, means in question.wrong))
    yield from _at(f"{place}: choice", *question.choices)
    yield from _at(f"{place}: order", *question.items)
    yield from _at(f"{place}: stands at", f"{question.page_key}, step {question.step_number}")


def _key(number: int, question: QuestionView, heading: str) -> tuple[PrintedLine, ...]:
    tests = [f"{target.page_key} step {target.number}" for target in question.tests]
    return _at(
        f"question {question.id}",
        *(heading, str(number), question.scope, question.text),
        *(question.answer, question.tool, question.tolerance),
        question.why if question.why != question.answer else "",
        *(_pieces(*pair) for pair in question.wrong),
        *(question.id, *tests[:MOST_TESTS]),
        f"{len(tests) - MOST_TESTS} more" if len(tests) > MOST_TESTS else "",
    )


def _asked(number: int, question: QuestionView, heading: str) -> tuple[PrintedLine, ...]:
    choices = {"yes_no": ("yes", "no"), "choice": question.choices}.get(question.kind, ())
    to_write = (question.unit, "tool" if question.tool else "") if question.kind == "number" else ()
    texts = (heading, str(number), question.scope, question.text, *choices, *to_write)
    return _at(f"question {question.id}", *texts)


# ------------------------------------------------------------------ training


def _training(register: Register, unit: ModuleView) -> Iterator[PrintedThing]:
    name, taught = unit.data.short, tuple(page.key for page in unit.taught)
    lines = tuple(_trainer(trainer_view(register, unit)))
    title = f"Trainer's sheet {name}"
    yield PrintedThing(f"{name}-trainer", "trainer's sheet", title, unit.trainer_address, taught, lines)
    if unit.sheets:
        lines = tuple(line for sheet in unit.sheets for line in _breakdown(sheet))
        title = f"Breakdown {name}"
        yield PrintedThing(f"{name}-breakdown", "breakdown sheet", title, unit.address, taught, lines, False)
    lines = tuple(_record(training_record(register, unit)))
    title = f"Training record {name}"
    yield PrintedThing(f"{name}-record", "training record", title, unit.address, taught, lines)


def _trainer(view: TrainerView) -> Iterator[PrintedLine]:
    data = view.module.data
    yield from _at("title", view.module.title)
    yield from _at("house", view.house_name)
    yield from _at("level", f"{data.level_before} to {data.level_after}")
    yield from _at("passed before", *(short_name(unit) for unit in data.needs))
    yield from _at("get ready", *(_pieces(*pair) for pair in view.get_ready), *data.get_ready)
    yield from _at("pages", *dict.fromkeys(page.document for page in view.module.taught))
    yield from _at("prepare", *view.told.prepare)
    yield from _at("present", *view.told.present)
    yield from _at("try out", *(_pieces(one.what, one.watch) for one in view.told.passes))
    yield from _at("watch for", *data.watch_for)
    yield from _at("passed when", *view.mastered)
    yield from _at("follow up", *view.follow_up)


def _record(view: TrainingRecordView) -> Iterator[PrintedLine]:
    yield from _at("title", view.module.title)
    yield from _at("house", view.house_name)
    yield from _at("unit", view.module.data.unit)
    yield from _at("runs", *view.runs)
    yield from _at("topic", *(_pieces(key, text) for key, text, _ in view.topics))
    yield from _at("rule", view.module.run_text, *view.methods, *view.days)
    yield from _at("kept", view.reviewed_within, view.kept)


def _breakdown(view: BreakdownView) -> Iterator[PrintedLine]:
    yield from _at(f"{view.key}: head", view.page.house_name, view.page.title, view.name)
    yield from _at(f"{view.key}: head", f"{view.number} of {view.count}", *view.phases)
    for step in view.steps:
        place = f"{view.key}: step {step.id}"
        yield from _at(place, _pieces(str(step.number), step.mark, step.text))
        for group in step.groups:
            yield from _at(f"{place}: key point", *group.points)
            yield from _at(f"{place}: reason", group.reason)
        for photo in step.photos:
            yield photo_line(f"{place}: photograph", photo)
    for where, drawn in zip(("start", "end"), view.looks, strict=False):
        yield from room_lines(f"{view.key}: drawing at the {where}", drawn)


def _plant(plant: Plant) -> Iterator[PrintedLine]:
    place = f"plant {plant.number}"
    yield from _at(place, str(plant.number), plant.name, plant.botanical, plant.eaten, plant.leaf)
    yield from _at(f"{place}: not", *(_pieces(*one) for one in plant.alike[:MOST_ALIKE]))
    if len(plant.alike) > MOST_ALIKE:
        yield from _at(f"{place}: more", str(len(plant.alike) - MOST_ALIKE))
    for photo in plant.photos:
        yield photo_line(f"{place}: photograph", photo)
