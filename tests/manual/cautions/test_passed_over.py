"""What is passed over for speed is nothing: short ways give what the long way gives."""

from __future__ import annotations

import re
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from macros.manual.cautions.cautions_of_step import cautions_of_step
from macros.manual.cautions.step_facts import Lift, StepFacts
from macros.manual.requirements.rules.language import _given_up, _vague_and_limits
from macros.published.pages.words import glossary, language
from macros.published.safety.substances import Handling

GIVEN_UP = [word for entry in glossary().values() for word in entry.not_]
VAGUE = [*language().vague]


def plainly(phrases: list[str], text: str) -> list[str]:
    """Every phrase that stands whole in the text, found by looking for each at each place."""
    found, start = [], 0
    longest_first = sorted(phrases, key=len, reverse=True)
    while start < len(text):
        here = (p for p in longest_first if text[start : start + len(p)].lower() == p.lower())
        whole = (p for p in here if not re.match(r"[-\w]", text[start + len(p) :]))
        phrase = next(whole, "") if not re.search(r"[-\w]$", text[:start]) else ""
        found += [text[start : start + len(phrase)]] if phrase else []
        start += len(phrase) or 1
    return found


@given(st.lists(st.sampled_from([*GIVEN_UP, *VAGUE, "the tank", "POT", "s", "-", ".", "7 mL"]), max_size=8))
def test_phrases_are_found_as_by_looking_for_each(pieces: list[str]) -> None:
    for text in (" ".join(pieces), "".join(pieces), "-".join(pieces).upper()):
        assert _given_up()[0].all_in(text) == plainly(GIVEN_UP, text)
        assert _vague_and_limits()[0].all_in(text) == plainly(VAGUE, text)


def test_steps_alike_meet_the_same_and_steps_that_differ_do_not() -> None:
    acid = Handling("phosphoric_acid", 80.0, "pH-down")
    step = StepFacts("one", "open", (acid,), (Lift.of_water("bucket", 18.0, 1.0),), slots={"volume": "136 L"})
    alike = replace(step, step_id="another")
    assert alike == step
    assert cautions_of_step(step, (), "metric") == cautions_of_step(alike, (), "metric") != ()
    weaker = StepFacts("two", "open", (Handling("phosphoric_acid", 0.1, "pH-down"),))
    assert cautions_of_step(weaker, (), "metric") != cautions_of_step(step, (), "metric")
