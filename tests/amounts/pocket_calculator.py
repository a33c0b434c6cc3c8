"""Works a line of a working out again from its text alone, as a person with a pocket calculator would.

Read are numbers, `x`, `/`, `+`, `-` with a space on both sides, `^`, brackets, `ln`, `exp` and `root`; units and words are
passed over. A piece that begins with an operator goes on from the result before it. Numbers are taken as good to five
significant digits, which is what a working prints.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

SIGNIFICANT = 5
_CLAUSE = re.compile(r"[;:,](?:\s|$)")
_TOKEN = re.compile(
    r"(?P<number>(?<![\w.])\d+(?:\.\d+)?)"
    r"|(?P<operator>(?<=\s)[x/+-](?=\s)|[()^])"
    r"|(?P<function>\b(?:ln|exp|root)(?=\())"
    r"|(?P<word>[^\W\d][^\s()^]*|[%°µ³²/·*][^\s()]*)"
)
_FUNCTIONS: dict[str, Callable[[float], float]] = {"ln": math.log, "exp": math.exp, "root": math.sqrt}


class NotCalculable(ValueError):  # noqa: N818 - named for what the text is
    """The text is no sum: two numbers stand side by side, a bracket is open, or nothing is worked out in it."""


@dataclass(frozen=True)
class Equation:
    """One sum of a working: its text, what it comes to and how far that may be off, and the result the text states."""

    text: str
    found: float
    slack: float
    stated: float

    @property
    def holds(self) -> bool:
        """Whether the stated result is the sum's, within the digits printed."""
        return abs(self.found - self.stated) <= self.slack


def equations(working: str) -> Iterator[Equation]:
    """Every sum of a working that can be calculated from its text."""
    last: float | None = None
    for clause in (piece.strip() for line in working.splitlines() for piece in _CLAUSE.split(line)):
        sides = clause.split(" = ")
        for left, right in pairwise(sides):
            stated = re.match(r"(\d+(?:\.\d+)?)", right)
            if stated is None:
                continue
            number = stated.group(1)
            try:
                found, slack = _evaluate(left, last)
            except NotCalculable:
                last = float(number)
                continue
            yield Equation(clause, found, (slack + _half_a_digit(number)) * (1 + 1e-6), float(number))
            last = float(number)


def _half_a_digit(number: str) -> float:
    value = float(number)
    return 0.0 if value == 0 else 0.5 * 10 ** (math.floor(math.log10(value)) - SIGNIFICANT + 1)


def _evaluate(text: str, last: float | None) -> tuple[float, float]:
    """What the text comes to, and how far the digits left off its numbers may move it."""
    tokens: list[str | float] = []
    at_start = True
    for match in _TOKEN.finditer(f" {text} "):
        kind = match.lastgroup
        if kind == "word":
            continue
        if kind == "operator" and at_start and match.group() in "x/+-":
            if last is None:
                raise NotCalculable(text)
            tokens.append(last)
        tokens.append(float(match.group()) if kind == "number" else match.group())
        at_start = False
    if not any(token in ("x", "/", "+", "-", "^") for token in tokens):
        raise NotCalculable(text)
    value = _Sum(tokens, text).whole()
    slack = 0.0
    for index, token in enumerate(tokens):
        if isinstance(token, float):
            moved = [*tokens[:index], token + _half_a_digit(f"{token}"), *tokens[index + 1 :]]
            slack += abs(_Sum(moved, text).whole() - value)
    return value, slack


class _Sum:
    """Brackets before powers, powers before `x` and `/`, those before `+` and `-`."""

    def __init__(self, tokens: list[str | float], text: str) -> None:
        self.tokens, self.text, self.at = tokens, text, 0

    def whole(self) -> float:
        value = self._terms()
        if self.at != len(self.tokens):
            raise NotCalculable(self.text)
        return value

    def _peek(self) -> str | float | None:
        return self.tokens[self.at] if self.at < len(self.tokens) else None

    def _take(self) -> str | float:
        if self.at >= len(self.tokens):
            raise NotCalculable(self.text)
        self.at += 1
        return self.tokens[self.at - 1]

    def _terms(self) -> float:
        value = self._factors()
        while self._peek() in ("+", "-"):
            value = value + self._factors() if self._take() == "+" else value - self._factors()
        return value

    def _factors(self) -> float:
        value = self._power()
        while self._peek() in ("x", "/"):
            if self._take() == "x":
                value *= self._power()
                continue
            divisor = self._power()
            if divisor == 0:
                raise NotCalculable(self.text)
            value /= divisor
        return value

    def _power(self) -> float:
        base = self._atom()
        if self._peek() == "^":
            self._take()
            base **= self._atom()
        return base

    def _atom(self) -> float:
        token = self._take()
        if isinstance(token, float):
            return token
        function = _FUNCTIONS.get(token)
        if function is not None and self._peek() == "(":
            self._take()
        elif token != "(":
            raise NotCalculable(self.text)
        value = self._terms()
        if self._take() != ")":
            raise NotCalculable(self.text)
        return function(value) if function is not None else value
