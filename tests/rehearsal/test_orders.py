"""Orders that a job allows are all clean: two hundred of them, chosen at random, none accused."""

from __future__ import annotations

import random

import pytest

from macros.published.labour.jobs import job
from macros.rehearsal.jobs import rehearse_job
from tests.making import manual_of

HOUSES = [("first", "K"), ("second", "N"), ("third", "K"), ("fourth", "K"), ("fifth", "K")]
ORDERS = 40
"""In each house: two hundred in all."""
OF_TIME = {"R-07", "R-10"}
"""A batch that is old, a crop that stands dry: an order alone has no clock of a day, its plan has (`day_plan/rehearsed`)."""


@pytest.mark.parametrize(("house", "system"), HOUSES)
def test_every_order_that_the_cleanout_allows_runs_clean(house: str, system: str) -> None:
    site, draw = manual_of(house), random.Random(house)
    orders = set()
    for _ in range(ORDERS):
        found = rehearse_job(job("cleanout"), site.built, site.register, system, draw.choice)
        assert found is not None
        orders.add(tuple((step.page, step.id) for step in found.steps))
        told = [
            (one.rule, one.step.page, one.step.id, one.what)
            for one in found.findings
            if one.rule not in OF_TIME
        ]
        assert told == []
    assert len(orders) == ORDERS


@pytest.mark.parametrize("part", ["leak_test", "loop_run", "loop_rinse"])
def test_a_part_that_runs_the_pump_by_hand_may_not_be_cut(part: str) -> None:
    """Else whoever stands at the plug is called to other work, and nobody ends that flood."""
    site, whole = manual_of("fourth"), job("cleanout")
    assert all(one.together for page in whole.pages for one in page.parts if one.id == part)
    pages = tuple(
        page.model_copy(
            update={
                "parts": tuple(
                    one.model_copy(update={"together": False}) if one.id == part else one
                    for one in page.parts
                )
            }
        )
        for page in whole.pages
    )
    found = rehearse_job(whole.model_copy(update={"pages": pages}), site.built, site.register, "K")
    assert found is not None
    assert found.findings
    assert {one.rule for one in found.findings} == {"R-12"}
    one = found.findings[0]
    assert one.what == (
        f"the pump runs by hand after this step, and part {part} may be cut here: nobody would end the flood"
    )
    assert one.advice == "Write together: yes on the part in macros/published/labour/jobs.yml"
