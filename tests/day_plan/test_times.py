"""Times as authors type them, and the clock."""

from __future__ import annotations

import pytest

from macros.day_plan.times import clock, from_midnight, length
from macros.page_model.clock_times import typed_minutes, whole_minutes

# Times as people write them and the minutes they are; a least time is rounded up, a greatest down: the safe side.
READ = [
    ("60 min", 60, 60),
    ("1 h", 60, 60),
    ("1.5 h", 90, 90),
    ("2 day", 2880, 2880),
    ("90 s", 2, 1),
    ("15\u00a0min", 15, 15),
]
NO_TIME = [
    "15 min from the last liquid",
    "to the end of the working day",
    "overnight",
    "15",
    "",
    "-5 min",
    "10 to 15 min",
]


@pytest.mark.parametrize(("text", "up", "down"), READ)
def test_a_plain_time_is_read(text: str, up: int, down: int) -> None:
    exact = typed_minutes(text)
    assert exact is not None
    assert (whole_minutes(exact, up=True), whole_minutes(exact, up=False)) == (up, down)


@pytest.mark.parametrize("text", NO_TIME)
def test_what_is_no_plain_time_is_not_guessed(text: str) -> None:
    assert typed_minutes(text) is None


@pytest.mark.parametrize(
    ("start", "minutes", "shown"),
    [
        ("08:00", 0, "08:00"),
        ("08:00", 59, "08:59"),
        ("08:45", 75, "10:00"),
        ("23:50", 9, "23:59"),
        ("23:50", 10, "00:00 next day"),
        ("22:00", 600, "08:00 next day"),
        ("22:00", 1600, "00:40 on day 3"),
    ],
)
def test_clock_arithmetic(start: str, minutes: int, shown: str) -> None:
    assert clock(from_midnight(start), minutes) == shown


@pytest.mark.parametrize("text", ["8:00", "24:00", "08:60", "08.00", "8 h", "", "٠٨:٠٠", "08:00 am", "-1:30"])
def test_a_start_that_is_no_clock_time_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a clock time") as told:
        from_midnight(text)
    assert str(told.value) == (
        f'"{text}" is not a clock time. Write hours and minutes on the 24 h clock, as 08:30.'
    )


def test_lengths_are_told_in_hours_and_minutes() -> None:
    assert [length(n) for n in (0, 5, 59, 60, 65, 600)] == [
        "0 min",
        "5 min",
        "59 min",
        "1 h",
        "1 h 05 min",
        "10 h",
    ]
