"""What a reckoner answers and its numbers; `reckoners.js` holds the same functions on the same data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from macros.amounts.engine import number_format as printing
from macros.amounts.engine.number_format import with_unit
from macros.amounts.engine.pours import Bench, plan_text, poured_text
from macros.calculations import pours
from macros.calculations.rounding import round_to

Data = Mapping[str, Any]
"""The plain facts of one system, as `collect` gives them and the page carries them."""

Direction = Literal["up", "down", "nearest"]


@dataclass(frozen=True)
class Group:
    """Lines that belong together under one heading."""

    head: str
    items: tuple[str, ...]


@dataclass(frozen=True)
class Answer:
    """An answer, a stop, or a refusal of what was typed; `values` are its printed numbers, for tests and readers."""

    kind: Literal["answer", "stop", "refused"]
    title: str
    lines: tuple[str, ...] = ()
    groups: tuple[Group, ...] = ()
    assumed: tuple[str, ...] = ()
    values: Mapping[str, float | None] = field(default_factory=dict)

    def as_json(self) -> dict[str, Any]:
        """Plain data, the form in which the page's script answers."""
        return {
            "kind": self.kind,
            "title": self.title,
            "lines": list(self.lines),
            "groups": [{"head": group.head, "items": list(group.items)} for group in self.groups],
            "assumed": list(self.assumed),
            "values": dict(self.values),
        }


@dataclass(frozen=True)
class Measured:
    """A dose on the house's own tools: its text with the tools, its amount alone, and the total in the tools' unit."""

    text: str
    amount: str
    total: float
    marks: tuple[float, ...]
    """The mark of each pour's tool, in the tools' unit."""
    tools: str


def fixed(value: float, step: float, direction: Direction) -> str:
    """The number on a step, with the decimals the step shows."""
    return printing.number_text(round_to(value, step, direction), step)


def trimmed(value: float, step: float, direction: Direction) -> str:
    """As `fixed`, without zeros at the end: 136.0 is written 136."""
    return printing.trimmed(fixed(value, step, direction))


_UNIT_OF = {"fl oz": "fl_oz", "gal": "us_gal"}


def measured(data: Data, group: str, millilitres: float, direction: Direction) -> Measured | None:
    """An amount [mL] as pours of the house's tools for a group of liquids; None where no tool fits."""
    facts = data["tools"][group]
    tools = tuple(
        pours.Tool(tool["name"], tool["capacity"], tool["mark"], tool["smallest_use"])
        for tool in facts["tools"]
    )
    try:
        plan = pours.plan_pours(millilitres * facts["per_mL"], tools, direction, facts["limit"])
    except pours.NoTool:
        return None
    bench = Bench(
        group,
        facts["unit"],
        tools,
        {tool["name"]: _UNIT_OF.get(tool["own"], tool["own"]) for tool in facts["tools"]},
    )
    amount, how = with_unit(poured_text(plan, bench), bench.unit), plan_text(plan, bench)
    marks = {tool.name: tool.mark for tool in tools}
    return Measured(
        f"{amount}, {how}", amount, plan.total, tuple(marks[pour.tool] for pour in plan.pours), how
    )
