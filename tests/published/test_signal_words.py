"""The word follows from severity and likelihood."""

from __future__ import annotations

import pytest

from macros.published.safety.cautions import catalogue
from macros.published.safety.signal_words import SIGNAL_WORDS, is_injury, signal_word, worst_first

# ANSI Z535.4 definitions as quoted by secondary pages
RULE = [
    ("death_or_serious", "will", "DANGER"),
    ("death_or_serious", "could", "WARNING"),
    ("minor_or_moderate", "any", "CAUTION"),
    ("no_injury", "any", "NOTICE"),
]

# the words of the published catalogue, written out apart from severity and likelihood
WORDS = {
    "DANGER": "CHEM-CHLORINE-ACID ELEC-WATER ELEC-FLOODED-FLOOR",
    "WARNING": "CHEM-PEROXIDE-CONC CHEM-PEROXIDE-PRESSURE CHEM-PEROXIDE-ACID CHEM-PEROXIDE-BLEACH "
    "CHEM-CHLORINE-SOLUTION CHEM-ACID-CONC CHEM-BASE-CONC CHEM-UNLABELLED CHEM-HOUSE-PAIR CHEM-PERACETIC-CONC CHEM-QUAT-CONC CHEM-UNKNOWN FOOD-PEST-PRODUCT CHEM-PEROXIDE-STRONG WATER-CHILD "
    "RACK-TIP HEIGHT-LADDER FOOD-MISID FOOD-ALLERGY FOOD-SPECIES-LIMIT FOOD-TREATED-SEED LONE-WORK",
    "CAUTION": "CHEM-PERACETIC-DILUTE CHEM-QUAT-DILUTE CHEM-PEROXIDE-DILUTE CHEM-CHLORINE-DILUTE CHEM-ACID-DILUTE CHEM-BASE-DILUTE "
    "FOOD-SANITIZER-RESIDUE ELEC-STARTUP LIFT-WATER FLOOR-WET WATER-HOT WATER-STANDING AIR-MOULD "
    "LIGHT-BRIGHT DUST-MINERAL-WOOL",
    "NOTICE": "PUMP-DRY CROP-CONCENTRATES ENV-SPENT-SOLUTION CROP-WRONG-WATER",
}


@pytest.mark.parametrize(("severity", "likelihood", "word"), RULE)
def test_rule(severity: str, likelihood: str, word: str) -> None:
    assert signal_word(severity, likelihood) == word


def test_a_pair_without_rule_is_refused() -> None:
    with pytest.raises(KeyError):
        signal_word("death_or_serious", "any")


def test_every_caution_has_the_word_of_the_catalogue() -> None:
    expected = {one: word for word, ids in WORDS.items() for one in ids.split()}
    assert {one.id: one.word for one in catalogue().values()} == expected


def test_escalations_only_raise() -> None:
    raised = [(one, escalation) for one in catalogue().values() for escalation in one.escalate]
    assert {one.id for one, _ in raised} == {
        "LIFT-WATER",
        "FLOOR-WET",
        "WATER-HOT",
        "AIR-MOULD",
        "LIGHT-BRIGHT",
    }
    for one, escalation in raised:
        assert worst_first(escalation.word) < worst_first(one.word)
        assert escalation.word == "WARNING"


def test_only_notice_is_no_injury() -> None:
    assert [word for word in SIGNAL_WORDS if not is_injury(word)] == ["NOTICE"]
    assert sorted(SIGNAL_WORDS, key=worst_first) == ["DANGER", "WARNING", "CAUTION", "NOTICE"]
