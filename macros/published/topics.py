"""Every published file and the type of its record; who adds a file enters it here."""

from __future__ import annotations

from macros.problems import DataProblems, Problem
from macros.published import published, published_rows
from macros.published.calendar import Calendar
from macros.published.cards import Cards
from macros.published.checks import Check, CheckedBy
from macros.published.control import ControlWords
from macros.published.jobs import Jobs
from macros.published.judgement import JudgementWords
from macros.published.label_stocks import Labels
from macros.published.packs import Packs
from macros.published.reckoners import ReckonerWords
from macros.published.type_widths import TypeWidths
from macros.published.week import WeekFacts
from macros.records import Record

TOPICS: dict[str, type[Record]] = {
    "calendar": Calendar,
    "cards": Cards,
    "checked_by": CheckedBy,
    "checks": Check,
    "control": ControlWords,
    "jobs": Jobs,
    "judgement": JudgementWords,
    "label_stocks": Labels,
    "packs": Packs,
    "reckoners": ReckonerWords,
    "type_widths": TypeWidths,
    "week": WeekFacts,
}
"""The record of each file."""

OF_ROWS = frozenset({"checked_by", "checks"})
"""Files that are rows alone, each of that type."""


def all_published_problems() -> list[Problem]:
    """Every mistake of every published file, in one run."""
    problems: list[Problem] = []
    for topic, model in TOPICS.items():
        try:
            published_rows(model, topic) if topic in OF_ROWS else published(model, topic)
        except DataProblems as found:
            problems += found.problems
    return problems
