"""The day's time: an example worked by hand, a textbook network, rings and unknown names refused."""

from __future__ import annotations

import pytest

from macros.calculations.labour.schedule import Task, critical_path, one_person
from macros.ground.problems import RangeProblem

DAY = [
    Task("strip", 45, 0),
    Task("drain", 10, 15, ("strip",)),
    Task("wash", 35, 0, ("drain",)),
    Task("soak", 25, 60, ("strip",)),
    Task("spray", 15, 10, ("wash",)),
    Task("loop", 10, 60, ("spray",)),
    Task("rinse", 40, 0, ("loop", "soak")),
    Task("refill", 30, 30, ("rinse",)),
    Task("test", 20, 20, ("refill",)),
]


def test_owners_day_for_one_and_for_two() -> None:
    """Source: arithmetic, checked by hand: 350 min alone, 258 min for two at 0.60 of the hands-on time."""
    assert one_person(DAY) == 350
    assert critical_path(DAY, 0.60) == pytest.approx(258)


def test_published_critical_path() -> None:
    """Source: an eight-activity example of critical-path texts, from memory: A3; B4 after A; C2 after A; D5 after B;
    E1 after C; F2 after C; G4 after D, E; H3 after F, G gives 3 + 4 + 5 + 4 + 3 = 19."""
    tasks = [
        Task("A", 3, 0),
        Task("B", 4, 0, ("A",)),
        Task("C", 2, 0, ("A",)),
        Task("D", 5, 0, ("B",)),
        Task("E", 1, 0, ("C",)),
        Task("F", 2, 0, ("C",)),
        Task("G", 4, 0, ("D", "E")),
        Task("H", 3, 0, ("F", "G")),
    ]
    assert critical_path(tasks) == 19
    assert one_person(tasks) == sum(task.hands_on for task in tasks)


def test_waits_overlap_work() -> None:
    assert one_person([Task("soak", 5, 60), Task("wash", 30, 0)]) == 65


def test_order_that_cannot_be_is_refused() -> None:
    with pytest.raises(RangeProblem, match="a, b wait for one another"):
        one_person([Task("a", 1, 0, ("b",)), Task("b", 1, 0, ("a",))])
    with pytest.raises(RangeProblem, match="a comes after z, which is no task"):
        critical_path([Task("a", 1, 0, ("z",))])
    with pytest.raises(RangeProblem, match="there is no task"):
        one_person([])
