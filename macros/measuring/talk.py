"""Putting one question and reading what is typed: the words of the dialogue."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from macros.ground.problems import Problem
from macros.house.files.write_fact import Value
from macros.house.records.room import PLACEHOLDER
from macros.measuring.answers import allowed_words, explanation, read_answer, shown_unit
from macros.measuring.facts import Fact

HELP = (
    "Type the value. Enter: later. ok: it is right as it stands. none: there is no such thing here. "
    'u: undo the last answer. q: stop. A word that is also one of these goes in quotes: "u".'
)

_NUMBER, _UNIT = r"\d+(?:\.\d+)?", r"[A-Za-z][A-Za-z/^0-9]*"


class Word(StrEnum):
    """An answer that is no value: the fact is right as it stands; the house has no such thing."""

    OK = "ok"
    NONE = "none"


class Stop(Exception):  # noqa: N818 - somebody has had enough
    """The questions end here; every answer is saved."""


class Undo(Exception):  # noqa: N818 - not a fault
    """The last answer is taken back."""


@dataclass(frozen=True)
class Talk:
    """How a question is put and something told; `us` for a house in US units."""

    ask: Callable[[str], str]
    say: Callable[[str], None]
    us: bool = False

    def command(self, question: str) -> str:
        """What is typed, blanks around it left out.

        Raises
        ------
        Undo, Stop
            that was asked for.
        """
        typed = self.ask(question).strip()
        if typed.lower() in ("u", "undo"):
            raise Undo
        if typed.lower() in ("q", "quit", "stop"):
            raise Stop
        return typed

    def yes(self, question: str) -> bool:
        """Whether a question is answered by yes. Raises as `command`."""
        return self.command(question).lower() in ("y", "yes")

    def tell_fact(self, fact: Fact, why: str, where: str = "", pages: int = 0) -> None:
        """What is asked, what it is, how it stands, what may be typed.

        Parameters
        ----------
        why : why it is asked although it stands there, as `assumed`; empty for no reason
        where : the place of the question among all, as `3 of 40`
        pages : how many rest on it
        """
        self.say(f"\n{where}{' · ' if where else ''}{fact.of}: {fact.words}")
        rest = f" {pages} {'page rests' if pages == 1 else 'pages rest'} on it." if pages else ""
        said = f"{explanation(fact, self.us)}{rest}".strip()
        if said:
            self.say(f"  {said}")
        if fact.value is not None and PLACEHOLDER not in str(fact.value):
            shown = fact.value if isinstance(fact.value, str) else ", ".join(fact.value)
            self.say(f"  Stands now: {shown}{f' ({why})' if why else ''}.")
        self.say(f"  {allowed_words(fact, self.us)}")

    def value(self, fact: Fact, words: Sequence[Word] = ()) -> Value | Word | None:
        """What is typed, once it reads as a value or is one of the words that serve here; None for later.

        Raises
        ------
        Undo, Stop
            that was asked for.
        """
        unit = shown_unit(fact, self.us)
        while True:
            typed = self.command(f"  {fact.words}{f' [{unit}]' if unit else ''}:")
            if typed == "":
                return None
            if typed == "?":
                self.say(f"  {HELP}")
            elif typed.lower() in list(words):
                return Word(typed.lower())
            else:
                answer = read_answer(fact, with_unit(_unquoted(typed), unit, fact.is_list), self.us)
                if not answer.wrong:
                    if answer.means:
                        self.say(f"  That is {answer.means}.")
                    return answer.value
                self.say(f"  {answer.wrong}")

    def value_or_none(self, fact: Fact, is_needed: bool = False) -> Value | None:
        """A value that goes with others; None where they are given up, by u or Enter; where it `is_needed`, a first Enter is asked back. Raises Stop."""
        words = [Word.OK] if is_needed else []
        try:
            typed = self.value(fact, words)
            if is_needed and (typed is None or isinstance(typed, Word)):
                self.say("  This goes with the answers before it: type what it is now. u gives them all up.")
                typed = self.value(fact, words)
        except Undo:
            return None
        return None if isinstance(typed, Word) else typed


def with_unit(typed: str, unit: str, is_list: bool = False) -> str:
    """A bare number with the unit the question names, of a list also with one behind the last of them; a strength and a price keep asking for theirs."""
    if not unit or unit.startswith("%") or re.match(r"[A-Z]{3}\b", unit):
        return typed
    numbers, named = _numbers_and_unit(typed) if is_list else (typed, "")
    parts = [part.strip() for part in numbers.split(",") if part.strip()]
    if not all(re.fullmatch(rf"{_NUMBER}|\d+[ -]\d+/\d+|\d+/\d+", part) for part in parts):
        return typed
    return ", ".join(f"{part} {named or unit}" for part in parts)


def _numbers_and_unit(typed: str) -> tuple[str, str]:
    """Numbers parted by blanks or commas, parted by commas alone, and the one unit behind the last."""
    found = re.fullmatch(rf"({_NUMBER}(?:[ ,]+{_NUMBER})+) *({_UNIT})?", typed)
    return (typed, "") if found is None else (re.sub(r"[ ,]+", ",", found.group(1)), found.group(2) or "")


def plain(problem: Problem) -> str:
    """A problem without its file: it is the answer that is at fault."""
    said = [one for one in (problem.what, problem.allowed, problem.remedy) if one]
    said = [one if "_" in one.split()[0] else one[:1].upper() + one[1:] for one in said]
    return " ".join(one if one[-1] in ".?!" else f"{one}." for one in said)


def _unquoted(typed: str) -> str:
    return typed[1:-1] if len(typed) > 1 and typed[0] == typed[-1] == '"' else typed
