"""Rules on sentences: one verb, condition first, length, plain words, one word for one thing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache

from macros.manual.procedures.page_texts import Written
from macros.manual.requirements.judge import Finding, Subject, finding_at, rule
from macros.manual.requirements.readability import reading_grade, sentences_of, words_of
from macros.published.names import verbs
from macros.published.pages.words import glossary, language

MOST_WORDS, AVERAGE_WORDS, MOST_GRADE = 20, 15, 8.0
"""Office of the Auditor-General NZ, 2011 (20 words); our own (15); US EPA, Readability (grade 7 to 8)."""

_WORD = re.compile(r"\w+")
_SENTENCES = ("do", "short", "reason", "say", "done_when", "clean_up", "act", "sign", "purpose", "not_for", "when",
              "first_lines", "take_apart", "protect_until_use", "inspect_before_use", "missed", "expect")  # fmt: skip


@rule("S-01")
def one_action(subject: Subject) -> Iterator[Finding]:
    """No second verb after and, then or a semicolon."""
    words = language()
    for one in subject.texts("do"):
        if re.search(r",? then\b|;", one.authored):
            yield finding_at(
                one, "the step does one thing, then another", "One action a step", "Make it two steps"
            )
            continue
        for match in re.finditer(r"\band (\w[\w-]*)(?: (\w+))?", one.authored):
            first, second = match.group(1).lower(), (match.group(2) or "").lower()
            if first in verbs() and (first not in words.verbs_that_are_things or second in words.articles):
                yield finding_at(
                    one,
                    f'"and {match.group(1)}" makes a second action',
                    "One action a step",
                    "Make it two steps, or say it as a state to be seen",
                )
                break


@rule("S-03")
def condition_first(subject: Subject) -> Iterator[Finding]:
    """if, when, unless stand at the front or nowhere."""
    conditions = _conditions()
    for one in subject.texts("do", "act", "first_lines"):
        for sentence in sentences_of(one.authored):
            match = conditions.search(sentence[1:])
            if match:
                yield finding_at(
                    one,
                    f'"{match.group(1)}" comes after the verb',
                    "The condition first, a comma, the order",
                    f'Begin the sentence with "{match.group(1).capitalize()} ..."',
                )


@cache
def _conditions() -> re.Pattern[str]:
    words = "|".join(language().condition_words)
    return re.compile(rf"(?<!^)\b({words})\b", re.IGNORECASE)


@rule("S-13")
def sentence_length(subject: Subject) -> Iterator[Finding]:
    """20 words at most, 15 on average; no should, no double negative."""
    lengths: list[int] = []
    for one in subject.texts(*_SENTENCES):
        for sentence in sentences_of(one.sentence):
            count = len(words_of(sentence))
            lengths.append(count)
            if count > MOST_WORDS:
                yield finding_at(
                    one,
                    f"a sentence of {count} words",
                    f"{MOST_WORDS} words at most",
                    "Make two sentences of it",
                )
    if lengths and sum(lengths) / len(lengths) > AVERAGE_WORDS:
        yield Finding(
            subject.data,
            "steps",
            f"the sentences have {sum(lengths) / len(lengths):.1f} words on average",
            f"{AVERAGE_WORDS} at most",
            "Shorten the longest",
        )


@rule("S-13")
def plain_mood(subject: Subject) -> Iterator[Finding]:
    """An order is an order, and one negative is enough."""
    modal, twice = _moods()
    for one in subject.texts(*_SENTENCES):
        for word in dict.fromkeys(match.group(0).lower() for match in modal.finditer(one.authored)):
            yield finding_at(one, f'"{word}" leaves it open', "An order or a fact", "Say what is done")
        for pair in dict.fromkeys(match.group(0).lower() for match in twice.finditer(one.authored)):
            yield finding_at(one, f'"{pair}" negates twice', "One negative at most", "Say it in the positive")


@cache
def _moods() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """Words that leave an order open, and pairs of words that negate twice."""
    return (
        re.compile(rf"\b(?:{'|'.join(language().modal)})\b", re.IGNORECASE),
        re.compile(rf"\b(?:{'|'.join(language().double_negatives)})", re.IGNORECASE),
    )


@rule("S-15")
def no_vague_word(subject: Subject) -> Iterator[Finding]:
    """A vague word passes only where a limit follows in the same sentence."""
    vague, limit = _vague_and_limits()
    for one in subject.texts(*_SENTENCES):
        for sentence in sentences_of(one.sentence) if vague.may_stand_in(one.sentence) else ():
            match = vague.pattern.search(sentence)
            if match is not None and not limit.search(sentence, match.end()):
                yield finding_at(
                    one,
                    f'"{match.group(1)}" is vague',
                    "A figure, a limit or what is seen",
                    "Say how much or until when",
                )


@cache
def _vague_and_limits() -> tuple[_Phrases, re.Pattern[str]]:
    limits = "|".join(re.escape(word) for word in language().limits)
    return _Phrases(language().vague), re.compile(rf"\d|\b({limits})\b", re.IGNORECASE)


@rule("S-14")
def reading_level(subject: Subject) -> Iterator[Finding]:
    """Flesch-Kincaid grade over all sentences of the page but its references; numbers count as one syllable."""
    texts = [one.sentence.rstrip(".") + "." for one in subject.texts(*_SENTENCES) if one.field != "short"]
    grade = reading_grade(" ".join([*texts, subject.body]))
    if grade > MOST_GRADE:
        yield Finding(
            subject.data,
            "title",
            f"the reading grade of the page is {grade:.1f}",
            f"{MOST_GRADE:.0f} at most (Flesch-Kincaid)",
            "Shorten sentences, choose shorter words",
        )


@rule("P-15")
def one_word_for_one_thing(subject: Subject) -> Iterator[Finding]:
    """Words the glossary gives up for another."""
    given_up, term_of = _given_up()
    for one in [*subject.texts(), *_body(subject)]:
        for other in dict.fromkeys(given_up.all_in(one.own_words)):
            term = term_of[other.lower()]
            means = glossary()[term].means
            yield finding_at(one, f'"{other}" is called {term} here', f"{term}: {means}", f"Write {term}")


@cache
def _given_up() -> tuple[_Phrases, dict[str, str]]:
    """Every word the glossary gives up, and the term each stands for."""
    term_of = {other.lower(): term for term, entry in glossary().items() for other in entry.not_}
    return _Phrases(list(term_of)), term_of


class _Phrases:
    """Words and phrases as they stand whole in a text; the longest first, so that a phrase wins over its first word.

    A text without the longest word of any is passed over with one look at its words: nearly all are.
    """

    def __init__(self, phrases: Sequence[str]) -> None:
        inner = "|".join(re.escape(phrase) for phrase in sorted(phrases, key=len, reverse=True))
        self.pattern = re.compile(rf"(?<![-\w])({inner})(?![-\w])", re.IGNORECASE)
        self._longest_words = frozenset(max(_WORD.findall(phrase.lower()), key=len) for phrase in phrases)

    def may_stand_in(self, text: str) -> bool:
        """Whether the text holds the longest word of any."""
        return not self._longest_words.isdisjoint(_words_in(text))

    def all_in(self, text: str) -> list[str]:
        """All of them in the text, as written there."""
        return self.pattern.findall(text) if self.may_stand_in(text) else []


@lru_cache(maxsize=4096)
def _words_in(text: str) -> frozenset[str]:
    return frozenset(_WORD.findall(text.lower()))


def _body(subject: Subject) -> list[Written]:
    return [Written(subject.data, "id", None, subject.raw_body, subject.body)]
