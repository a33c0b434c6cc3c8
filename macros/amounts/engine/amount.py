"""What one worked-out quantity knows about itself: the record behind every printed number."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

Kind = Literal["number", "count", "date", "clock", "band", "table", "map", "flag"]
Rounded = Literal["up", "down", "nearest"]
Direction = Literal[Rounded, "earlier", "none"]

OF_KEYS = (
    "system", "task", "chemical", "part", "feed_stage", "growth_stage", "variety", "tray", "sheet", "circuit",
    "container", "time", "place", "planting",
)  # fmt: skip
"""What tells several amounts of one id apart; the values are ids of the house."""

_OF_KEYS = frozenset(OF_KEYS)

Of = tuple[tuple[str, str], ...]
"""The keys of one amount with their values, in the fixed order of `of_tuple`."""


@dataclass(frozen=True)
class Input:
    """One fact that reached the amount: the field as the house wrote it, and where it stands."""

    name: str
    value: float | str
    unit: str
    where: str


@dataclass(frozen=True)
class Rounding:
    """How the exact value became the printed one, and why that side is the safe one."""

    direction: Direction
    step: float | None
    rule: str


@dataclass(frozen=True)
class Pour:
    """One filling of one of the house's own measuring tools, to a mark it has."""

    tool: str
    volume: float
    unit: str


@dataclass(frozen=True)
class Made:
    """What is really made once the rounded amount is used."""

    value: float
    unit: str


@dataclass(frozen=True)
class Amount:
    """One quantity of the house.

    `exact` is the unrounded value in the unit the calculations use (`exact_unit`); `value` is the same in the
    house's unit; `rounded` is what is printed. `figures` are the numbers of `printed` without their unit: one, or
    the two ends of a band; none where it is not a number with its unit. `tools` are the names of what `tool` tells of.
    `inputs` holds those of every amount this one rests on as well, so that a changed fact reaches all it touches.
    """

    id: str
    of: Of
    kind: Kind
    label: str
    value: Any
    unit: str
    printed: str
    exact: Any
    exact_unit: str
    rounded: Any
    tool: str
    pours: tuple[Pour, ...]
    made: Made | None
    bounds: tuple[float | None, float | None] | None
    rounding: Rounding
    working: str
    inputs: tuple[Input, ...]
    sources: tuple[str, ...]
    assumed: tuple[str, ...]
    topic: str = ""
    rests_on: tuple[str, ...] = field(default=())
    figures: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """`dose_full[part=part_1,system=A]`: the amount's name in messages and addresses."""
        return key_of(self.id, self.of)

    @property
    def anchor(self) -> str:
        """The amount's place on the workings page."""
        return "-".join([self.id, *(value for _, value in self.of)]).replace("_", "-").lower()

    @property
    def ends(self) -> tuple[float | None, float | None]:
        """The ends of a band in the unit it is printed in, or a printed number twice; None for what is no number.

        A band is printed as the house set it; what a change of unit leaves beyond 8 decimals is dust.
        """
        low, high = (
            (self.rounded["low"], self.rounded["high"])
            if self.kind == "band"
            else (self.rounded, self.rounded)
        )
        return _number(low), _number(high)

    def as_json(self) -> dict[str, Any]:
        """The amount in the form of `amounts.json`; the keys are a contract with its readers."""
        low, high = self.bounds or (None, None)
        return {
            "id": self.id,
            "of": dict(self.of),
            "kind": self.kind,
            "value": plain(self.value),
            "unit": self.unit,
            "printed": self.printed,
            "pours": [{"tool": p.tool, "volume": plain(p.volume), "unit": p.unit} for p in self.pours],
            "made": None if self.made is None else {"value": plain(self.made.value), "unit": self.made.unit},
            "bounds": None if self.bounds is None else {"low": plain(low), "high": plain(high)},
            "rounding": {
                "direction": self.rounding.direction,
                "step": plain(self.rounding.step),
                "rule": self.rounding.rule,
            },
            "working": self.working,
            "inputs": [
                {"name": i.name, "value": plain(i.value), "unit": i.unit, "where": i.where}
                for i in self.inputs
            ],
            "sources": list(self.sources),
            "assumed": list(self.assumed),
        }


def _number(value: Any) -> float | None:
    return round(float(value), 8) if isinstance(value, int | float) else None


def key_of(id_: str, of: Of) -> str:
    """`dose_full[part=part_1,system=A]`."""
    inner = ",".join(f"{name}={value}" for name, value in of)
    return f"{id_}[{inner}]" if inner else id_


def of_tuple(of: Mapping[str, str]) -> Of:
    """The keys that tell an amount apart, in the fixed order of the alphabet. An unknown key is our own fault."""
    if not _OF_KEYS.issuperset(of):
        raise KeyError(f"unknown amount key {sorted(set(of) - _OF_KEYS)}")
    return tuple(sorted(of.items()))


def plain(value: Any) -> Any:
    """Twelve significant digits: the noise of binary arithmetic past them differs between machines."""
    if isinstance(value, float):
        return float(f"{value:.12g}")
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    return value
