"""Turns procedure files into finished pages for the house at hand: one page, or one for each system."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from macros.amounts import Register
from macros.ground.problems import Problem, errors_in
from macros.ground.records import Record
from macros.house import House
from macros.manual.cautions.cautions_of_page import PageCautions
from macros.manual.cautions.own_cautions import own_caution_problems
from macros.manual.cautions.page_safety import (
    first_aid_texts,
    flushing_water,
    handlings,
    page_safety,
    protection,
    safety_before,
)
from macros.manual.drawings.fillings import amount_view
from macros.manual.drawings.strip_pads import strip_pads
from macros.manual.house_facts.emergency import emergency_line, urgent_facts
from macros.manual.house_facts.sign_off_levels import LEVELS, who_line
from macros.manual.house_facts.who_may import nobody_may
from macros.manual.pages.figures import page_figures
from macros.manual.pages.formula_shapes import amounts_of_figures, page_formulas
from macros.manual.pages.reckoners import reckoner_links
from macros.manual.pages.step_sentence import condition_of, wrong_verb
from macros.manual.pages.step_timing import step_timing
from macros.manual.pages.supplies import page_supplies, stocks_in_hand
from macros.manual.pages.tables import page_tables
from macros.manual.pages.unknown_words import unknown_words
from macros.manual.pages.values_code import public_address
from macros.manual.procedures.expand_steps import PlannedStep, plan_steps
from macros.manual.procedures.file_format import AmountAsk, ProcedureData, StepData, Wait
from macros.manual.procedures.known_words import KnownWords
from macros.manual.procedures.load_files import ProcedureFile, hands_on_minutes, not_minutes
from macros.manual.procedures.page_texts import PageTexts, Writer
from macros.manual.procedures.sources import reference_texts
from macros.manual.procedures.template_functions import WordMistake, Words
from macros.manual.records.record_view import record_view
from macros.manual.requirements.judge import Subject, Verdict
from macros.manual.requirements.rules import judge
from macros.page_model.addresses import form_address, page_address, page_key, sheet_address
from macros.page_model.clock_times import spoken_time
from macros.page_model.page import (
    AmountView,
    DeviationView,
    LinkView,
    PageContent,
    SafeToLeaveView,
    StepView,
    WaitView,
)
from macros.published.labour.effects import sentences
from macros.published.safety.substances import Handling
from macros.published.training.training import training_units


@dataclass(frozen=True)
class BuiltPage:
    """What a page says, and its cautions, by which it is checked once it is rendered."""

    content: PageContent
    cautions: PageCautions
    verdicts: tuple[Verdict, ...] = ()
    planned: tuple[PlannedStep, ...] = ()
    data: ProcedureData | None = None


def build_pages(
    files: Sequence[ProcedureFile], register: Register, write: Writer, only: str = ""
) -> tuple[list[BuiltPage], list[Problem]]:
    """Every page of the manual, or the one at the address `only`; and every problem met on the way.

    A file with a word that nothing has is not built: what it would leave out cannot be told.
    """
    pages: list[BuiltPage] = []
    builders, problems = _builders(files, register, write, only)
    problems += own_caution_problems(register.house, files)
    seen: set[str] = set()
    for builder in builders:
        if only in ("", builder.address):
            builder.elsewhere = _handled_elsewhere(builder, builders)
            built, found = builder.build(again=builder.data.id in seen)
            problems += found
            if built is not None:
                seen.add(builder.data.id)
                pages.append(built)
    return pages, problems


def _builders(
    files: Sequence[ProcedureFile], register: Register, write: Writer, only: str
) -> tuple[list[_PageBuilder], list[Problem]]:
    """What builds each page this house needs. They know one another's titles and systems, for their links."""
    builders: list[_PageBuilder] = []
    problems: list[Problem] = []
    known = KnownWords(register, tuple(file.id for file in files))
    links: dict[str, tuple[str, list[str]]] = {file.id: (file.data.title, []) for file in files}
    for file in files:
        of_file = [_PageBuilder(file, register, write, system, links) for system in _systems(file, register)]
        unknown = unknown_words(file, known, write)
        if not unknown:
            builders += (builder for builder in of_file if builder.planned)
        elif only == "" or only in [builder.address for builder in of_file]:
            problems += unknown
    for builder in builders:  # a page no system of the house needs is not linked
        links[builder.data.id][1].append(builder.system)
    return builders, problems


def _systems(file: ProcedureFile, register: Register) -> list[str]:
    """What a procedure has a page for: each system, or the room."""
    return [one.id for one in register.house.systems] if file.data.for_each == "system" else [""]


def _handled_elsewhere(builder: _PageBuilder, builders: Sequence[_PageBuilder]) -> tuple[Handling, ...]:
    """What the other pages of its job handle: what one opens matters to the others."""
    job = builder.data.job
    others = (one for one in builders if job is not None and one.data.job == job and one is not builder)
    return tuple(dict.fromkeys(handling for one in others for handling in one.handled))


_ONE_TEXT = ("title", "purpose", "not_for", "when", "emergency")
_TEXTS = ("first_lines", "done_when", "clean_up")
"""Fields of a procedure that a page prints as they are written."""


class _PageBuilder:
    """One page in the making. Texts that cannot be written become problems; the rest goes on."""

    def __init__(
        self, file: ProcedureFile, register: Register, write: Writer, system: str, links: Mapping[str, Any]
    ) -> None:
        self.file, self.data, self.register, self.write = file, file.data, register, write
        self.house: House = register.house
        self.system, self.links = system, links
        self.system_name = self.house.system(system).name if system else ""
        self.key, self.address = page_key(self.data.id, system), page_address(self.data.id, system)
        self.problems: list[Problem] = []
        self.cautions = PageCautions(())
        self.planned = plan_steps(file.data.steps, register, system)
        self.elsewhere: tuple[Handling, ...] = ()
        self.words = Words(register, {"system": system} if system else {})
        self.texts = PageTexts(write, self.problems)

    @cached_property
    def handled(self) -> tuple[Handling, ...]:
        """What the page handles, asked for by every other page of its job."""
        found = (one for step in self.planned for one in handlings(self.register, step, self.system))
        return tuple(dict.fromkeys(found))

    def build(self, *, again: bool) -> tuple[BuiltPage | None, list[Problem]]:
        """The page, unless something of it cannot be made, and every problem. `again`: of a further system."""
        data = self.data
        self.cautions, mistakes = page_safety(
            data.id, self.planned, self.register, self.system, self.elsewhere, self.file.own
        )
        self.problems += mistakes
        content = self._content()
        whole = not errors_in(self.problems)
        problems = self.problems + nobody_may(
            self.house, self.key, int(data.who), self.register.day, data.place("who")
        )
        if not whole:
            return None, problems
        written = tuple(self.texts.written)
        subject = Subject(data, content, written, self.house, content.body_markdown, self.file.body)
        verdicts, found = judge(subject, again=again)
        built = BuiltPage(content, self.cautions, tuple(verdicts), tuple(self.planned), data)
        return built, problems + found

    def _content(self) -> PageContent:
        data, register, system = self.data, self.register, self.system
        steps = self._steps()
        records = tuple(step.record for step in steps if step.record is not None)
        texts = self._whole_texts()
        worked_from = self._worked_from()  # once every text is written
        return PageContent(
            **texts,
            key=self.key,
            document=data.id,
            section=data.section,
            system=system,
            system_name=self.system_name,
            house_name=self.house.house.name,
            scope_line=self._scope_line(steps),
            who=who_line(int(data.who)),
            cautions=self.cautions.summary,
            ppe=protection(self.cautions, self.house),
            first_aid=first_aid_texts(self.cautions, self.house),
            flush_point=flushing_water(self.cautions, self.house),
            own=self.file.own,
            supplies=page_supplies(self.planned, steps, register, system),
            amounts=self._amount_views(steps),
            steps=steps,
            records=records,
            references=self._references(),
            see_also=tuple(self._links_to(data.see_also)),
            searched_as=data.searched_as,
            reckoners=reckoner_links(register, data.reckoners, system),
            page_address=self.address,
            sheet_address="" if data.sheet == "none" else sheet_address(self.address),
            public_address=public_address(self.house, self.address),
            emergency_line=emergency_line(self.house),
            job=data.job or "",
            level=int(data.who),
            units=tuple(training_units()[unit] for unit in data.units),
            urgent=urgent_facts(self.house) if data.emergency else (),
            drops=tuple((drop.step, drop.reason) for drop in data.drops),
            form_address=form_address(self.address) if records else "",
            one_page=data.sheet == "one_page",
            checklist=data.checklist or "",
            figures=(
                *page_figures(data.figures, register, system),
                *page_tables(data.tables, register, system),
            ),
            worked_from=worked_from,
            formulas=page_formulas(worked_from, steps, register),
        )

    def _worked_from(self) -> tuple[str, ...]:
        """Keys of every amount that stands in a step, a text, a drawing or a table of the page."""
        told = [amount.key for amount in self.words.used]
        return tuple(sorted({*told, *amounts_of_figures(self.data, self.register, self.system)}))

    # ------------------------------------------------------------- steps

    def _steps(self) -> tuple[StepView, ...]:
        return _heads_once(tuple(self._step(one, number) for number, one in enumerate(self.planned, start=1)))

    def _step(self, planned: PlannedStep, number: int) -> StepView:
        data = planned.data
        words = Words(self.register, {**self.words.keys, **planned.keys}, planned.item, self.words.used)
        asked = (self._amount(data, words, ask) for ask in data.amount)
        amounts = tuple(view for view in asked if view is not None)
        tools = tuple(self._texts(data, "uses", words))
        do = self._text(data, "do", words)
        self.problems += wrong_verb(data, do)
        wait = data.wait
        leave = data.safe_to_leave
        return StepView(
            id=planned.id,
            number=number,
            phase=self._text(data, "phase", words),
            do=do,
            condition=condition_of(do),
            looks_up=data.looks_up,
            short=self._text(data, "short", words),
            amounts=amounts,
            tools=tools,
            pads=strip_pads(data.action, tools, amounts, self.register),
            cautions=self.cautions.before.get(planned.id, ()),
            expect=self._text(data, "expect", words),
            reason=self._text(data, "reason", words),
            where=self._text(data, "where", words),
            wait=self._wait(wait, words) if wait else None,
            record=record_view(self.texts, self.data, planned, words, self.problems),
            critical=data.critical,
            hold=data.hold,
            easily_missed=data.easily_missed,
            hands=int(data.hands),
            minutes=self._minutes(data, words),
            doer=self._text(data, "doer", words),
            stocks=stocks_in_hand(planned, self.house),
            one_of=tuple(self._texts(data, "one_of", words)),
            until=self._text(data, "until", words),
            after=tuple(other.id for other in self.planned if other.data.id in data.after),
            safe_to_leave=SafeToLeaveView(
                self._text(leave, "for_", words),
                self._text(leave, "as_", words),
                number + 1 if number < len(self.planned) else None,
            )
            if leave
            else None,
            timing=step_timing(planned, self.cautions.facts[number - 1], self.house, amounts),
        )

    def _amount(self, step: StepData, words: Words, ask: AmountAsk) -> AmountView | None:
        try:
            amount = words.find(ask.id, **ask.of)
        except (WordMistake, KeyError) as mistake:
            lacking = mistake.in_house() if isinstance(mistake, WordMistake) else None
            self.problems.append(lacking or Problem(step.place("amount"), step.key("amount"), str(mistake)))
            return None
        return replace(amount_view(amount, self.house), means=self._text(ask, "means", words))

    def _minutes(self, data: StepData, words: Words) -> float:
        text = self._text(data, "minutes", words)
        minutes = hands_on_minutes(text)
        if minutes is None:
            self.problems.append(not_minutes(data, text))
        return minutes or 0.0

    def _wait(self, data: Wait, words: Words) -> WaitView:
        least, least_minutes = self.texts.time(data, "least", words)
        greatest, greatest_minutes = self.texts.time(data, "greatest", words)
        then, missed = self._text(data, "then", words), self._text(data, "missed", words)
        return WaitView(least, greatest, then, missed, least_minutes, greatest_minutes)

    def _amount_views(self, steps: Sequence[StepView]) -> tuple[AmountView, ...]:
        unique: dict[str, AmountView] = {}
        for step in steps:
            for view in step.amounts:
                unique.setdefault(view.anchor, view)
        return tuple(unique.values())

    # ------------------------------------------------------------- texts

    def _whole_texts(self) -> dict[str, Any]:
        """The texts that are of no step, by their names on the page."""
        data = self.data
        found: dict[str, Any] = {name: self._text(data, name) for name in _ONE_TEXT}
        found |= {name: tuple(self._texts(data, name)) for name in _TEXTS}
        found["done_when"] = (*(sentences(data.ends_in) if data.ends_in else ()), *found["done_when"])
        return found | {
            "before": (
                *safety_before(self.cautions, self.planned, self.elsewhere, self.house),
                *(sentences(data.starts_from) if data.starts_from else ()),
                *(self._text(one, "say") for one in data.before),
            ),
            "if_wrong": tuple(self._deviation(entry) for entry in data.if_wrong),
            "body_markdown": self.texts.body(self.file, self.words),
            "cleaning": self._cleaning(),
        }

    def _text(self, record: Record, field: str, words: Words | None = None) -> str:
        return self.texts.one(record, field, words or self.words)

    def _texts(self, record: Record, field: str, words: Words | None = None) -> list[str]:
        return self.texts.all(record, field, words or self.words)

    def _deviation(self, entry: Any) -> DeviationView:
        who = self.words.responsible() if entry.who == "4" else f"level {LEVELS[int(entry.who)]}"
        return DeviationView(
            self._text(entry, "sign"),
            self._text(entry, "act"),
            who,
            self._text(entry, "record"),
            entry.kind,
            entry.of,
        )

    def _cleaning(self) -> tuple[tuple[str, str], ...]:
        facts = self.data.cleaning
        if facts is None:
            return ()
        return (
            ("Take apart and join again", self._text(facts, "take_apart")),
            ("Kept clean until use", self._text(facts, "protect_until_use")),
            ("Look before use", self._text(facts, "inspect_before_use")),
        )

    def _scope_line(self, steps: Sequence[StepView]) -> str:
        hands_on = sum(step.minutes for step in steps)
        people = max((step.hands for step in steps), default=1)
        pieces = [self.system_name] if self.system_name else []
        pieces.append("two people" if people > 1 else "one person")
        pieces.append(f"about {spoken_time(5 * round(hands_on / 5) or 5)}")
        return " · ".join(pieces)

    def _references(self) -> tuple[str, ...]:
        figures = (entry.source for entry in self.data.outside_figures)
        return reference_texts(tuple(dict.fromkeys((*self.data.references, *figures))), self.house)

    def _links_to(self, documents: Sequence[str]) -> list[LinkView]:
        found = []
        for document in documents:
            title, systems = self.links[document]
            for system in [self.system] if self.system in systems else systems[:1]:
                found.append(LinkView(f"{document} {title}", page_address(document, system)))
        return found


def _heads_once(steps: tuple[StepView, ...]) -> tuple[StepView, ...]:
    """A repeated step begins its phase once, and a place is told where people go there."""
    shown, phase, place = [], "", ""
    for step in steps:
        here = "" if step.where == place else step.where
        shown.append(replace(step, phase="" if step.phase == phase else step.phase, new_place=here))
        phase, place = step.phase or phase, step.where
    return tuple(shown)
