"""Jobs as data: they name steps, tasks and stages that exist, and leave nothing out in silence."""

from __future__ import annotations

from functools import cache

import pytest

from macros.manual.procedures.load_files import ProcedureFile, load_procedures
from macros.published.labour import jobs
from tests.making import PROCEDURES


@cache
def files() -> dict[str, ProcedureFile]:
    """The shipped procedures by their ids."""
    found, problems = load_procedures(PROCEDURES)
    assert problems == []
    return {file.id: file for file in found}


def step_ids(document: str) -> list[str]:
    """The ids of a page's steps, in their order."""
    return [step.id for step in files()[document].data.steps]


@pytest.mark.parametrize("name", list(jobs.day_facts().jobs))
def test_every_step_of_a_page_stands_in_one_part_or_is_left_out(name: str) -> None:
    for page in jobs.job(name).pages:
        named = [step for part in page.parts for step in part.steps] + list(page.left_out)
        if any(not part.steps for part in page.parts):
            assert named == []
            continue
        assert sorted(named) == sorted(step_ids(page.document)), page.document


@pytest.mark.parametrize("name", list(jobs.day_facts().jobs))
def test_nothing_critical_is_left_out_and_each_reason_is_given(name: str) -> None:
    for page in jobs.job(name).pages:
        steps = {step.id: step for step in files()[page.document].data.steps}
        for step, reason in page.left_out.items():
            assert not steps[step].critical
            assert not steps[step].hold
            assert len(reason) > 10


@pytest.mark.parametrize("name", list(jobs.day_facts().jobs))
def test_parts_come_after_parts_of_the_job_and_never_in_a_ring(name: str) -> None:
    after = {part.id: set(part.after) for page in jobs.job(name).pages for part in page.parts}
    assert all(before <= set(after) for before in after.values())
    done: set[str] = set()
    while True:
        more = {part for part, before in after.items() if part not in done and before <= done}
        if not more:
            break
        done |= more
    assert done == set(after)


def test_a_wait_that_is_no_plain_time_has_a_meaning_in_the_plan() -> None:
    # The page says "15 min from the last liquid" and "to the end of the working day"; a day's plan needs minutes.
    assert {name: (wait.least.written, wait.greatest) for name, wait in jobs.rules().waits.items()} == {
        "SOP-24/water_first": ("15 min", None)
    }


def test_pages_without_parts_follow_one_another() -> None:
    found = jobs.job_of(["SOP-04", "SOP-08"], "Two pages")
    assert [(part.id, part.after) for page in found.pages for part in page.parts] == [
        ("SOP-04", ()),
        ("SOP-08", ("SOP-04",)),
    ]


def test_an_unknown_job_lists_those_there_are() -> None:
    with pytest.raises(KeyError, match=r"is no job\. There are cleanout, solution_change"):
        jobs.job("cleaning")
