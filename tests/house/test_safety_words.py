"""A sample of the matrix of safety words (`tests.benchmarks.safety_words` runs it whole): nothing is lost in silence."""

from __future__ import annotations

from tests.house.safety_words import Case, cases, lost_in_silence

EVERY = 10
"""Of the words of bottles, strips, feeds and cleaning, each tenth case."""
DECIDES = ("chemicals", "test_strips", "sanitizing", "nutrients", "house.children")


def sample() -> list[Case]:
    every = [
        case for case in cases("fourth") if case.change != "exchanged" and case.field.startswith(DECIDES)
    ]
    return every[::EVERY]


def test_a_misspelt_or_missing_word_takes_nothing_away_in_silence() -> None:
    tried = sample()
    assert len({case.field for case in tried}) > 8
    assert {case.change for case in tried} == {"misspelt", "removed"}
    assert [(case, lost) for case in tried if (lost := lost_in_silence(case))] == []
