"""Syllables, grade, and the wording rules of the catalogue."""

from __future__ import annotations

import re

import pytest

from macros.manual.requirements.readability import reading_grade, sentences_of, syllables_in, words_of
from macros.published.safety.cautions import Caution, catalogue
from macros.published.safety.protection import first_aid

CAUTIONS = list(catalogue().values())

# syllables as English dictionaries divide these words (from memory)
DICTIONARY = {
    "a": 1, "the": 1, "eye": 1, "burns": 1, "through": 1, "make": 1, "clothes": 1, "loosened": 2,
    "drained": 1,
    "rinsed": 1, "wetted": 2, "splashes": 2, "surfaces": 3, "bottle": 2, "handled": 2, "water": 2,
    "goggles": 2,
    "solution": 3, "container": 3, "vinegar": 3, "chlorine": 2, "peroxide": 3, "hydroxide": 3, "potassium": 4,
    "calcium": 3, "nutrient": 3, "emergency": 4, "electricity": 5, "thermometer": 4, "authority": 4,
    "reservoir": 3, "dangerous": 3, "asthma": 2, "botanical": 4, "sanitizer": 4, "concentrated": 4, "area": 3,
    "labelled": 2, "carried": 2, "dried": 1, "stirred": 1, "mould": 1, "irritates": 3, "poisonous": 3,
}  # fmt: skip


@pytest.mark.parametrize(("word", "count"), DICTIONARY.items())
def test_syllables(word: str, count: int) -> None:
    assert syllables_in(word) == count


def test_words_and_sentences() -> None:
    assert words_of("Stay 1.7 m away - it's pH-up.") == ["Stay", "1.7", "m", "away", "it's", "pH-up"]
    assert sentences_of("Stop. Leave now! Why? It is 1.5 m.") == [
        "Stop.",
        "Leave now!",
        "Why?",
        "It is 1.5 m.",
    ]


def test_grade_by_hand() -> None:
    # "The cat sat on the mat." 6 words, 1 sentence, 6 syllables: 0.39*6 + 11.8*1 - 15.59 = -1.45
    assert reading_grade("The cat sat on the mat.") == pytest.approx(-1.45)
    # 2 sentences, 8 words, 12 syllables (con-tain-er, wa-ter, a-way): 0.39*4 + 11.8*1.5 - 15.59 = 3.67
    assert reading_grade("Shut the container. Pour the water down now.") == pytest.approx(
        0.39 * 4 + 11.8 * 11 / 8 - 15.59
    )
    with pytest.raises(ValueError, match="A text without words has no reading grade"):
        reading_grade(" - ")


def _text(caution: Caution) -> str:
    parts = (caution.hazard, caution.consequence, caution.avoidance)
    return re.sub(r"\{[a-z_]+\}", "12 kg", " ".join(parts))


@pytest.mark.parametrize("caution", CAUTIONS, ids=lambda one: one.id)
def test_wording_limits(caution: Caution) -> None:
    # house rules of the catalogue: 75 words, 20 words a sentence, grade 8
    text = _text(caution)
    assert len(words_of(text)) <= 75
    assert max(len(words_of(one)) for one in sentences_of(text)) <= 20
    assert reading_grade(text) <= 8.0


@pytest.mark.parametrize("caution", CAUTIONS, ids=lambda one: one.id)
def test_the_short_form_fits_its_line(caution: Caution) -> None:
    assert caution.short_hazard.endswith(".")
    assert caution.short_avoidance.endswith(".")
    assert len(words_of(caution.short_hazard)) <= 9
    assert len(words_of(caution.short_avoidance)) <= 11
    assert len(f"{caution.short_hazard} {caution.short_avoidance}") <= 95  # one line of 12 pt


@pytest.mark.parametrize("caution", CAUTIONS, ids=lambda one: one.id)
def test_hazard_consequence_avoidance_and_sources_are_there(caution: Caution) -> None:
    for text in (
        caution.title,
        caution.hazard,
        caution.consequence,
        caution.avoidance,
        caution.why,
        caution.source,
        caution.obtained,
    ):
        assert len(text) >= 4
    for text in (caution.hazard, caution.consequence, caution.avoidance):
        assert text.endswith(".")


SEQUENCE = r"\b(then|next|afterwards|after that|step \d+|finally|firstly|secondly|begin by)\b"
QUANTITY = r"\b\d+(\.\d+)? ?(mL|L|g|kg|tablets?|drops?|spoons?)\b"


@pytest.mark.parametrize("caution", CAUTIONS, ids=lambda one: one.id)
def test_no_work_steps_inside_a_caution(caution: Caution) -> None:
    # a rule, not a sequence or a quantity to measure out
    for text in (caution.avoidance, caution.short_avoidance):
        assert not re.search(SEQUENCE, text, re.IGNORECASE), text
        assert not re.search(QUANTITY, text), text


def test_the_lint_would_catch_a_work_step() -> None:
    assert re.search(SEQUENCE, "Add water, then pour.", re.IGNORECASE)
    assert re.search(QUANTITY, "Add 20 mL of acid.")


def test_deference_to_electrician_authority_and_label() -> None:
    known = catalogue()
    assert "licensed electrician" in known["ELEC-WATER"].avoidance
    assert "local water authority" in known["ENV-SPENT-SOLUTION"].avoidance
    for one in ("CHEM-CHLORINE-SOLUTION", "FOOD-SANITIZER-RESIDUE", "CHEM-HOUSE-PAIR"):
        assert "label" in known[one].avoidance
    assert "label and the safety data sheet" in first_aid().follow


def test_every_acid_and_base_box_says_what_it_must_not_meet() -> None:
    known = catalogue()
    for one in ("CHEM-ACID-CONC", "CHEM-ACID-DILUTE"):
        assert "pH-up" in known[one].avoidance
    for one in ("CHEM-BASE-CONC", "CHEM-BASE-DILUTE"):
        assert "pH-down" in known[one].avoidance
