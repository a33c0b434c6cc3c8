"""Every published file and the type of its record; who adds a file enters it here."""

from __future__ import annotations

from macros.ground.problems import DataProblems, Problem
from macros.ground.records import Record
from macros.published import published, published_rows
from macros.published.actions import Actions
from macros.published.bands import Bands
from macros.published.calendar import Calendar
from macros.published.cards import Cards
from macros.published.cautions import Cautions
from macros.published.checks import Check, CheckedBy
from macros.published.chemistry import Chemistry
from macros.published.control import ControlWords
from macros.published.edible import Edible
from macros.published.frequencies import Frequencies
from macros.published.jobs import Jobs
from macros.published.judgement import JudgementWords
from macros.published.label_stocks import Labels
from macros.published.packs import Packs
from macros.published.page_words import PageWords
from macros.published.pairs import Pairs
from macros.published.plausible import Plausible
from macros.published.protection import FirstAid, ProtectiveEquipment
from macros.published.questions import Questions
from macros.published.reckoners import ReckonerWords
from macros.published.requirements import Requirements
from macros.published.signal_words import SignalWords
from macros.published.sources import CitedSource
from macros.published.substances import Substances
from macros.published.training import SignOffRules, Training, TrainingUnits
from macros.published.type_widths import TypeWidths
from macros.published.week import WeekFacts
from macros.published.words import Glossary, Language, Things

TOPICS: dict[str, type[Record]] = {
    "actions": Actions,
    "bands": Bands,
    "calendar": Calendar,
    "cards": Cards,
    "cautions": Cautions,
    "checked_by": CheckedBy,
    "checks": Check,
    "chemistry": Chemistry,
    "control": ControlWords,
    "edible": Edible,
    "first_aid": FirstAid,
    "frequencies": Frequencies,
    "glossary": Glossary,
    "jobs": Jobs,
    "judgement": JudgementWords,
    "label_stocks": Labels,
    "language": Language,
    "packs": Packs,
    "page_words": PageWords,
    "pairs": Pairs,
    "plausible": Plausible,
    "ppe": ProtectiveEquipment,
    "questions": Questions,
    "reckoners": ReckonerWords,
    "requirements": Requirements,
    "sign_off": SignOffRules,
    "signal_words": SignalWords,
    "sources": CitedSource,
    "substances": Substances,
    "things": Things,
    "training": Training,
    "training_units": TrainingUnits,
    "type_widths": TypeWidths,
    "week": WeekFacts,
}
"""The record of each file."""

OF_ROWS = frozenset({"checked_by", "checks", "plausible", "sources"})
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
