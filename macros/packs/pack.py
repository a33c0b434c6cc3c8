"""Packs: which sheets are printed together, in which order, for whom, on which day and paper.

Contents and order are data (`published/packs.yml`). What is asked on the command line is checked here, in words.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from functools import cached_property

from macros.amounts import Register
from macros.calculations.crop.sowing import WEEKDAYS
from macros.day_plan.day_plan import plan_days
from macros.day_plan.rehearsed import plan_problems
from macros.day_plan.rows import done
from macros.day_plan.schedule import PlannedDay
from macros.ground.problems import DataProblems, Place, Problem, errors_in
from macros.house import House
from macros.manual.pages.build_page import BuiltPage
from macros.manual.records.record_form import FormView
from macros.packs.pens import meter_on
from macros.page_model.checklist import ChecklistView
from macros.page_model.page import PageView
from macros.photographs import NO_PHOTOGRAPHS, Photographs
from macros.published.labour.jobs import job
from macros.published.paper.packs import ASKED, PackPlan, packs
from macros.published.training.training import training_units

PAPERS = ("A4", "Letter")
PEOPLE = ("1", "2")


@dataclass(frozen=True)
class PackRequest:
    """What was asked, as typed; None where nothing was.

    `kinds`, `stock` and `first` are for labels: which, on which label sheet, from which of its places. `with_copies`
    prints the sheets to hang behind the swap list.
    """

    pack: str
    page: str | None = None
    system: str | None = None
    people: str | None = None
    start: str | None = None
    paper: str | None = None
    large: bool = False
    kinds: tuple[str, ...] = ()
    stock: str = "single"
    first: int = 1
    module: str | None = None
    with_copies: bool = False


@dataclass(frozen=True)
class PackContext:
    """All a maker needs: the house worked out, and for what the pack is.

    `system` is empty for the whole house; `page` is the document asked for, else empty; `start` is None where
    nobody said when the day begins, and `people` 0 where nobody said how many. `warnings` are those of the build.
    `module` is the training unit asked for, else empty; `asked` holds what needs no checking against the house.
    """

    plan: PackPlan
    house: House
    register: Register
    views: tuple[PageView, ...]
    checklists: tuple[ChecklistView, ...]
    forms: Mapping[str, FormView]
    built: tuple[BuiltPage, ...]
    warnings: tuple[Problem, ...]
    photographs: Photographs
    system: str
    page: str
    day: date
    people: int
    start: time | None
    paper: str
    module: str
    asked: PackRequest

    def pages(self, document: str) -> list[PageView]:
        """The pages of a document for the pack's system; for every system where the pack has none."""
        document = self.page if document == ASKED else document
        return [
            view
            for view in self.views
            if view.document == document and (not self.system or view.system in ("", self.system))
        ]

    def all_pages(self) -> list[PageView]:
        """Every page of the pack once, in the order of use."""
        found = {page.key: page for entry in self.plan.parts for page in self.pages(entry.document)}
        return [*self.day_pages, *found.values()]

    @cached_property
    def days(self) -> list[PlannedDay]:
        """The job's day planned for one person and for two; empty where the pack has no job.

        Raises
        ------
        DataProblems
            the day cannot be planned, or the room does not bear its plan.
        """
        if self.plan.job is None:
            return []
        start = f"{self.start:%H:%M}" if self.start else ""
        planned, problems = plan_days(job(self.plan.job), self.views, self.register, self.system, start)
        problems += plan_problems(planned, self.built, self.register)
        if errors_in(problems):
            raise DataProblems(problems)
        return planned

    @property
    def planned(self) -> PlannedDay | None:
        """The plan whose order the pack follows: for as many people as asked for, for one where nobody said."""
        return next((one for one in self.days if one.people == (self.people or 1)), None)

    @cached_property
    def day_pages(self) -> list[PageView]:
        """The pages of the job's day in the order in which its plan first uses them; else of the day after.

        Where a pen is out of calibration, the page that calibrates it comes first.
        """
        if self.plan.job is None:
            return []
        documents = [one.document for one in job(self.plan.job).pages if one.next_day == self.plan.next_day]
        used = [] if self.plan.next_day else self._used()
        order = dict.fromkeys(used or documents)
        return [page for document in order for page in self.pages(document)]

    def _used(self) -> list[str]:
        """The documents of the plan by first use, before them that of the pens where one is out of calibration."""
        planned = self.planned
        if planned is None:
            return []
        used = [one.activity.page.document for one in done(planned)]
        first = packs().calibration
        out = any(meter_on(meter, self.day).out for meter in self.house.meters)
        return [first, *used] if out and first not in used else used

    def holds(self, maker: str, document: str = "") -> bool:
        """Whether the pack has sheets of this maker, for the document where one is named."""
        return any(entry.maker == maker and entry.document == document for entry in self.plan.parts)

    @property
    def name(self) -> str:
        """`Cleanout day, system A`."""
        return f"{self.plan.title}, system {self.system}" if self.system else self.plan.title

    @property
    def file_stem(self) -> str:
        """`cleanout-A-2026-03-10`; nothing but letters, digits and hyphens."""
        stem = self.plan.file.format(
            system=self.system, day=self.day.isoformat(), page=self._page_key(), module=self.module
        )
        return re.sub(r"[^A-Za-z0-9]+", "-", stem).strip("-")

    def _page_key(self) -> str:
        found = self.pages(ASKED)
        return found[0].key if len(found) == 1 else self.page


def day_text(day: date) -> str:
    """`Tuesday 2026-03-10`, in English on every machine."""
    return f"{WEEKDAYS[day.weekday()]} {day.isoformat()}"


def plan_named(name: str) -> PackPlan:
    """The kind of pack with this name.

    Raises
    ------
    DataProblems
        there is none; the message lists those there are.
    """
    known = packs().packs
    if name not in known:
        raise DataProblems([_told("pack", f'"{name}" is no pack', f"Packs: {', '.join(known)}")])
    return known[name]


def pack_context(
    asked: PackRequest,
    register: Register,
    pages: PagesOfHouse,
    warnings: Sequence[Problem],
    *,
    day_given: bool,
) -> PackContext:
    """What was asked, checked against the house.

    Parameters
    ----------
    day_given : a day was asked for; else a planned pack is for the day of use of the amounts

    Raises
    ------
    DataProblems
        everything that was asked wrongly, each with what is allowed.
    """
    plan, house = plan_named(asked.pack), register.house
    problems: list[Problem] = []
    page, of_page = _page(asked, plan, pages.views, problems)
    system = asked.system or of_page
    problems += _refused_system(system, plan, house)
    module = _module(asked.module, plan, problems)
    people = _one_of("people", asked.people, PEOPLE, "A day is planned for one or two people", problems)
    paper = _one_of("paper", asked.paper, PAPERS, "Papers", problems)
    start = _clock(asked.start, problems)
    problems += _refused_copies(asked, plan)
    day = register.built_for if day_given else _planned_day(plan, register, system)
    if problems:
        raise DataProblems(problems)
    return PackContext(
        plan=plan,
        house=house,
        register=register,
        views=pages.views,
        checklists=pages.checklists,
        forms=pages.forms,
        built=pages.built,
        warnings=tuple(warnings),
        photographs=pages.photographs,
        system=system,
        page=page,
        day=day,
        people=int(people or 0),
        start=start,
        paper=paper or house.house.paper or ("Letter" if house.us else "A4"),
        module=module,
        asked=asked,
    )


@dataclass(frozen=True)
class PagesOfHouse:
    """The finished views of one house."""

    views: tuple[PageView, ...]
    checklists: tuple[ChecklistView, ...]
    forms: Mapping[str, FormView]
    built: tuple[BuiltPage, ...] = ()
    photographs: Photographs = NO_PHOTOGRAPHS


def _planned_day(plan: PackPlan, register: Register, system: str) -> date:
    """The day the house plans a pack of this kind for."""
    if plan.planned is None:
        return register.built_for
    crop = register.house.crop_plan
    if plan.planned == "planting_day":
        return crop.days_of(system).planting_day if crop is not None else register.built_for
    return (crop.cleanout_of(system) if crop is not None else None) or register.day


def _page(
    asked: PackRequest, plan: PackPlan, views: Sequence[PageView], problems: list[Problem]
) -> tuple[str, str]:
    """The document asked for; a page may be named by its key, `SOP-08-A`, and names its system with it."""
    named = (asked.page or "").upper()
    view = next((one for one in views if one.key.upper() == named != one.document), None)
    page, system = (view.document, view.system) if view is not None else (named, "")
    documents = list(dict.fromkeys(one.document for one in views))
    if "page" in plan.asks and page not in documents:
        what = f'"{asked.page}" is no procedure of this house' if page else "no procedure is named"
        problems.append(_told("page", what, f"Procedures: {', '.join(documents)}"))
    if "page" not in plan.asks and page:
        what = f'the pack {plan.name} is no single procedure, but "{asked.page}" was given'
        problems.append(_told("page", what, f"For one procedure: trayside pack page {asked.page}"))
    return page, system


def _refused_system(system: str, plan: PackPlan, house: House) -> list[Problem]:
    """What is wrong with the system asked for; empty where all is well."""
    known = ", ".join(one.id for one in house.systems)
    if not system:
        if "system" not in plan.asks:
            return []
        return [_told("--system", "no system is named", f"Systems: {known}")]
    if "system" not in (*plan.asks, *plan.takes):
        return [_told("--system", f"the pack {plan.name} is for the whole house", "Leave --system out")]
    if all(one.id != system for one in house.systems):
        return [_told("--system", f'"{system}" is no system of this house', f"Systems: {known}")]
    return []


def _refused_copies(asked: PackRequest, plan: PackPlan) -> list[Problem]:
    if not asked.with_copies or any(entry.maker == "copies" for entry in plan.parts):
        return []
    what = f"the pack {plan.name} swaps no wall copies"
    return [_told("--with-copies", what, "Leave it out, or print: trayside pack control")]


def _module(given: str | None, plan: PackPlan, problems: list[Problem]) -> str:
    """The training unit asked for, named in full or by its number."""
    units = list(training_units())
    short = [unit.partition("_")[0] for unit in units]
    if "module" not in plan.asks:
        if given is not None:
            problems.append(
                _told("--module", f"the pack {plan.name} is for no training unit", "Leave --module out")
            )
        return ""
    wanted = (given or "").lower()
    found = [s for unit, s in zip(units, short, strict=True) if wanted in (unit.lower(), s.lower())]
    if not found:
        what = f'"{given}" is no training unit' if given else "no training unit is named"
        problems.append(_told("--module", what, f"Training units: {', '.join(short)}"))
        return ""
    return str(found[0])


def _one_of(
    name: str, given: str | None, allowed: Sequence[str], words: str, problems: list[Problem]
) -> str | None:
    """The one of `allowed` that was given, in whatever case; None where nothing was."""
    if given is None:
        return None
    found = next((one for one in allowed if one.lower() == given.lower()), None)
    if found is None:
        problems.append(_told(f"--{name}", f'"{given}" is not known', f"{words}: {', '.join(allowed)}"))
    return found


def _clock(given: str | None, problems: list[Problem]) -> time | None:
    if given is None:
        return None
    if re.fullmatch(r"([01]?\d|2[0-3]):[0-5]\d", given):
        hour, minute = given.split(":")
        return time(int(hour), int(minute))
    problems.append(
        _told("--start", f'"{given}" is no time of day', "Hours and minutes of the 24-hour clock, as 08:30")
    )
    return None


def _told(option: str, what: str, allowed: str) -> Problem:
    return Problem(Place(f"trayside pack, {option}", 1), option.removeprefix("--"), what, allowed)
