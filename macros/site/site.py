"""The whole manual of one house, finished: every page, sheet and data file as text, ready to be written.

The one place where the rooms below are put together. Nothing is written here but by `export_site`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from pathlib import Path
from typing import Any

from markupsafe import escape

from macros.amounts import Register, amounts_json, compute_amounts
from macros.amounts.reckoners import reckoners_json
from macros.calendar.events import known_events
from macros.calendar.ics_file import calendar_file
from macros.calendar.page import ADDRESS as CALENDAR
from macros.calendar.recurring import rhythm_warnings
from macros.calendar.today_page import today_page
from macros.control.changes.changes import Comparison, comparison
from macros.control.changes.markdown import changes_page
from macros.control.changes.visible_text import site_things
from macros.control.documents.controlled_items import Controlled, controlled_items
from macros.control.documents.issued_copies import Archive
from macros.control.documents.master_list import control_problems, master_list_page
from macros.control.documents.refuse_unapproved import unapproved_problems
from macros.control.documents.reviews import review_line, review_standings
from macros.control.documents.revision_history import revision_links, with_revisions, withdrawn_items
from macros.control.documents.withdrawn_markdown import with_link_to_withdrawn, withdrawn_pages
from macros.day_plan.check_house_times import check_stages
from macros.ground.problems import DataProblems, Place, Problem, errors_in
from macros.house import House, load_house
from macros.house.records.day import resolve_day
from macros.html.dead_links import broken_links
from macros.html.environment import render
from macros.manual.cautions.check_rendered import check_page
from macros.manual.checklists.check_rendered import checklist_mistakes
from macros.manual.checklists.checklists import checklists_of
from macros.manual.pages.bench_sheet import bench_sheet, checklist, record_form
from macros.manual.pages.build_page import BuiltPage, build_pages
from macros.manual.pages.page_markdown import cautions_page, problems_page, procedure_page
from macros.manual.pages.reckoner_markdown import reckoner_texts
from macros.manual.pages.record_form import forms_of
from macros.manual.procedures.file_format import SECTIONS
from macros.manual.procedures.house_overrides import with_own_pages
from macros.manual.procedures.load_files import ProcedureFile
from macros.manual.procedures.write_text import TextWriter
from macros.page_model.page import ChecklistView, PageView
from macros.paper.cards.cards import wall_cards
from macros.paper.cards.sheet import card_sheet
from macros.published.index.topics import all_published_problems
from macros.reference.checks import checks_text
from macros.reference.house_log import log_text
from macros.reference.markdown import reference_pages
from macros.reference.workings import workings_text
from macros.site.home import home_page
from macros.site.menu import in_a_row_or_group
from macros.site.published_words import published_mistakes
from macros.training.path.markdown import training_section
from macros.training.path.naming_test import naming_page
from macros.training.path.path import training_problems
from macros.training.path.roster import roster_page
from macros.training.path.sign_offs import sign_off_problems
from macros.training.self_checks.all_questions import QuestionView, house_questions
from macros.training.self_checks.coverage import CoverageRow, coverage_problems, coverage_rows
from macros.training.self_checks.markdown import check_pages


@dataclass
class Site:
    """Everything that will be published. Addresses are relative to the site's root."""

    name: str = ""
    pages: dict[str, str] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)
    navigation: list[Any] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)
    extra: dict[str, Any] = field(default_factory=dict)
    views: list[PageView] = field(default_factory=list)
    checklists: list[ChecklistView] = field(default_factory=list)
    questions: tuple[QuestionView, ...] = ()
    controlled: tuple[Controlled, ...] = ()
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
        return Site(self.name, self.pages, self.files, self.navigation, extra=self.extra)


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
    house = register.house
    built, view_problems = build_pages(files, register, TextWriter())
    archive = Archive(house_folder)
    built = [replace(page, view=with_revisions(page.view, register, archive)) for page in built]
    problems += view_problems + rhythm_warnings(house) + training_problems(house)
    problems += sign_off_problems(register, [page.view for page in built])
    if not errors_in(problems):
        problems += check_stages([page.view for page in built], register)
    if errors_in(problems):
        raise DataProblems(problems)
    site = _render(house, register, built, comparison(register, files, house_folder, archive))
    problems += broken_links(site.pages, site.files) + coverage_problems(site.coverage)
    problems += caution_mistakes(site, built) + control_problems(register, site.controlled)
    problems += checklist_mistakes(site.files, site.checklists, site.views)
    problems += [] if approving else unapproved_problems(register, site.controlled, archive)
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
    return len(site.pages) + len(site.files)


def _render(house: House, register: Register, built: Sequence[BuiltPage], compared: Comparison) -> Site:
    views = [page.view for page in built]
    # Marked as escaped: the theme prints the name as it is in some places and escapes it in others.
    site = Site(name=escape(house.house.name), views=views, _register=register, _compared=compared)
    site.checklists = checklists_of(views, house)
    reviews = review_standings(house, (view.key for view in views))
    places = {view.page_address: view for view in views}
    checklists: dict[str, list[ChecklistView]] = {}
    for one in site.checklists:
        for key in one.pages:
            checklists.setdefault(key, []).append(one)
    for view in views:
        review = review_line(reviews.get(view.key), register.built_for)
        page = procedure_page(view, places, checklists.get(view.key, ()), review)
        site.pages[source_address(view.page_address)] = page
        if view.sheet_address:
            site.files[view.sheet_address] = bench_sheet(view, house.house.language)
    for one in site.checklists:
        site.files[one.address] = checklist(one, house.house.language)
    cards = wall_cards(register, views).cards
    site.files |= {card.address: card_sheet(card, house.house.language) for card in cards}
    site.controlled = controlled_items(views, site.checklists, cards)
    withdrawn = withdrawn_items(house, site.controlled, compared.archive)
    site.pages |= withdrawn_pages(withdrawn)
    site.pages["reference/workings.md"] = workings_text(register)
    site.pages["reference/checks.md"] = checks_text(register)
    log = log_text(register)
    if log is not None:
        site.pages["reference/log.md"] = log
    site.pages["reference/cautions.md"] = cautions_page(views)
    listed = with_link_to_withdrawn(master_list_page(register, site.controlled), withdrawn)
    site.pages["reference/master-list.md"] = render("reference.md.j2", page=listed)
    for address, form in forms_of(views, house).items():
        site.files[address] = record_form(form, house.house.language)
    events = known_events(register, views, site.controlled)
    site.pages |= reference_pages(house, register, built, events)
    site.pages["today.md"] = today_page(register.built_for, events, views)
    site.files[CALENDAR] = calendar_file(house.house, register.built_for, events, views)
    site.extra["emergency"] = [
        {"word": view.emergency, "address": view.page_address} for view in views if view.emergency
    ]
    people = {
        "roster": roster_page(register, views, revision_links(withdrawn)),
        "naming": naming_page(register),
    }
    site.pages |= {
        f"training/{name}.md": render("reference.md.j2", page=page) for name, page in people.items()
    }
    reckoners = reckoner_texts(register, views)
    site.pages |= {address: text for address, (_, text) in reckoners.items()}
    menu = {title: address for address, (title, _) in reckoners.items()}
    training, training_menu = training_section(register, views)
    site.pages |= training
    site.questions = house_questions(register, views, TextWriter())
    site.coverage = coverage_rows(views, site.questions)
    checks = check_pages(register, views, site.questions, site.coverage)
    site.pages |= {address: text for address, (_, text) in checks.items()}
    there = {*site.pages, *site.files}
    site.pages["index.md"] = home_page(house, views, site.checklists, menu, there)
    site.files["amounts.json"] = amounts_json(register)
    site.files["reckoners.json"] = reckoners_json(register)
    site.pages["reference/changes.md"] = changes_page(
        compared,
        site.controlled,
        site_things(register, views, site.questions, site.files),
    )
    training_menu += [{str(escape(title)): address} for address, (title, _) in checks.items()]
    site.navigation = _navigation(views, site.pages, menu, training_menu)
    return site


def source_address(page_address: str) -> str:
    """`p/sop-08-a.html` is written from `p/sop-08-a.md`."""
    return re.sub(r"\.html$", ".md", page_address)


_BEFORE_A_STEP = re.compile(r'data-caution="([^"]+)"|data-step(?:-id)?="([^"]+)"')


def caution_mistakes(site: Site, built: Sequence[BuiltPage]) -> list[Problem]:
    """Cautions as they really stand on the rendered pages and sheets, against the triggers: both ways."""
    problems = []
    for page in built:
        for address in (source_address(page.view.page_address), page.view.sheet_address):
            text = site.pages.get(address) or site.files.get(address, "")
            if not text:
                continue
            messages = check_page(cautions_before_steps(text), page.facts, page=page.cautions)
            problems += [Problem(Place(address, 1), "cautions", message) for message in messages]
    return problems


def cautions_before_steps(text: str) -> dict[str, list[str]]:
    """Step id -> the cautions that stand directly before it in a rendered page or sheet."""
    found: dict[str, list[str]] = {}
    waiting: list[str] = []
    for caution, step in _BEFORE_A_STEP.findall(text):
        if caution:
            waiting.append(caution)
        elif step not in found:
            found[step], waiting = waiting, []
    return found


def _navigation(
    views: list[PageView], pages: Mapping[str, str], reckoners: Mapping[str, str], training: list[Any]
) -> list[Any]:
    menu: list[Any] = [{"Start": "index.md"}, {"Today": "today.md"}]
    for section in SECTIONS:
        inside = []
        for title, same in groupby((v for v in views if v.section == section), key=lambda v: v.title):
            entries = [{_menu_title(v): source_address(v.page_address)} for v in same]
            inside += in_a_row_or_group(str(escape(title)), entries)
        if inside:
            menu.append({section: inside})
    for title, address in (("Naming plants", "training/naming.md"), ("Roster", "training/roster.md")):
        training = [*training, {title: address}] if address in pages else training
    menu.append({"Training": training})
    if reckoners:
        entries = [{str(escape(title)): address} for title, address in reckoners.items()]
        menu.append({"Reckoners": in_a_row_or_group("Each system", entries)})
    reference = {
        "Calendar": "calendar",
        "Glossary": "glossary",
        "House facts": "facts",
        "Inventory": "inventory",
        "How often": "frequencies",
        "Who may do what": "roles",
        "Cautions": "cautions",
        "Workings": "workings",
        "Checks": "checks",
        "House log": "log",
        "Sources": "sources",
        "Requirements": "requirements",
        "Master list": "master-list",
        "Changes": "changes",
    }
    addresses = {title: f"reference/{name}.md" for title, name in reference.items()}
    menu.append({"Reference": [{title: address} for title, address in addresses.items() if address in pages]})
    return menu


def _menu_title(view: PageView) -> str:
    return str(escape(f"{view.title}, {view.system}" if view.system else view.title))
