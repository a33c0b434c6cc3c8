"""Which records a published file is read into: for a check of them all."""

from __future__ import annotations

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
"""Name of the file -> its record; of `ROWS` the record of each row."""

ROWS = frozenset({"checked_by", "checks"})
"""Files that name their rows themselves."""
