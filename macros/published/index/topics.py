"""Every published file and the type of its record; who adds a file enters it here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from macros.ground.names import Names, unknown_names
from macros.ground.problems import DataProblems, Problem
from macros.ground.records import Record
from macros.published import published, published_rows, source_of
from macros.published.amounts.checks import Check, CheckedBy
from macros.published.amounts.chemistry import Chemistry
from macros.published.amounts.growing import Growing
from macros.published.amounts.plausible import Plausible
from macros.published.amounts.reckoners import ReckonerWords
from macros.published.amounts.trends import Trends
from macros.published.labour.calendar import Calendar
from macros.published.labour.effects import Effects
from macros.published.labour.jobs import Jobs
from macros.published.labour.week import WeekFacts
from macros.published.pages.documents import Documents
from macros.published.pages.findings import Findings
from macros.published.pages.frequencies import Frequencies
from macros.published.pages.page_words import PageWords
from macros.published.pages.requirements import Requirements
from macros.published.pages.sources import CitedSource
from macros.published.pages.words import Glossary, Language, Things
from macros.published.paper.cards import Cards
from macros.published.paper.control import ControlWords
from macros.published.paper.judgement import JudgementWords
from macros.published.paper.label_stocks import Labels
from macros.published.paper.measuring import MeasuringPlace
from macros.published.paper.packs import Packs
from macros.published.paper.type_widths import TypeWidths
from macros.published.safety.actions import Actions
from macros.published.safety.bands import Bands
from macros.published.safety.cautions import Cautions
from macros.published.safety.edible import Edible, PlantRules
from macros.published.safety.pairs import Pairs
from macros.published.safety.plant_names import PlantNames
from macros.published.safety.poisonous import PoisonousPlants
from macros.published.safety.protection import FirstAid, ProtectiveEquipment
from macros.published.safety.sanitizers import Sanitizers
from macros.published.safety.signal_words import SignalWords
from macros.published.safety.substances import Substances
from macros.published.training.questions import Questions
from macros.published.training.training import SignOffRules, Training, TrainingUnits

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
    "documents": Documents,
    "edible": Edible,
    "effects": Effects,
    "findings": Findings,
    "first_aid": FirstAid,
    "frequencies": Frequencies,
    "glossary": Glossary,
    "growing": Growing,
    "jobs": Jobs,
    "judgement": JudgementWords,
    "label_stocks": Labels,
    "language": Language,
    "measuring": MeasuringPlace,
    "packs": Packs,
    "page_words": PageWords,
    "pairs": Pairs,
    "plant_names": PlantNames,
    "plant_rules": PlantRules,
    "plausible": Plausible,
    "poisonous": PoisonousPlants,
    "ppe": ProtectiveEquipment,
    "questions": Questions,
    "reckoners": ReckonerWords,
    "requirements": Requirements,
    "sanitizers": Sanitizers,
    "sign_off": SignOffRules,
    "signal_words": SignalWords,
    "sources": CitedSource,
    "substances": Substances,
    "things": Things,
    "training": Training,
    "training_units": TrainingUnits,
    "trends": Trends,
    "type_widths": TypeWidths,
    "week": WeekFacts,
}
"""The record of each file."""

OF_ROWS = frozenset({"checked_by", "checks", "growing", "measuring", "plausible", "sources"})
"""Files that are rows alone, each of that type."""


def all_published_problems(handed: Mapping[str, Names] | None = None) -> list[Problem]:
    """Every mistake of every published file, and every word in them that names nothing, in one run.

    `handed` are the names of the kinds that other rooms declare; without them words of those kinds are passed over.
    """
    problems: list[Problem] = []
    for topic, model in TOPICS.items():
        try:
            published_rows(model, topic) if topic in OF_ROWS else published(model, topic)
        except DataProblems as found:
            problems += found.problems
    return problems + _unknown_names(handed)


def _unknown_names(handed: Mapping[str, Names] | None) -> list[Problem]:
    try:
        sources = {topic: source_of(topic) for topic in TOPICS}
    except DataProblems:  # told already; what that file declares cannot be looked up
        return []
    problems: list[Problem] = []
    for topic, source in sources.items():
        model = TOPICS[topic]
        rows: Any = Mapping[str, model] if isinstance(source.data, dict) else tuple[model, ...]  # type: ignore[valid-type]
        problems += unknown_names(rows if topic in OF_ROWS else model, source, (), handed)
    return problems
