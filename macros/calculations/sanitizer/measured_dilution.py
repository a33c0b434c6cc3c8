"""One part made up to many with marked tools: the smallest sample that two of them can measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from macros.calculations.pours import Tool
from macros.calculations.rounding import on_step, whole_steps


@dataclass(frozen=True)
class MeasuredDilution:
    """A sample in one tool, made up in another; both volumes in the unit of the tools."""

    sample_tool: Tool
    sample: float
    made_up_tool: Tool
    made_up: float


def measured_dilution(
    dilution: int, tools: Sequence[Tool], batch: float, half_mark_limit: float
) -> MeasuredDilution | None:
    """The smallest sample of a batch that is made up to `dilution` times its volume with two of the tools; None without.

    dilution [1] 2 or more; tools: in the order of the house's file; batch [unit of the tools] what there is of it, above
    0; half_mark_limit [1] largest share of a volume that half a mark may be. Both volumes stand at a mark of their tool,
    between its smallest use and its capacity. Raises nothing. Source: common practice, no source.
    """
    measured_by: dict[float, list[Tool]] = {}
    for tool in tools:
        for sample in _at_marks(tool, batch, half_mark_limit):
            measured_by.setdefault(sample, []).append(tool)
    # From the smallest on, and each once: tools of one kind have the same marks, and a house may list hundreds.
    for sample in sorted(measured_by):
        fit = [tool for tool in tools if _measures(tool, dilution * sample, half_mark_limit)]
        smallest_two = sorted(fit, key=lambda tool: tool.capacity)[:2]
        pairs = [
            (one, other)
            for one in measured_by[sample]
            for other in [tool for tool in smallest_two if tool is not one][:1]
        ]
        if pairs:
            one, other = min(pairs, key=lambda pair: pair[1].capacity)
            return MeasuredDilution(one, sample, other, dilution * sample)
    return None


def _at_marks(tool: Tool, batch: float, limit: float) -> Iterator[float]:
    """The volumes of a tool that are fit for a sample, the smallest first."""
    first = whole_steps(max(tool.smallest_use, tool.mark / 2 / limit), tool.mark, "up")
    last = whole_steps(min(tool.capacity, batch), tool.mark, "down")
    for marks in range(first, last + 1):
        yield on_step(marks * tool.mark, tool.mark)


def _measures(tool: Tool, volume: float, limit: float) -> bool:
    at_mark = abs(on_step(volume, tool.mark) - volume) <= 1e-9 * volume
    fine = tool.mark / 2 <= limit * volume * (1 + 1e-9)
    return at_mark and fine and tool.smallest_use - 1e-9 <= volume <= tool.capacity + 1e-9
