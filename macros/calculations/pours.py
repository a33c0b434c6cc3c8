"""How to measure an amount with the tools at hand: the fewest pours, each to a mark.

Rules (common practice, no source): a pour lies between the tool's smallest use and its capacity; half a mark is
at most a given share of the whole amount. Ties: fewest pours, then the smallest deviation, then the finest mark,
then the order of the tools.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from macros.calculations.rounding import in_figures, on_step, whole_steps

Direction = Literal["up", "down", "nearest"]
MOST_POURS = 60
"""More pours than this are not measuring but carrying; the plan is refused."""
FEW_POURS = 10
"""More pours of one dose than this are easily miscounted: our own choice."""

RATIO_TOLERANCE = 0.03
"""Amounts that belong together keep their ratio within this share."""


@dataclass(frozen=True)
class Tool:
    """A measuring tool: capacity, distance of its marks and smallest use, all in one unit of volume."""

    name: str
    capacity: float
    mark: float
    smallest_use: float


@dataclass(frozen=True)
class Pour:
    """One filling of a tool to one of its marks."""

    tool: str
    volume: float


@dataclass(frozen=True)
class PourPlan:
    """Pours in the order of work; `total` is what they come to."""

    pours: tuple[Pour, ...]
    total: float


class NoTool(ValueError):  # noqa: N818 - named for what is lacking
    """No tool at hand measures the amount by the rules; `told` says why, and what would do, in a unit's name."""

    def __init__(self, why: str, remedy: str) -> None:
        super().__init__(f"{why}. {remedy}.".replace("{unit}", "").replace("  ", " "))
        self._why, self._remedy = why, remedy

    def told(self, unit: str) -> tuple[str, str]:
        """Both with the unit after each number that has one."""
        return self._why.replace("{unit}", unit), self._remedy.replace("{unit}", unit)


def plan_pours(
    amount: float, tools: Sequence[Tool], direction: Direction, half_mark_limit: float
) -> PourPlan:
    """The best plan for one amount.

    amount [unit of the tools] above 0; tools: in the order of the house's file; direction: up, down or nearest mark;
    half_mark_limit [1] largest share of the amount that half a mark may be. Raises NoTool where none of the tools,
    nor a pair of them, fits. Source: common practice, no source.
    """
    ranked: list[tuple[tuple[float, float, float, int], PourPlan]] = []
    for order, tool in enumerate(tools):
        for volumes in _plans(amount, tool, tools, direction, half_mark_limit):
            total = float(f"{sum(pour.volume for pour in volumes):.10g}")
            rank = (float(len(volumes)), round(abs(total - amount), 9), tool.mark, order)
            ranked.append((rank, PourPlan(volumes, total)))
    if not ranked:
        raise NoTool(*_why_none(amount, tools, half_mark_limit))
    return min(ranked, key=lambda entry: entry[0])[1]


def plan_together(
    amounts: Sequence[float], tools: Sequence[Tool], direction: Direction, half_mark_limit: float
) -> tuple[PourPlan, ...]:
    """Plans for amounts whose ratio matters: one tool for all of them where one fits, fewest pours first.

    amounts [unit of the tools] above 0; tools, direction and half_mark_limit [1] as for `plan_pours`. Raises NoTool
    where an amount fits no tool, or the poured amounts are off their ratio by more than 3 %. Source: common practice,
    no source.
    """
    best: tuple[tuple[int, float, int], tuple[PourPlan, ...]] | None = None
    for order, tool in enumerate(tools):
        try:
            plans = tuple(plan_pours(amount, [tool], direction, half_mark_limit) for amount in amounts)
        except NoTool:
            continue
        rank = (sum(len(plan.pours) for plan in plans), tool.mark, order)
        if ratio_error(amounts, plans) <= RATIO_TOLERANCE and (best is None or rank < best[0]):
            best = (rank, plans)
    if best is not None:
        return best[1]
    plans = tuple(plan_pours(amount, tools, direction, half_mark_limit) for amount in amounts)
    refuse_off_ratio(amounts, plans)
    return plans


def refuse_off_ratio(amounts: Sequence[float], plans: Sequence[PourPlan]) -> None:
    """Refuse what is measured off its ratio.

    amounts [unit of its own plan] above 0; plans: one for each. Raises NoTool where they are off by more than 3 %.
    Source: common practice, no source.
    """
    off = ratio_error(amounts, plans)
    if off > RATIO_TOLERANCE:
        raise NoTool(
            f"poured with these tools the parts are off their ratio by {off:.1%}; at most 3 %",
            "Buy a finer tool",
        )


def ratio_error(amounts: Sequence[float], plans: Sequence[PourPlan]) -> float:
    """How far the poured amounts are off their ratio [1]: largest over smallest share poured, less 1.

    amounts [unit of the tools] above 0; plans: one for each. Raises nothing. Source: arithmetic.
    """
    shares = [plan.total / amount for amount, plan in zip(amounts, plans, strict=True)]
    return max(shares) / min(shares) - 1 if shares else 0.0


def _plans(
    amount: float, tool: Tool, tools: Sequence[Tool], direction: Direction, limit: float
) -> list[tuple[Pour, ...]]:
    """Every plan that begins with this tool: the tool alone, or full pours of it and the rest with a finer one."""
    found: list[tuple[Pour, ...]] = []
    if not _fine_enough(tool, amount, limit):
        return found
    alone = _alone(amount, tool, direction)
    if alone:
        found.append(alone)
    full = math.floor(amount / tool.capacity * (1 + 1e-12))
    rest = amount - full * tool.capacity
    if 0 < full < MOST_POURS and rest > 0:
        for other in tools:
            if other.mark < tool.mark and _fine_enough(other, amount, limit):
                small = on_step(whole_steps(rest, other.mark, direction) * other.mark, other.mark)
                if other.smallest_use - 1e-9 <= small <= other.capacity + 1e-9:
                    found.append((*(Pour(tool.name, tool.capacity),) * full, Pour(other.name, small)))
    return found


def _alone(amount: float, tool: Tool, direction: Direction) -> tuple[Pour, ...] | None:
    """Full pours and a last one; where the last is under the smallest use, the last two are shared out."""
    steps = whole_steps(amount, tool.mark, direction)
    per_full = whole_steps(tool.capacity, tool.mark, "down")
    least = whole_steps(tool.smallest_use, tool.mark, "up")
    if steps < max(least, 1):
        return None
    full, rest = divmod(steps, per_full)
    sizes = [per_full] * full + ([rest] if rest else [])
    if rest and rest < least:
        if full == 0:
            return None
        together = per_full + rest
        sizes[-2:] = [together - together // 2, together // 2]
        if sizes[-1] < least:
            return None
    if len(sizes) > MOST_POURS:
        return None
    return tuple(Pour(tool.name, on_step(size * tool.mark, tool.mark)) for size in sizes)


def _fine_enough(tool: Tool, amount: float, limit: float) -> bool:
    return tool.mark / 2 <= limit * amount * (1 + 1e-9)


def _why_none(amount: float, tools: Sequence[Tool], limit: float) -> tuple[str, str]:
    """In the words of the bench: the finest tool, why it fails, and the tool that would do."""
    wanted = f"{in_figures(amount, 3)} {{unit}} to measure"
    if not tools:
        return f"{wanted}: the house owns no tool for this liquid", "Buy one"
    finest = min(tools, key=lambda tool: (tool.smallest_use, tool.mark))
    half = finest.mark / 2
    share = half / amount if amount else math.inf
    if amount < finest.smallest_use or share > limit:
        return (
            f"{wanted}: smallest usable tool is '{finest.name}' (from {finest.smallest_use:g} {{unit}}; half a mark is "
            f"{half:g} {{unit}} = {share:.0%} of the dose, limit {limit:.0%})",
            "Buy one with marks of "
            f"{in_figures(2 * limit * amount, 2, 'down')} {{unit}} or finer that holds {in_figures(2 * amount, 2, 'up')} {{unit}}",
        )
    largest = max(tools, key=lambda tool: tool.capacity)
    return (
        f"{wanted}: with '{largest.name}' ({largest.capacity:g} {{unit}}) that is over {MOST_POURS} pours, or its marks are "
        "too coarse",
        f"Buy one with marks of {in_figures(2 * limit * amount, 2, 'down')} {{unit}} or finer that holds "
        f"{in_figures(amount / FEW_POURS, 2, 'up')} {{unit}}",
    )
