"""No plan can put two hands on one measure, or another liquid into one that nobody has rinsed."""

from __future__ import annotations

from collections.abc import Iterator
from copy import copy

import pytest

from macros.day_plan.activities_of_steps import work_of
from macros.day_plan.day_plan import plan_days
from macros.day_plan.rehearsed import plan_problems
from macros.day_plan.work import DayActivity
from macros.published.labour.jobs import job
from macros.rehearsal.model.steps import RunStep, steps_of
from tests.day_plans import SYSTEMS, cleanout
from tests.making import manual_of

MANY = ("second", "third", "fourth", "fifth")


def activities(house: str) -> Iterator[tuple[DayActivity, list[RunStep]]]:
    """The hands-on work of every system's cleanout with its steps as the rehearsal reads them."""
    site = manual_of(house)
    for system in site.register.house.systems:
        steps = {
            (page.content.document, step.id): step
            for page in site.built
            if page.content.system in ("", system.id)
            for step in steps_of(page, site.register, system.id)
        }
        for one in work_of(job("cleanout"), site.views, site.register, system.id).activities:
            if one.kind == "work":
                yield one, [steps[one.page.document, view.id] for view in one.steps]


@pytest.mark.parametrize("house", MANY)
def test_whoever_measures_holds_the_measure(house: str) -> None:
    """A plan never gives one thing to two activities at a time: what is held is what the rehearsal sees filled."""
    measured = 0
    for activity, steps in activities(house):
        filled = {tool for step in steps for tool, _ in step.groups}
        assert filled <= {*activity.needs}, activity.id
        measured += len(filled)
    assert measured


@pytest.mark.parametrize("house", MANY)
def test_a_batch_is_measured_and_its_measures_rinsed_in_one_go(house: str) -> None:
    stocks = 0
    for activity, steps in activities(house):
        held: dict[str, str] = {}
        for step in steps:
            held = {} if step.action == "rinse" and not step.does.rinse else held
            held |= dict(step.groups)
            stocks += step.written == "stock"
        if activity.page.document == "SOP-03":
            assert set(held.values()) <= {"water"}, activity.id
    assert stocks


def test_a_step_that_puts_on_a_batch_measures_nothing() -> None:
    """Spraying takes half of a batch at hand; the jugs named with its litres are those it was made with."""
    wetting = [
        (activity, step)
        for activity, steps in activities("fourth")
        for step in steps
        if step.written in ("spray", "rewet", "lower")
    ]
    assert wetting
    assert all(step.groups == () for _, step in wetting)
    assert any(view.amounts[0].fillings for one, _ in wetting for view in one.steps if view.amounts)


@pytest.mark.parametrize(("house", "system"), SYSTEMS)
def test_the_room_bears_every_plan(house: str, system: str) -> None:
    site = manual_of(house)
    assert plan_problems(cleanout(house, system), site.built, site.register) == []


def test_the_room_bears_a_plan_of_two_who_may_do_all() -> None:
    """A house that names nobody keeps no page from B: then the two share the batches and the trays."""
    site = manual_of("fourth")
    register = copy(site.register)
    object.__setattr__(register, "house", register.house.model_copy(update={"people": ()}))
    days, problems = plan_days(job("cleanout"), site.views, register, "K", "08:00", [2])
    assert problems == []
    assert plan_problems(days, site.built, register) == []
