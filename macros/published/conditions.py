"""Conditions of triggers as data: YAML mappings read into typed records, never evaluated as code."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from macros.published import number


@dataclass(frozen=True)
class All:
    """Every part is met."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True)
class AnyOf:
    """At least one part is met."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True)
class Handled:
    """One handled substance meets all of this. [% w/w]; `percent_min` is in, `percent_below` is out."""

    substances: frozenset[str] = frozenset()
    percent_min: float | None = None
    percent_below: float | None = None
    sds_codes_any: frozenset[str] = frozenset()
    sds_codes_none: frozenset[str] = frozenset()
    band_codes_any: frozenset[str] = frozenset()


@dataclass(frozen=True)
class ActionIs:
    """The step's action is one of these, or counts as one."""

    actions: tuple[str, ...]


@dataclass(frozen=True)
class PairMet:
    """This pair is on the page and the step handles one side."""

    rule: str


@dataclass(frozen=True)
class Lifted:
    """One lift meets all of this."""

    mass_kg_min: float
    above_shoulder: bool = False
    from_below_knee: bool = False


@dataclass(frozen=True)
class FactIs:
    """A yes-no fact has this value."""

    fact: str
    value: bool


@dataclass(frozen=True)
class OneOf:
    """A fact that is a word, or one of several words, is among these."""

    fact: str
    values: tuple[str, ...]
    unknown_counts_with: Condition | None = None


@dataclass(frozen=True)
class Bound:
    """A number is at least, or at most, this. A value on the bound is met."""

    fact: str
    value: float
    at_least: bool = True
    unknown_counts_with: Condition | None = None


@dataclass(frozen=True)
class AlsoMet:
    """One of these cautions is met at the same step."""

    cautions: tuple[str, ...]


Condition = All | AnyOf | Handled | ActionIs | PairMet | Lifted | FactIs | OneOf | Bound | AlsoMet


_KINDS = ("all", "any", "handled", "action", "pair", "lift", "is", "one_of", "at_least", "at_most", "caution")


def read_condition(data: dict[str, Any]) -> Condition:
    """A condition from its mapping. An unknown kind is our own fault and keeps its traceback (KeyError)."""
    guard = read_condition(data["unknown_counts_with"]) if "unknown_counts_with" in data else None
    kinds = [key for key in data if key != "unknown_counts_with"]
    if len(kinds) != 1 or kinds[0] not in _KINDS:
        raise KeyError(f"a condition has one kind of {_KINDS}, not {kinds}")
    kind = kinds[0]
    body = data[kind]
    if kind in ("all", "any"):
        parts = tuple(read_condition(part) for part in body)
        return All(parts) if kind == "all" else AnyOf(parts)
    if kind == "action":
        return ActionIs(tuple(body))
    if kind == "pair":
        return PairMet(body)
    if kind == "caution":
        return AlsoMet(tuple(body))
    if kind == "lift":
        return Lifted(
            number(body["mass_kg_min"]),
            body.get("above_shoulder") == "yes",
            body.get("from_below_knee") == "yes",
        )
    if kind == "handled":
        return _handled(body)
    ((fact, value),) = body.items()
    if kind == "is":
        return FactIs(fact, value == "yes")
    if kind == "one_of":
        return OneOf(fact, tuple(value), guard)
    return Bound(fact, number(value), {"at_least": True, "at_most": False}[kind], guard)


def parts_of(condition: Condition) -> Iterator[Condition]:
    """The condition and everything inside it."""
    yield condition
    inner = condition.parts if isinstance(condition, All | AnyOf) else ()
    for part in inner:
        yield from parts_of(part)
    if isinstance(condition, OneOf | Bound) and condition.unknown_counts_with is not None:
        yield from parts_of(condition.unknown_counts_with)


def _handled(body: dict[str, Any]) -> Handled:
    known = {"substance", "percent_min", "percent_below", "sds_codes_any", "sds_codes_none", "band_codes_any"}
    if set(body) - known:
        raise KeyError(f"unknown in handled: {sorted(set(body) - known)}")
    return Handled(
        frozenset(body.get("substance", ())),
        number(body["percent_min"]) if "percent_min" in body else None,
        number(body["percent_below"]) if "percent_below" in body else None,
        frozenset(body.get("sds_codes_any", ())),
        frozenset(body.get("sds_codes_none", ())),
        frozenset(body.get("band_codes_any", ())),
    )
