"""The four signal words of cautions, and the rule that gives the word from severity and likelihood."""

from __future__ import annotations

from functools import cached_property
from typing import Literal, get_args

from pydantic import ValidationInfo, field_validator

from macros.ground.field_types import Flag, Mapped, Text
from macros.ground.records import Record, mistake
from macros.published import published

Word = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
SIGNAL_WORDS: tuple[str, ...] = get_args(Word)
"""Worst first."""
Severity = Literal["death_or_serious", "minor_or_moderate", "no_injury"]
Likelihood = Literal["will", "could", "any"]


class Meaning(Record):
    """What a word means; only one that speaks of injury carries the alert triangle."""

    meaning: Text
    injury: Flag
    level: Literal["high", "medium", "low", "none"]


class Decided(Record):
    """A row of the rule: `severity` is the worst credible outcome, `likelihood` that when the avoidance is ignored."""

    severity: Severity
    likelihood: Likelihood
    word: Word


class SignalWords(Record):
    """The file. Source: ANSI Z535.4 definitions, as quoted by secondary pages."""

    source: Text
    obtained: Text
    words: Mapped[Word, Meaning]
    decision_rule: tuple[Decided, ...]

    @cached_property
    def rule(self) -> dict[tuple[str, str], str]:
        """The word of a severity and a likelihood; a pair that is not there has none."""
        return {(row.severity, row.likelihood): row.word for row in self.decision_rule}


class Risk(Record):
    """A severity and a likelihood that the rule covers, why they are so, and the word that follows."""

    severity: Severity
    likelihood: Likelihood
    why: Text

    @cached_property
    def word(self) -> str:
        """The signal word."""
        return signal_word(self.severity, self.likelihood)

    @field_validator("likelihood")
    @classmethod
    def _covered(cls, likelihood: Likelihood, info: ValidationInfo) -> Likelihood:
        severity = info.data.get("severity", "")
        rule = published(SignalWords, "signal_words").rule
        if severity and (severity, likelihood) not in rule:
            allowed = " or ".join(one for of, one in rule if of == severity)
            raise mistake(
                f"{likelihood} gives no signal word with {severity}", f"Allowed: {allowed}", "Choose one"
            )
        return likelihood


def signal_word(severity: str, likelihood: str) -> str:
    """The word that follows from the two; KeyError where no rule covers them."""
    return published(SignalWords, "signal_words").rule[severity, likelihood]


def is_injury(word: str) -> bool:
    """Whether the word speaks of injury; only then does it carry the alert triangle."""
    return published(SignalWords, "signal_words").words[word].injury  # type: ignore[index]


def worst_first(word: str) -> int:
    """Sort key: 0 for DANGER up to 3 for NOTICE."""
    return SIGNAL_WORDS.index(word)
