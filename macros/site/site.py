"""The whole manual of one house, finished: every page, sheet and data file as text, ready to be written.

The one place where the rooms below are put together. Nothing is written here but by `export_site`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from markupsafe import escape

from macros.amounts import Register, amounts_json, compute_amounts
from macros.amounts.reckoners import reckoners_json
from macros.calendar.recurring import rhythm_warnings
from macros.calendar.site_pages import calendar_texts
from macros.control.changes.changes import Comparison, comparison
from macros.control.changes.sheet_kinds import sheet_texts
from macros.control.changes.visible_text import site_things
from macros.control.documents.controlled_documents import ControlledDocument, controlled_documents
from macros.control.documents.issued_copies import Archive
from macros.control.documents.master_list import control_problems
from macros.control.documents.refuse_unapproved import unapproved_problems
from macros.control.documents.reviews import review_lines
from macros.control.documents.revision_history import published_page, revision_links, withdrawn_items
from macros.control.documents.trace_form import trace_texts
from macros.control.site_pages import control_texts
from macros.day_plan.check_house_times import check_stages
from macros.ground.problems import DataProblems, Problem, errors_in
from macros.house import load_house
from macros.house.records.day import resolve_day
from macros.html.dead_links import broken_links
from macros.html.environment import dialled
from macros.html.site_text import SiteText
from macros.manual.checklists.check_rendered import checklist_mistakes
from macros.manual.checklists.checklists import checklists_of
from macros.manual.pages.build_page import BuiltPage, build_pages
from macros.manual.pages.check_rendered import caution_mistakes
from macros.manual.pages.page_markdown import problems_page
from macros.manual.pages.photographs import homeless, with_photographs
from macros.manual.pages.reckoner_markdown import reckoner_texts
from macros.manual.procedures.house_overrides import with_own_pages
from macros.manual.procedures.load_files import ProcedureFile
from macros.manual.procedures.write_text import TextWriter
from macros.manual.site_pages import procedure_texts
from macros.page_model.checklist import ChecklistView
from macros.page_model.page import PageView
from macros.paper.cards.cards import wall_cards
from macros.paper.cards.sheet import card_texts
from macros.photographs import NO_PHOTOGRAPHS, Photographs, photographs_of
from macros.published.index.topics import all_published_problems
from macros.reference.hurt import hurt_button
from macros.reference.site_pages import reference_texts
from macros.rehearsal.jobs import job_problems
from macros.rehearsal.looks import with_looks
from macros.rehearsal.pages import page_problems
from macros.site.home import home_page
from macros.site.menu import menu_of
from macros.site.published_words import published_mistakes
from macros.training.path.path import training_problems
from macros.training.path.sign_offs import sign_off_problems
from macros.training.self_checks.all_questions import QuestionView, house_questions
from macros.training.self_checks.coverage import CoverageRow, coverage_problems, coverage_rows
from macros.training.site_pages import training_texts


@dataclass
class Site:
    """Everything that will be published. Addresses are relative to the site's root."""

    name: str = ""
    pages: dict[str, str] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    photographs: Photographs = NO_PHOTOGRAPHS
    navigation: list[Any] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)
    extra: dict[str, Any] = field(default_factory=dict)
    views: list[PageView] = field(default_factory=list)
    built: tuple[BuiltPage, ...] = ()
    checklists: list[ChecklistView] = field(default_factory=list)
    questions: tuple[QuestionView, ...] = ()
    controlled_documents: tuple[ControlledDocument, ...] = ()
    coverage: list[CoverageRow] = field(default_factory=list)
    _register: Register | None = None
    _compared: Comparison | None = None

    @property
    def register(self) -> Register:
        """The amounts behind the pages."""
        if self._register is None:
            raise ValueError("this site shows problems only; it has no amounts")
        return self._register

    @property
    def compared(self) -> Comparison:
        """The manual beside what its house issued and printed last."""
        if self._compared is None:
            raise ValueError("this site shows problems only; it is compared with nothing")
        return self._compared

    @property
    def amount_count(self) -> int:
        """How many amounts the register holds."""
        return len(self.register.all())

    def published(self) -> Site:
        """What is published, without what it was worked out with, which takes more memory."""
        return Site(
            self.name, self.pages, self.files, self.pictures, navigation=self.navigation, extra=self.extra
        )


def prepare_site(
    house_folder: Path,
    procedures: Path,
    day: str | None,
    environment: Mapping[str, str],
    *,
    approving: bool = False,
) -> Site:
    """Work the manual of a house out, from its facts to finished text.

    Parameters
    ----------
    house_folder : holds `site_data/`
    procedures : folder of the shipped procedure files; a `procedures/` of the house replaces and adds pages
    day : the day asked for, ISO; else SOURCE_DATE_EPOCH of `environment`, else the house's `as_of`
    approving : to issue pages or to list changes: what is not issued is no mistake, whatever the house's policy

    Raises
    ------
    DataProblems
        every mistake in data, pages, templates and links, in one run. Nothing was written.
    """
    register, files, problems = read_house(house_folder, procedures, day, environment)
    photographs, unused = photographs_of(register.house.photos, house_folder)
    problems += unused
    built, view_problems = build_pages(files, register, TextWriter())
    built = [with_photographs(with_looks(page, register), photographs, register.house) for page in built]
    problems += homeless(photographs, [page.content for page in built], register.house)
    archive = Archive(house_folder)
    views = [published_page(page.content, register, archive) for page in built]
    problems += view_problems + rhythm_warnings(register.house) + training_problems(register.house)
    unbuilt = [file.id for file in files] if errors_in(view_problems) else []
    problems += sign_off_problems(register, views, unbuilt)
    if not errors_in(problems):
        problems += check_stages(views, register)
        documents = [file.id for file in files]
        problems += page_problems(built, register, documents) + job_problems(built, register, documents)
    if errors_in(problems):
        raise DataProblems(problems)
    compared = comparison(register, files, house_folder, archive)
    site = _finished(register, built, views, compared, photographs)
    problems += broken_links(site.pages, site.files) + coverage_problems(site.coverage)
    problems += caution_mistakes({**site.pages, **site.files}, built)
    problems += control_problems(register, site.controlled_documents)
    problems += checklist_mistakes(site.files, site.checklists, site.views)
    problems += [] if approving else unapproved_problems(register, site.controlled_documents, archive)
    problems += [*archive.problems, *compared.unread]
    if errors_in(problems):
        raise DataProblems(problems)
    site.warnings = problems
    return site


def read_house(
    house_folder: Path, procedures: Path, day: str | None, environment: Mapping[str, str]
) -> tuple[Register, list[ProcedureFile], list[Problem]]:
    """What every page rests on: amounts, procedures, and warnings so far. As `prepare_site`.

    Raises
    ------
    DataProblems
        every mistake in data, procedure and published files, in one run; where the house cannot be read for
        mistakes of published files, those alone.
    """
    try:
        house, problems = load_house(house_folder)
        files, page_problems = with_own_pages(procedures, house_folder / "procedures")
    except (DataProblems, LookupError) as error:
        unread = all_published_problems()  # the house is read with their help
        if not unread:
            raise
        raise DataProblems([*unread, *getattr(error, "problems", ())]) from error
    published = published_mistakes(files)
    problems += page_problems + published
    if house is None or published:
        raise DataProblems(problems)
    resolved = resolve_day(day, environment, house)
    if isinstance(resolved, Problem):
        raise DataProblems([*problems, resolved])
    register = compute_amounts(house, *resolved)
    problems += register.problems
    if errors_in(problems):
        raise DataProblems(problems)
    return register, files, problems


def problem_site(problems: list[str]) -> Site:
    """One page that lists the problems: shown while serving, so that the server goes on."""
    return Site(
        name="Problems to mend",
        pages={"index.md": problems_page(problems)},
        navigation=[{"Problems": "index.md"}],
    )


def export_site(site: Site, folder: Path) -> int:
    """Write pages, sheets and data below `folder` as they are; the number of files is returned."""
    for address, text in {**site.pages, **site.files}.items():
        path = folder / address
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="")  # the calendar has its own line ends
    for address, data in site.pictures.items():
        path = folder / address
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    return len(site.pages) + len(site.files) + len(site.pictures)


def _finished(
    register: Register,
    built: Sequence[BuiltPage],
    views: list[PageView],
    compared: Comparison,
    photographs: Photographs,
) -> Site:
    """Everything worked out, then every text the rooms give, in the order of the menu."""
    house = register.house
    # Marked as escaped: the theme prints the name as it is in some places and escapes it in others.
    site = Site(
        name=escape(house.house.name),
        pictures=photographs.files,
        photographs=photographs,
        views=views,
        built=tuple(built),
        _register=register,
        _compared=compared,
    )
    site.extra |= {
        "day": register.built_for.isoformat(),
        "language": house.house.language,
        "call": dialled(str(house.house.emergency.ambulance_fire)),
    }
    site.checklists = checklists_of(views, house)
    site.questions = house_questions(register, views, TextWriter())
    site.coverage = coverage_rows(views, site.questions)
    site.extra["emergency"] = [
        hurt_button(),
        *({"word": view.emergency, "address": view.page_address} for view in views if view.emergency),
    ]
    cards = wall_cards(register, views).cards
    site.controlled_documents = controlled_documents(views, site.checklists, cards)
    withdrawn = withdrawn_items(house, site.controlled_documents, compared.archive)
    texts = [
        *procedure_texts(house, views, site.checklists, review_lines(register, views)),
        *sheet_texts(house, views),
        *card_texts(cards, house.house.language),
        *trace_texts(house),
        *training_texts(
            register, views, site.questions, site.coverage, revision_links(withdrawn), photographs
        ),
        *reckoner_texts(register, views),
        *calendar_texts(register, views, site.controlled_documents),
        *reference_texts(register, built, views, photographs),
        SiteText("amounts.json", amounts_json(register)),
        SiteText("reckoners.json", reckoners_json(register)),
    ]
    site.files = {one.address: one.text for one in texts if not one.is_page}
    things = site_things(register, views, site.questions, site.files, photographs)
    texts += control_texts(compared, site.controlled_documents, withdrawn, things)
    texts.append(SiteText("index.md", home_page(house, views, site.checklists, texts), ("Start",)))
    site.pages = {one.address: one.text for one in texts if one.is_page}
    site.navigation = menu_of(texts)
    return site
