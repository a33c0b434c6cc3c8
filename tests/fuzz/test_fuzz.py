"""Two hundred damaged houses and 60 damaged pages: each works, or is refused by file, line and words."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from random import Random

import pytest

from macros.ground.problems import DataProblems, Place, Problem
from tests.fuzz.houses import NAMES, TWO_PAGES, house_case, make_house, run_house, standing_alone
from tests.fuzz.judging import Outcome, TooSlow, judged, within
from tests.fuzz.other_ways import make_other_house
from tests.fuzz.pages import damaged_page, page_case, page_of_parts, run_page
from tests.making import HOUSES

SEED = "every day"
HOUSE_CASES, PAGE_CASES, PIECES = 200, 60, 4
"""The pieces run beside each other; many times as many are run by hand (`tests.benchmarks.fuzz`)."""


def _told(outcomes: dict[int, Outcome]) -> list[str]:
    return [f"number {number}: {outcome.fault}" for number, outcome in outcomes.items() if outcome.fault]


@pytest.mark.parametrize("piece", range(PIECES))
def test_damaged_houses_work_or_are_refused_in_words(tmp_path: Path, piece: int) -> None:
    outcomes = {number: house_case(SEED, number, tmp_path) for number in range(piece, HOUSE_CASES, PIECES)}
    assert _told(outcomes) == []
    refused = sum(outcome.refused for outcome in outcomes.values())
    assert len(outcomes) / 2 < refused < len(outcomes), (
        "the damage is too light or too heavy to find anything"
    )


@pytest.mark.parametrize("piece", range(PIECES))
def test_damaged_pages_work_or_are_refused_in_words(tmp_path: Path, piece: int) -> None:
    outcomes = {number: page_case(SEED, number, tmp_path) for number in range(piece, PAGE_CASES, PIECES)}
    assert _told(outcomes) == []
    refused = sum(outcome.refused for outcome in outcomes.values())
    assert len(outcomes) / 3 < refused < len(outcomes), (
        "the damage is too light or too heavy to find anything"
    )


def test_parts_exchanged_units_rewritten_and_borders_work_or_are_refused_in_words(tmp_path: Path) -> None:
    """Of each page and house everything stands in its form: many work, and the rest is told like any other mistake."""
    houses = {number: house_case(SEED, number, tmp_path, make_other_house) for number in range(1, 20)}
    pages = {number: page_case(SEED, number, tmp_path, page_of_parts) for number in range(1, 15)}
    assert _told(houses) + _told(pages) == []
    for outcomes in (houses, pages):
        assert len(outcomes) / 4 < sum(outcome.refused for outcome in outcomes.values()) < len(outcomes)


def test_the_same_seed_makes_the_same_damage(tmp_path: Path) -> None:
    made = [make_house(Random("a"), tmp_path / name) / "site_data" / "house.yml" for name in ("one", "two")]
    assert made[0].read_bytes() == made[1].read_bytes()
    other = make_house(Random("b"), tmp_path / "three") / "site_data" / "house.yml"
    assert other.read_bytes() != made[0].read_bytes()
    name = min(standing_alone())
    assert damaged_page(Random("a"), name) == damaged_page(Random("a"), name)


def test_undamaged_houses_and_pages_work(tmp_path: Path) -> None:
    """What is refused above is refused for its damage."""
    for name in NAMES:
        outcome = judged(partial(run_house, HOUSES / name))
        assert (outcome.refused, outcome.fault) == (False, ""), (name, outcome.messages)
    shipped, pages = tmp_path / "shipped", tmp_path / "pages"
    shipped.mkdir()
    pages.mkdir()
    for name, text in standing_alone().items():
        for folder in (pages, shipped) if name in TWO_PAGES else (pages,):
            (folder / name).write_text(text, encoding="utf-8")
    for name in NAMES:
        outcome = judged(partial(run_house, HOUSES / name, shipped))
        assert (outcome.refused, outcome.fault) == (False, ""), (name, outcome.messages)
    outcome = judged(lambda: run_page(pages))
    assert (outcome.refused, outcome.fault) == (False, ""), outcome.messages


# ------------------------------------------------------------------ the judge judged


def _problem(what: str = "it is wrong", line: int = 3, key: str = "key") -> Problem:
    return Problem(Place("file.yml", line), key, what)


def test_the_judge_passes_what_is_told_well() -> None:
    outcome = judged(lambda: [_problem()])
    assert (outcome.refused, outcome.fault) == (True, "")


@pytest.mark.parametrize(
    ("problem", "fault"),
    [
        (_problem(line=0), "no place"),
        (_problem(what="wrong"), "no words"),
        (_problem(what="unhashable type here"), "speaks of unhashable"),
        (_problem(what="KeyError: 'x'"), "speaks of KeyError"),
        (_problem(what="it is <class 'int'>"), "speaks of <class '"),
    ],
)
def test_the_judge_finds_bad_messages(problem: Problem, fault: str) -> None:
    assert judged(lambda: [problem]).fault.startswith(fault)


def _raise(error: BaseException) -> list[Problem]:
    raise error


def test_the_judge_finds_crashes_hangs_and_writing(tmp_path: Path) -> None:
    assert judged(lambda: _raise(KeyError("x"))).fault.startswith("KeyError: 'x' at test_fuzz.py:")
    assert judged(lambda: _raise(TooSlow())).fault == "over 10 s"
    assert judged(lambda: _raise(DataProblems([_problem()]))).fault == ""

    def write() -> list[Problem]:
        (tmp_path / "x").write_text("x", encoding="utf-8")
        return []

    assert judged(write).fault.startswith("did what it may not: ['open ")

    def hang() -> None:
        with within(0.05):
            while True:
                pass

    with pytest.raises(TooSlow):
        hang()
