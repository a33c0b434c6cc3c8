"""What stands again: a caution of grave injury before each stretch of the work, and before the larger pour."""

from __future__ import annotations

import pytest

from macros.manual.cautions.cautions_of_page import page_cautions
from macros.manual.cautions.step_facts import StepFacts
from macros.page_model.page import PlacedCaution
from macros.published.safety.substances import Handling
from tests.making import manual_of

STOCK = (Handling("hydrogen_peroxide", 12.0),)
WEAK = (Handling("hydrogen_peroxide", 3.0),)


def pours(handled: tuple[Handling, ...], begins: str = "", **taken: float) -> dict[str, list[str]]:
    """What stands before each of four pours, alone in the room."""
    steps = [StepFacts(one, "pour", handlings=handled, persons_in_room=1) for one in "abcd"]
    found = page_cautions(steps, begins=tuple(begins), taken=taken).before
    return {step: [one.id for one in placed] for step, placed in found.items()}


def test_a_grave_caution_stands_again_where_a_stretch_begins() -> None:
    conc = ["CHEM-PEROXIDE-CONC"]
    assert pours(STOCK, "c") == {"a": [*conc, "LONE-WORK"], "b": [], "c": conc, "d": []}


def test_what_stands_directly_before_is_not_said_twice() -> None:
    assert pours(STOCK, "ab")["b"] == []


def test_a_caution_of_passing_harm_stands_once() -> None:
    assert pours(WEAK, "acd", a=1.0, c=100.0) == {"a": ["CHEM-PEROXIDE-DILUTE"], "b": [], "c": [], "d": []}


def test_a_grave_caution_stands_again_before_the_larger_pour_alone() -> None:
    """100 mL, 50 mL, 3,420 mL, 3,420 mL."""
    shown = pours(STOCK, a=100.0, b=50.0, c=3420.0, d=3420.0)
    assert [step for step, ids in shown.items() if "CHEM-PEROXIDE-CONC" in ids] == ["a", "c"]


@pytest.mark.parametrize("house", ["second", "fourth", "fifth"])
def test_each_phase_in_which_a_stock_is_poured_warns_of_it(house: str) -> None:
    seen = 0
    for view in manual_of(house).views:
        warned: list[PlacedCaution] = []
        for step in view.steps:
            if step.phase:
                warned = []
            warned += step.cautions
            if view.document in ("SOP-03", "SOP-06") and step.stocks:
                assert any(one.entry.label and one.word in ("WARNING", "DANGER") for one in warned), (
                    f"{view.key} step {step.number}"
                )
                seen += 1
    assert seen
