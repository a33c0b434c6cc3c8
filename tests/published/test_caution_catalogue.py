"""The catalogue is whole: every reference inside it leads somewhere."""

from __future__ import annotations

import pytest

from macros.published.safety.actions import action_counts_as, actions
from macros.published.safety.cautions import catalogue
from macros.published.safety.protection import (
    equipment,
    fill,
    first_aid,
    first_aid_text,
    in_ppe_order,
    ppe_id,
)

PLACES = {"poison_centre": "555 0100", "emergency_number": "112", "breaker_place": "stair cupboard"}
CAUTIONS = list(catalogue().values())


def test_the_published_cautions_the_three_of_our_own_among_them() -> None:
    assert len(CAUTIONS) == 44
    assert "ELEC-FLOODED-FLOOR" in catalogue()
    assert "CHEM-HOUSE-PAIR" in catalogue()
    assert "FOOD-PEST-PRODUCT" in catalogue()


@pytest.mark.quick
def test_actions_have_a_meaning_verbs_and_known_wider_actions() -> None:
    for action in actions().values():
        assert action.meaning
        assert action.verbs
        assert all(verb[0].isupper() for verb in action.verbs)
    assert action_counts_as("circulate_sanitizer") == {
        "circulate_sanitizer",
        "flood",
        "sanitize",
        "start_pump",
    }
    assert action_counts_as("dance") == {"dance"}


def test_equipment() -> None:
    assert equipment().items["goggles"] == "chemical splash goggles (not spectacles)"
    assert ppe_id("nitrile_gloves") == "gloves_chem"
    assert ppe_id("apron") == "apron"
    assert ppe_id("cape") is None
    assert in_ppe_order(["apron", "goggles", "apron"]) == ("goggles", "apron")


def test_first_aid_is_filled_or_refused() -> None:
    for one in first_aid().items:
        title, text = first_aid_text(one, PLACES)
        assert title
        assert "{" not in text
    # 15 min of flushing: ANSI Z358.1; 30 min for H314 and H318: New Jersey fact sheet and secondary pages
    assert "at least 15 min" in first_aid_text("eye", {})[1]
    assert "at least 30 min" in first_aid_text("eye", {})[1]
    assert first_aid_text("shock", PLACES)[1].startswith(
        "Do not touch the person. Switch off at the stair cupboard."
    )
    with pytest.raises(KeyError, match="poison_centre"):
        first_aid_text("swallowed", {"emergency_number": "112"})
    with pytest.raises(KeyError, match="emergency_number"):
        fill("Call {emergency_number}.", {"emergency_number": ""})
    assert (
        fill(first_aid().follow, PLACES)
        == "Follow the label and the safety data sheet. Call 555 0100 or 112."
    )


def test_flushing_water() -> None:
    # ANSI Z358.1 with 29 CFR 1910.151(c): 10 s, 15 min
    assert "within 10 s" in first_aid().flush_point.text
    assert "15 min" in first_aid().flush_point.text
