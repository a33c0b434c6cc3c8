"""Orders that a job allows are all clean: two hundred of them, chosen at random, none accused."""

from __future__ import annotations

import random

import pytest

from macros.published.work.jobs import job
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
