"""The four signal words of cautions, and the rule that gives the word from severity and likelihood."""

from __future__ import annotations

from functools import cache

from macros.published import load

SIGNAL_WORDS = ("DANGER", "WARNING", "CAUTION", "NOTICE")
"""Worst first."""


def signal_word(severity: str, likelihood: str) -> str:
    """The word that follows from the worst credible outcome and its likelihood when the avoidance is ignored.

    Parameters
    ----------
    severity : death_or_serious, minor_or_moderate or no_injury
    likelihood : will or could for death_or_serious; any for the others

    Raises
    ------
    KeyError
        no rule covers the two.

    Source: ANSI Z535.4 definitions, as quoted by secondary pages.
    """
    return _rules()[severity, likelihood]


def is_injury(word: str) -> bool:
    """Whether the word speaks of injury; only then does it carry the alert triangle."""
    return bool(load("signal_words")["words"][word]["injury"] == "yes")


def worst_first(word: str) -> int:
    """Sort key: 0 for DANGER up to 3 for NOTICE."""
    return SIGNAL_WORDS.index(word)


@cache
def _rules() -> dict[tuple[str, str], str]:
    return {
        (row["severity"], row["likelihood"]): row["word"] for row in load("signal_words")["decision_rule"]
    }
