"""The path of a helper: modules in order, what each asks for, lets one do and takes, from the pages themselves."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from macros.amounts import NotFound, Register
from macros.amounts.engine import number_format as printing
from macros.calculations.rounding import round_to
from macros.ground.problems import Problem
from macros.ground.units import Quantity
from macros.house import House
from macros.manual.house_facts.fact_text import fact_text
from macros.page_model.clock_times import spoken_time
from macros.page_model.job_breakdown import BreakdownView, shared_sheets
from macros.page_model.page import AmountView, PageView
from macros.published.training.training import Module, short_name, sign_off_rules, training, training_units

STEP_OF_HOURS = 0.1
"""A total of hours is rounded up to this, as the amount `training_hours` is."""

TRAINERS_LEVEL = 4
"""A page for who trains others is no part of a helper's path."""


@dataclass(frozen=True)
class ModuleView:
    """One module for the house at hand.

    `pages` ask for the module, in the order of their numbers; `taught` are those worked in shadow runs in it;
    `lets` may be done alone once it is passed and the page is signed off, and not before. `hours` is as the house
    says it, or empty; `shadow_minutes` the hands-on minutes of one shadow run of every taught document.
    """

    data: Module
    title: str
    address: str
    trainer_address: str
    pages: tuple[PageView, ...]
    taught: tuple[PageView, ...]
    lets: tuple[PageView, ...]
    sheets: tuple[BreakdownView, ...]
    hours: str
    shadow_minutes: float
    runs: int
    run_text: str
    public_address: str

    @property
    def shadow_time(self) -> str:
        """The hands-on minutes of one shadow run, as a person says them."""
        return spoken_time(self.shadow_minutes)


@dataclass(frozen=True)
class PathView:
    """The whole path. `total` is module hours and shadow runs by the steps; `cleanout` the register's own amount."""

    modules: tuple[ModuleView, ...]
    runs: str
    total: str
    total_working: str
    untimed: tuple[str, ...]
    cleanout: AmountView | None


def training_path(register: Register, views: Sequence[PageView]) -> PathView | None:
    """The path of this house; None where it says nothing about training."""
    house = register.house
    if house.training is None:
        return None
    modules = tuple(_modules(house, views))
    runs = house.training.trainee_shadow_runs
    given = [_given_hours(house, module.data.unit) for module in modules]
    hours = sum(one.to("h") for one in given if one is not None)
    minutes = sum(module.shadow_minutes for module in modules)
    exact = hours + runs * minutes / 60
    total = printing.text_as_set(round_to(exact, STEP_OF_HOURS, "up"), STEP_OF_HOURS)
    return PathView(
        modules,
        printing.brief(runs),
        f"{total} h",
        f"{printing.brief(hours)} h of modules + {printing.brief(runs)} x {printing.brief(minutes)} min",
        tuple(module.data.short for module in modules if not module.hours),
        _cleanout(register),
    )


def module_named(path: PathView, name: str) -> ModuleView:
    """A module by its unit or its short name, `M8`.

    Raises
    ------
    KeyError
        there is no such module; the message lists what there is.
    """
    for module in path.modules:
        if name.lower() in (module.data.short.lower(), module.data.unit.lower()):
            return module
    raise KeyError(f"{name} is no module: there are {', '.join(m.data.short for m in path.modules)}")


def training_problems(house: House) -> list[Problem]:
    """Modules the house times that the path has not, or times twice; fewer shadow runs than a sign-off takes."""
    if house.training is None:
        return []
    problems, seen = [], dict[str, str]()
    known = {name: module.unit for module in training().modules for name in (module.unit, module.short)}
    for name in house.training.modules:
        unit = known.get(name)
        if unit is not None and unit not in seen:
            seen[unit] = name
            continue
        what = (
            f"{name} is no module of the path" if unit is None else f"{seen[unit]} and {name} are one module"
        )
        problems.append(
            Problem(
                house.training.place(f"modules.{name}"),
                house.training.key(f"modules.{name}"),
                what,
                f"Modules are {', '.join(module.unit for module in training().modules)}, or M1 for the first",
                "Mend the name, or take the line out",
            )
        )
    least = sign_off_rules().good_runs
    if house.training.trainee_shadow_runs < least:
        problems.append(
            Problem(
                house.training.place("trainee_shadow_runs"),
                house.training.key("trainee_shadow_runs"),
                f"{printing.brief(house.training.trainee_shadow_runs)} shadow runs before a sign-off",
                f"{least} good runs at least, then one unannounced (our own rule)",
                f"Write {least} or more",
                severity="warning",
            )
        )
    return problems


def units_of(page: PageView) -> tuple[str, ...]:
    """The ids of the units a page asks for."""
    ids = {title: unit for unit, title in training_units().items()}
    return tuple(ids[title] for title in page.units if title in ids)


def _modules(house: House, views: Sequence[PageView]) -> Iterator[ModuleView]:
    done: set[str] = set()
    passed: list[Module] = []
    for data in training().modules:
        passed.append(data)
        lets = tuple(page for page in views if page.key not in done and _may(page, passed))
        done |= {page.key for page in lets}
        yield _module(house, views, data, lets)


def _module(house: House, views: Sequence[PageView], data: Module, lets: tuple[PageView, ...]) -> ModuleView:
    assert house.training is not None
    taught = tuple(page for page in views if _taught_in(page) == data.unit)
    name = data.unit.lower().replace("_", "-")
    hours = _given_hours(house, data.unit)
    runs = max(sign_off_rules().good_runs, math.ceil(house.training.trainee_shadow_runs))
    return ModuleView(
        data,
        f"{data.short} {data.title}",
        f"training/{name}.html",
        f"training/trainer-{name}.html",
        tuple(page for page in views if data.unit in units_of(page)),
        taught,
        lets,
        shared_sheets(taught),
        fact_text(hours, house.us) if hours is not None else "",
        _longest(taught),
        runs,
        training().run.text.format(runs=runs, unannounced=sign_off_rules().unannounced_runs),
        _public(house, f"training/{name}.html"),
    )


def _taught_in(page: PageView) -> str:
    """The module whose shadow runs work the page; none for a page of the trainer's own."""
    if page.level >= TRAINERS_LEVEL:
        return ""
    for data in training().modules:
        if page.document in data.teaches:
            return data.unit
    order = [data.unit for data in training().modules]
    return max(units_of(page), key=order.index, default="")


def _may(page: PageView, passed: Sequence[Module]) -> bool:
    """Whether who passed these modules may do the page alone, once signed off for it; pages for anybody are not told."""
    level = max(data.level_after for data in passed)
    return 0 < page.level <= level and set(units_of(page)) <= {data.unit for data in passed}


def _longest(pages: Sequence[PageView]) -> float:
    """Hands-on minutes of one run of each document; of one done in several systems, those of the longest."""
    by_document: dict[str, float] = {}
    for page in pages:
        minutes = sum(step.minutes for step in page.steps)
        by_document[page.document] = max(minutes, by_document.get(page.document, 0.0))
    return sum(by_document.values())


def _public(house: House, address: str) -> str:
    base = house.house.site_address
    return f"{str(base).rstrip('/')}/{address}" if base else address


def _given_hours(house: House, unit: str) -> Quantity | None:
    assert house.training is not None
    return house.training.modules.get(unit) or house.training.modules.get(short_name(unit))


def _cleanout(register: Register) -> AmountView | None:
    try:
        found = register.get("training_hours")
    except NotFound:
        return None
    return AmountView(found.id, found.label, found.printed, found.tool, found.anchor)
