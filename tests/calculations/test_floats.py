"""Earliest and latest starts against linear programming; the chain without float against a published one."""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.optimize import linprog

from macros.calculations.scheduler import Link, NetworkActivity, Times, floats


def random_network(seed: int) -> list[NetworkActivity]:
    """Up to 25 activities with least gaps, and greatest gaps wide enough to be kept together with them."""
    drawn = random.Random(seed)
    made: list[NetworkActivity] = []
    early: dict[str, int] = {}
    for k in range(drawn.randrange(3, 26)):
        before = drawn.sample(made, min(len(made), drawn.randrange(4)))
        links = [(one, drawn.choice((0, 0, 5, 20))) for one in before]
        start = max([0, *(early[one.id] + one.minutes + least for one, least in links)])
        early[f"n{k}"] = start
        after = tuple(
            Link(
                one.id,
                least,
                start - early[one.id] - one.minutes + drawn.randrange(9) if drawn.random() < 0.3 else None,
            )
            for one, least in links
        )
        made.append(NetworkActivity(f"n{k}", drawn.randrange(0, 30), 1, after))
    return made


def by_linear_programming(activities: list[NetworkActivity]) -> tuple[int, list[int], list[int]]:
    """Least finish, then all earliest and all latest starts for it, each by one linear program."""
    number = {activity.id: k for k, activity in enumerate(activities)}
    count = len(activities)
    rows, bounds = [], []

    def at_most(plus: int, minus: int, value: float) -> None:
        row = np.zeros(count + 1)
        row[plus] += 1
        row[minus] -= 1
        rows.append(row)
        bounds.append(value)

    for k, activity in enumerate(activities):
        at_most(k, count, -activity.minutes)
        for link in activity.after:
            i = number[link.activity]
            at_most(i, k, -activities[i].minutes - link.least)
            if link.greatest is not None:
                at_most(k, i, activities[i].minutes + link.greatest)

    def solved(cost: np.ndarray, most: float | None) -> list[int]:
        limits = [(0, None)] * count + [(0, most)]
        return [round(x) for x in linprog(cost, A_ub=np.array(rows), b_ub=bounds, bounds=limits).x]

    finish = solved(np.eye(count + 1)[count], None)[count]
    total = np.append(np.ones(count), 0)
    return finish, solved(total, finish)[:count], solved(-total, finish)[:count]


@pytest.mark.parametrize("seed", range(40))
def test_passes_agree_with_linear_programming(seed: int) -> None:
    """Source: scipy's linear programming (HiGHS)."""
    activities = random_network(seed)
    times = floats(activities)
    finish, early, late = by_linear_programming(activities)
    assert max(one.earliest_finish for one in times) == finish
    assert [one.earliest_start for one in times] == early
    assert [one.latest_start for one in times] == late
    for one, activity in zip(times, activities, strict=True):
        assert one.earliest_finish == one.earliest_start + activity.minutes


@pytest.mark.quick
def test_published_chains_are_the_activities_without_float() -> None:
    """Source: the seven-activity example of encyclopedias, from memory; how many do it is no matter here."""
    network = [
        NetworkActivity("a", 400),
        NetworkActivity("b", 533, 2),
        NetworkActivity("c", 517, 1, (Link("a"),)),
        NetworkActivity("d", 633, 1, (Link("a"),)),
        NetworkActivity("e", 517, 1, (Link("b"), Link("c"))),
        NetworkActivity("f", 450, 1, (Link("d"),)),
        NetworkActivity("g", 517, 1, (Link("e"),)),
    ]
    assert [one.id for one in floats(network) if one.total_float == 0] == ["a", "c", "e", "g"]
    assert floats(network)[1] == Times("b", 0, 533, 384)


def test_no_activities_have_no_times() -> None:
    assert floats([]) == ()
