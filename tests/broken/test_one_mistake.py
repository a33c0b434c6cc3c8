"""One mistake in a good house: the whole message, word for word, with file and line."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.house import load_house
from tests.broken.cases import CASES, Case
from tests.making import made_house


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_message_of_one_mistake(tmp_path: Path, case: Case) -> None:
    house, problems = load_house(made_house(tmp_path, *case.changes))
    assert sorted(str(problem) for problem in problems) == sorted(case.messages)
    goes_on = ("warning: ", "measure this: ", "fill this in: ")
    assert (house is None) == any(not any(mark in message for mark in goes_on) for message in case.messages)


def test_there_are_enough_cases() -> None:
    assert len(CASES) >= 25
    assert len({case.name for case in CASES}) == len(CASES)


def test_all_mistakes_in_one_run(tmp_path: Path) -> None:
    """Every case that touches another place than the rest, put into one house: each is told, none is lost."""
    together, taken = [], set()
    for case in CASES:
        olds = {old for old, _ in case.changes}
        if case.alone or olds & taken:
            continue
        taken |= olds
        together.append(case)
    assert len(together) >= 20
    changes = [change for case in together for change in case.changes]
    _, problems = load_house(made_house(tmp_path, *changes))
    told = sorted(str(problem) for problem in problems)
    wanted = sorted(message for case in together for message in case.messages)
    assert told == wanted
