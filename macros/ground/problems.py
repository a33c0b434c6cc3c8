"""Mistakes people make in data and pages, and how they are told.

Three kinds of trouble exist. A mistake in data or a page becomes a `Problem` and all of them travel together
in `DataProblems`. A calculation asked outside its valid range raises `RangeProblem`; whoever asked knows the
place and makes a `Problem` of it. Anything else is our own fault and keeps its traceback.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from macros.ground.seen import visible_line

Severity = Literal["error", "warning", "measure this", "fill this in"]
"""An error stops the build. The last two are no mistakes: a fact is assumed, or its place is still open."""

_SEVERITIES = ("error", "warning", "measure this", "fill this in")


@dataclass(frozen=True, order=True)
class Place:
    """Where something was written: the file as the reader knows it, and the line, counted from 1."""

    file: str
    line: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}"


@dataclass(frozen=True)
class Problem:
    """One mistake: where, what was read, what is allowed and whose rule that is, and what to do.

    `code` is the short id a person can search for (E01, W03); `severity` decides whether the build stops.
    """

    place: Place
    key: str
    what: str
    allowed: str = ""
    remedy: str = ""
    code: str = ""
    severity: Severity = "error"

    def __str__(self) -> str:
        pieces = (visible_line(piece, 600) for piece in (self.what, self.allowed, self.remedy) if piece)
        sentences = " ".join(_sentence(piece) for piece in pieces)
        mark = "" if self.severity == "error" else f"{self.severity}: "
        code = f" [{self.code}]" if self.code else ""
        return f"{visible_line(str(self.place), 300)}: {mark}{visible_line(self.key, 300)}: {sentences}{code}"


MOST_TOLD = 50
"""Problems told in one run: one slip can make thousands."""


class DataProblems(Exception):  # noqa: N818 - named for what it carries
    """Mistakes in data or pages, gathered over the whole run. Raised by loading, amounts and the manual."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = in_order(problems)
        super().__init__("\n".join(first_lines(self.problems)))


def first_lines(problems: Sequence[Problem], most: int = MOST_TOLD) -> list[str]:
    """The problems as they are told, each a line: the first of them, and how many more there are."""
    lines = [str(problem) for problem in problems[:most]]
    more = len(problems) - most
    return [*lines, f"... and {more} more. Mend these first."] if more > 0 else lines


class RangeProblem(ValueError):  # noqa: N818 - named for what it tells
    """A calculation was asked outside its valid range; the message is a whole sentence naming the bound."""


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """Errors, warnings, what to measure, what to fill in; each once, by file, line and key: the same on every run."""
    unique = dict.fromkeys(problems)
    return sorted(unique, key=lambda p: (_SEVERITIES.index(p.severity), p.place, p.key, p.what))


def errors_in(problems: Iterable[Problem]) -> list[Problem]:
    """The problems that stop a build."""
    return [problem for problem in problems if problem.severity == "error"]


def _sentence(piece: str) -> str:
    return piece if piece.endswith((".", "?", "!", '."', '?"', ":")) else piece + "."
