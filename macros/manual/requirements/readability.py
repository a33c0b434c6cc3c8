"""Counts words, sentences and syllables, and the reading grade of a text.

Grade: Flesch-Kincaid, 0.39 x words per sentence + 11.8 x syllables per word - 15.59.
Source: Kincaid, Fishburne, Rogers and Chissom, 1975 (formula from memory). Syllables are counted by rule,
with a short list of words that break the rule.
"""

from __future__ import annotations

import re
from functools import lru_cache

_BREAKS = {
    "area": 3, "being": 2, "business": 2, "calcium": 3, "create": 2, "every": 2, "fibre": 2, "fibres": 2,
    "fluid": 2, "fuel": 2, "idea": 3, "labelled": 2, "litre": 2, "litres": 2, "nutrient": 3,
    "potassium": 4, "quiet": 2, "react": 2, "reaction": 3, "reservoir": 3, "ruin": 2, "safety": 2,
    "science": 2, "someone": 2, "something": 2, "sometimes": 2, "spilled": 1, "sprayers": 2,
    "stirred": 1, "unlabelled": 3,
}  # fmt: skip
"""Words of a grow room that the rule miscounts."""

_WORD = re.compile(r"[A-Za-z0-9]+(?:['.,-][A-Za-z0-9]+)*")
_SENTENCE_END = re.compile(r"(?<=[.?!])\s+")


def words_of(text: str) -> list[str]:
    """The words: letters and digits, with apostrophes, dots and hyphens inside. `1.7` is one, `-` is none."""
    return _WORD.findall(text)


def sentences_of(text: str) -> list[str]:
    """The sentences: ended by a full stop, question or exclamation mark followed by space or the end."""
    return [one for one in _SENTENCE_END.split(text.strip()) if _WORD.search(one)]


@lru_cache(maxsize=8192)
def syllables_in(word: str) -> int:
    """Syllables of one word, at least 1: groups of vowels, without a silent e. A number counts as 1."""
    plain = word.lower()
    if plain in _BREAKS:
        return _BREAKS[plain]
    if "-" in plain:
        return sum(syllables_in(part) for part in plain.split("-") if part)
    plain = re.sub(r"[^a-z]", "", plain)
    groups = len(re.findall(r"[aeiouy]+", plain))
    if re.search(r"[^aeiouy]e$", plain) and not re.search(r"[^aeiouyr]le$", plain):
        groups -= 1
    if re.search(r"[^aeiouytd]ed$", plain) and not re.search(r"[^aeiouy]led$|[^aeiou]red$", plain):
        groups -= 1
    if re.search(r"[^aeiouysxzcg]es$", plain) and not re.search(r"(ch|sh|[^aeiouyr]l)es$", plain):
        groups -= 1
    groups += len(re.findall(r"(?<![tscg])i[ao](?!u)|[^q]uous|eo(?=n)", plain))
    return max(1, groups)


def reading_grade(text: str) -> float:
    """Flesch-Kincaid grade of a text; ValueError for a text without words."""
    words = words_of(text)
    sentences = sentences_of(text)
    if not words or not sentences:
        raise ValueError("A text without words has no reading grade.")
    syllables = sum(map(syllables_in, words))
    return 0.39 * len(words) / len(sentences) + 11.8 * syllables / len(words) - 15.59
