"""What is wrong with the steps or the house's times is told in words, with file and line."""

from __future__ import annotations

from copy import copy
from dataclasses import replace

import pytest

from macros.day_plan.check_house_times import check_stages
from macros.day_plan.day_plan import plan_days
from macros.ground.problems import Problem
from macros.ground.records import build_record
from macros.ground.yaml_source import read_yaml_text
from macros.house.records.people import CleanoutTask
from macros.page_model.page import PageView, StepView, WaitView
from macros.published.labour import jobs
from tests.day_plans import manual_of
from tests.making import PROCEDURES


def changed(view: PageView, document: str, name: str, **values: object) -> PageView:
    def mend(step: StepView) -> StepView:
        return replace(step, **values) if step.timing and step.timing.step == name else step  # type: ignore[arg-type]

    return (
        replace(view, steps=tuple(mend(step) for step in view.steps)) if view.document == document else view
    )


def problems_with(document: str, name: str, **values: object) -> list[Problem]:
    """Problems of the fourth house's cleanout with one step changed; no plan is made."""
    site = manual_of("fourth")
    views = [changed(view, document, name, **values) for view in site.views]
    days, problems = plan_days(jobs.job("cleanout"), views, site.register, "K", "08:00", [2])
    assert days == []
    return problems


def line_of(file: str, text: str, after: str) -> int:
    """The line of a shipped page that holds a text, behind the line that holds another."""
    lines = (PROCEDURES / file).read_text(encoding="utf-8").splitlines()
    first = next(number for number, line in enumerate(lines) if after in line)
    return next(number for number, line in enumerate(lines, start=1) if number > first and text in line)


def test_a_wait_that_is_no_time() -> None:
    wait = WaitView("20 min", "one hour", "lift and rinse", "", 20.0, None)
    (problem,) = problems_with("SOP-05", "lower", wait=wait)
    line = line_of("sop-05-soak-parts.md", "wait:", "- id: lower")
    assert str(problem) == (
        f'procedures/sop-05-soak-parts.md:{line}: steps[lower].wait.greatest: "one hour" cannot be read as a time. '
        "A day's plan needs one plain time, as 15 min or 2 h. Write it so, or say under rules.waits of "
        "macros/published/labour/jobs.yml what it means in one day."
    )


def test_a_wait_whose_least_is_over_its_greatest() -> None:
    (problem,) = {
        str(p)
        for p in problems_with(
            "SOP-08", "rinse_measure", wait=WaitView("90 min", "1 h", "go on", "", 90.0, 60.0)
        )
    }
    line = line_of("sop-08-reservoir-change.md", "wait:", "- id: rinse_measure")
    assert problem == (
        f"procedures/sop-08-reservoir-change.md:{line}: steps[rinse_measure].wait: it lasts at least 90 min and at most "
        "60 min. The least may not be over the greatest. Mend one of the two, or the fact it comes from."
    )


def test_a_step_the_house_calls_critical_is_not_left_out() -> None:
    (problem,) = problems_with("SOP-04", "dry", critical=True)
    line = line_of("sop-04-trays-and-racks.md", "- id: dry", "- id: shut_drain")
    assert str(problem) == (
        f"procedures/sop-04-trays-and-racks.md:{line}: steps[dry]: step 12 of SOP-04-K is left out of the cleanout day, "
        "and the page calls it critical. A critical or held step is never left out of a day. Take it out of leave_out "
        "in macros/published/labour/jobs.yml, or ask whether it is critical."
    )


def test_steps_that_overrun_a_time_within_one_activity() -> None:
    """Picking 12, laying 20 instead of 4, size, label and cold 2 each, against half an hour."""
    (problem,) = {str(p) for p in problems_with("SOP-18", "lay", minutes=20.0)}
    line = line_of("sop-18-harvest-and-pack.md", "- id: pick_flower", "critical: yes")
    assert problem == (
        f"procedures/sop-18-harvest-and-pack.md:{line}: steps[pick_flower]: from SOP-18 step 8, viola to SOP-18 step 13, "
        "viola the steps alone take 38 min. At most 30 min. Mend the minutes of the steps, or the time allowed."
    )


def test_steps_that_overrun_the_life_of_a_batch() -> None:
    """Stock 3, pouring 1, its rinse 1, making up 2, stirring, label, sample and thinning 1 each, strip 2, rinsing the measures 1,
    wetting again 300 min, against 4 h."""
    (problem,) = problems_with("SOP-04", "rewet", minutes=300.0)
    assert problem.key == "steps[stock]"
    assert str(problem).endswith(
        "from SOP-03 step 2 to SOP-04 step 8 the steps alone take 314 min. At most 240 min. "
        "Mend the minutes of the steps, or the time allowed."
    )


def test_a_day_no_plan_can_hold_is_refused_with_its_reason() -> None:
    """The tray spray must be used within its life, and what lies between takes longer: the links contradict."""
    (problem,) = problems_with("SOP-04", "spray", minutes=238.0)
    assert str(problem).startswith(
        "macros/published/labour/jobs.yml:1: jobs.cleanout: the day of cleanout day, system K, cannot be planned for two people: "
    )
    assert str(problem).endswith("Mend the times of the steps named, or the order of the job.")


# ------------------------------------------------------------------ W11


def with_stages(*tasks: CleanoutTask) -> list[str]:
    """The warnings of the fourth house with these stages of its own."""
    site = manual_of("fourth")
    register = copy(site.register)
    register.house = site.register.house.model_copy(update={"cleanout_tasks": tasks})
    problems = check_stages(site.views, register)
    assert all((problem.code, problem.severity) == ("W11", "warning") for problem in problems)
    return [str(problem) for problem in problems]


def stage(id_: str, hands_on: str, wait: str) -> CleanoutTask:
    source, problems = read_yaml_text(
        f'cleanout_tasks:\n  - {{id: {id_}, hands_on: "{hands_on}", wait: "{wait}", after: []}}\n',
        "house.yml",
    )
    assert source is not None
    task, wrong = build_record(CleanoutTask, source, ("cleanout_tasks", 0))
    assert task is not None
    assert [*problems, *wrong] == []
    return task


def test_a_stage_that_is_off_by_more_than_a_quarter_is_told() -> None:
    # By the steps: brush 20, rinse 6, feel 2 min; no wait.
    found = with_stages(stage("wash_trays", "60 min", "0 min"))
    assert len(found) == len(manual_of("fourth").register.house.systems)
    assert found[0] == (
        "house.yml:2: warning: cleanout_tasks[wash_trays].hands_on: the steps of stage wash_trays on system K take 28 min hands-on, "
        "here it is 60 min. At most 25 % apart. Time the next cleanout and write what it took here, or mend the minutes "
        "of the steps. [W11]"
    )


def test_a_wait_that_is_off_is_told_as_a_wait() -> None:
    # By the steps: 8 min spraying, 4 min again, 11 min of batch and 3 min of dressing; 10 min wet.
    found = with_stages(stage("spray_trays", "26 min", "40 min"))
    assert found
    assert "the steps of stage spray_trays on system K take 10 min waiting, here it is 40 min." in found[0]


@pytest.mark.parametrize("minutes", [24, 28, 33, 35])
def test_a_stage_within_a_quarter_is_not_told(minutes: int) -> None:
    assert with_stages(stage("wash_trays", f"{minutes} min", "4 min")) == []


def test_a_stage_the_job_does_not_know_is_not_compared() -> None:
    """Houses may have stages of their own names; the house of the test has."""
    site = manual_of("fourth")
    assert {task.id for task in site.register.house.cleanout_tasks} & set(
        jobs.job("cleanout").stages
    ) == set()
    assert not [problem for problem in site.warnings if problem.code == "W11"]
