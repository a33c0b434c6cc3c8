"""The caution catalogue as typed records."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

from macros.published import load, number
from macros.published.conditions import AlsoMet, Condition, Handled, parts_of, read_condition
from macros.published.protection import slots_in
from macros.published.signal_words import signal_word


@dataclass(frozen=True)
class Escalation:
    """When the word rises, to what, and why."""

    when: Condition
    word: str
    why: str


@dataclass(frozen=True)
class ExtraPpe:
    """Equipment that a condition adds."""

    when: Condition
    add: tuple[str, ...]
    note: str


@dataclass(frozen=True)
class Slot:
    """Where a slot's value comes from, how it is printed and what stands there when it is not known."""

    name: str
    comes_from: str
    unit: str
    direction: str
    edges: tuple[float, ...]
    unknown: str
    zero_unknown: bool = False
    before: str = ""


@dataclass(frozen=True)
class Caution:
    """One hazard, one wording. `word` follows from severity and likelihood."""

    id: str
    place: int
    title: str
    severity: str
    likelihood: str
    word: str
    why: str
    hazard: str
    consequence: str
    avoidance: str
    short_hazard: str
    short_avoidance: str
    ppe: tuple[str, ...]
    ppe_extra: tuple[ExtraPpe, ...]
    first_aid: tuple[str, ...]
    label: tuple[str, ...]
    trigger: Condition
    escalate: tuple[Escalation, ...]
    source: str
    obtained: str
    note: str

    @cached_property
    def slots(self) -> tuple[str, ...]:
        """Names of the slots its text holds."""
        return slots_in(" ".join((self.hazard, self.consequence, self.avoidance)))

    @cached_property
    def substances(self) -> frozenset[str]:
        """The substances its trigger speaks of."""
        found: frozenset[str] = frozenset()
        for part in parts_of(self.trigger):
            if isinstance(part, Handled):
                found |= part.substances
        return found

    @cached_property
    def rests_on_others(self) -> bool:
        """Whether its trigger looks at other cautions of the step."""
        return any(isinstance(part, AlsoMet) for part in parts_of(self.trigger))


Catalogue = dict[str, Caution]


@cache
def catalogue() -> Catalogue:
    """Every caution by its id, in file order."""
    return {row["id"]: _caution(place, row) for place, row in enumerate(load("cautions")["cautions"])}


@cache
def slot(name: str) -> Slot:
    """How a slot is filled; KeyError for a slot that is not described."""
    row = load("cautions")["slots"][name]
    return Slot(
        name,
        row["from"],
        row.get("unit", ""),
        row.get("round", "nearest"),
        tuple(number(edge) for edge in row.get("edges", ())),
        row.get("unknown", ""),
        row.get("zero") == "unknown",
        row.get("before", ""),
    )


def fact_label(fact: str) -> str:
    """What a fact is called when it is not known."""
    return str(load("cautions")["facts"][fact])


def fact_names() -> tuple[str, ...]:
    """Every fact that has a label."""
    return tuple(load("cautions")["facts"])


def _caution(place: int, row: dict[str, Any]) -> Caution:
    return Caution(
        id=row["id"],
        place=place,
        title=row["title"],
        severity=row["severity"],
        likelihood=row["likelihood"],
        word=signal_word(row["severity"], row["likelihood"]),
        why=row["why"],
        hazard=row["hazard"],
        consequence=row["consequence"],
        avoidance=row["avoidance"],
        short_hazard=row["short_hazard"],
        short_avoidance=row["short_avoidance"],
        ppe=tuple(row["ppe"]),
        ppe_extra=tuple(
            ExtraPpe(read_condition(one["when"]), tuple(one["add"]), one.get("note", ""))
            for one in row.get("ppe_extra", ())
        ),
        first_aid=tuple(row["first_aid"]),
        label=tuple(row["label"]),
        trigger=read_condition(row["trigger"]),
        escalate=tuple(
            Escalation(
                read_condition(one["when"]), signal_word(one["severity"], one["likelihood"]), one["why"]
            )
            for one in row.get("escalate", ())
        ),
        source=row["source"],
        obtained=row["obtained"],
        note=row.get("note", ""),
    )
