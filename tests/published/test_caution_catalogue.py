"""The catalogue is whole: every reference inside it leads somewhere."""

from __future__ import annotations

import pytest

from macros.published import load
from macros.published.actions import action_counts_as, actions
from macros.published.cautions import catalogue
from macros.published.conditions import (
    ActionIs,
    All,
    AlsoMet,
    Handled,
    PairMet,
    parts_of,
    read_condition,
)
from macros.published.pairs import HOUSE, pair_rules
from macros.published.protection import (
    fill,
    first_aid_ids,
    first_aid_text,
    flush_point_text,
    follow_line,
    in_ppe_order,
    ppe_id,
    ppe_ids,
    ppe_text,
)
from macros.published.substances import is_substance

PLACES = {"poison_centre": "555 0100", "emergency_number": "112", "breaker_place": "stair cupboard"}
CAUTIONS = list(catalogue().values())


def _conditions(caution):  # type: ignore[no-untyped-def]
    for root in (caution.trigger, *(one.when for one in (*caution.escalate, *caution.ppe_extra))):
        yield from parts_of(root)


def test_the_published_cautions_the_two_of_our_own_among_them() -> None:
    assert len(CAUTIONS) == 37
    assert "ELEC-FLOODED-FLOOR" in catalogue()
    assert "CHEM-HOUSE-PAIR" in catalogue()


@pytest.mark.parametrize("caution", CAUTIONS, ids=lambda one: one.id)
def test_references(caution) -> None:  # type: ignore[no-untyped-def]
    rules = {one.id for one in pair_rules()} | {HOUSE}
    assert set(caution.ppe) <= set(ppe_ids())
    assert all(set(one.add) <= set(ppe_ids()) for one in caution.ppe_extra)
    assert set(caution.first_aid) <= set(first_aid_ids())
    assert all(is_substance(one) for one in caution.label)
    for part in _conditions(caution):
        if isinstance(part, ActionIs):
            assert set(part.actions) <= set(actions())
        elif isinstance(part, Handled):
            assert all(is_substance(one) for one in part.substances)
        elif isinstance(part, PairMet):
            assert part.rule in rules
        elif isinstance(part, AlsoMet):
            assert set(part.cautions) <= set(catalogue())


def test_actions_have_a_meaning_verbs_and_known_wider_actions() -> None:
    for action in actions().values():
        assert action.meaning
        assert action.verbs
        assert all(verb[0].isupper() for verb in action.verbs)
        assert action.counts_as <= set(actions())
    assert action_counts_as("circulate_sanitizer") == {
        "circulate_sanitizer",
        "flood",
        "sanitize",
        "start_pump",
    }
    assert action_counts_as("dance") == {"dance"}


def test_no_condition_is_code() -> None:
    with pytest.raises(KeyError):
        read_condition({"if": "strength_pct >= 35"})
    with pytest.raises(KeyError):
        read_condition({"handled": {"percent_over": "3"}})
    with pytest.raises(KeyError, match="one kind of"):
        read_condition({"action": ["pour"], "pair": "PAIR-CL-ACID"})
    assert isinstance(read_condition({"all": []}), All)


def test_equipment() -> None:
    assert ppe_text("goggles") == "chemical splash goggles (not spectacles)"
    assert ppe_id("nitrile_gloves") == "gloves_chem"
    assert ppe_id("apron") == "apron"
    assert ppe_id("cape") is None
    assert in_ppe_order(["apron", "goggles", "apron"]) == ("goggles", "apron")


def test_first_aid_is_filled_or_refused() -> None:
    for one in first_aid_ids():
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
    assert follow_line(PLACES) == "Follow the label and the safety data sheet. Call 555 0100 or 112."


def test_flushing_water() -> None:
    # ANSI Z358.1 with 29 CFR 1910.151(c): 10 s, 15 min
    assert "within 10 s" in flush_point_text()
    assert "15 min" in flush_point_text()


@pytest.mark.parametrize(
    "topic", ["bands", "pairs", "cautions", "first_aid", "ppe", "actions", "signal_words"]
)
def test_sources_say_how_they_were_obtained(topic: str) -> None:
    data = load(topic)
    entries = {
        "bands": lambda: list(data["substances"].values()),
        "pairs": lambda: data["pairs"],
        "cautions": lambda: data["cautions"],
        "first_aid": lambda: list(data["items"].values()),
    }.get(topic, lambda: [data])()
    for entry in entries:
        assert entry["obtained"]
        if topic != "pairs":
            assert entry["source"]
