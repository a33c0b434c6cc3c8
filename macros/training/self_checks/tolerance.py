"""How far an answer may be off and still be right: one mark of the tool it is measured with, or the meter's resolution."""

from __future__ import annotations

from macros.amounts import Amount, Register
from macros.amounts.engine.pours import tools_for
from macros.amounts.water.reservoir import level_unit
from macros.ground.units import Quantity, convert
from macros.house.records.tools import MeasuringTool
from macros.training.self_checks.figures import Figure, NoFigure, in_unit

MOST = 0.10
"""A mark over this share of the answer is no tolerance: the printed number is asked for (half a mark may be 5 %, as pours)."""


def tolerance_of(answer: Figure, read_with: str, register: Register, system: str) -> tuple[float, str]:
    """The tolerance in the answer's unit, and its words; 0 and "" where nothing is measured.

    Parameters
    ----------
    read_with : `level` (the tank's scale), `ph` or `ec` (the pen), a group of liquids (`nutrients`, `acids`, `bases`,
        `sanitizer`, `water`: the finest of its tools that takes the answer), `pours` (the finest tool an amount is
        poured with, already in the answer's step), or "" for what is worked out and not measured
    """
    return _capped(answer, _uncapped(answer, read_with, register, system))


def _capped(answer: Figure, found: tuple[float, str]) -> tuple[float, str]:
    return found if found[0] <= MOST * answer.value + 1e-9 else (0.0, "")


def _uncapped(answer: Figure, read_with: str, register: Register, system: str) -> tuple[float, str]:
    if read_with == "pours":
        return answer.step, f"one mark, {Figure(answer.step, answer.unit).text}" if answer.step else ""
    if read_with == "level":
        return _level_mark(answer, register, system)
    if read_with in ("ph", "ec"):
        return _resolution(read_with, register)
    if read_with:
        return _tool_mark(answer, tools_for(register, read_with))
    return 0.0, ""


def tolerance_of_amount(amount: Amount, answer: Figure, register: Register) -> tuple[float, str]:
    """The tolerance of an amount a step shows, by the tool it is shown with."""
    if amount.pours:
        return tolerance_of(answer, "pours", register, "")
    if amount.tool:
        named = [tool for tool in register.house.measuring_tools if tool.name in amount.tools]
        if named and "level" in named[0].for_:
            return tolerance_of(answer, "level", register, dict(amount.of).get("system", ""))
        if named:
            return _capped(answer, _tool_mark(answer, named))
        for meter in register.house.meters:
            if meter.name == amount.tool:
                return _resolution(meter.measures, register)
    return 0.0, ""


def _tool_mark(answer: Figure, tools: list[MeasuringTool]) -> tuple[float, str]:
    """The finest of the tools that hold the answer; the largest where none does."""
    try:
        sized = [
            (in_unit(_figure(t.capacity), answer.unit).value, in_unit(_figure(t.mark), answer.unit).value)
            for t in tools
        ]
    except NoFigure:
        return 0.0, ""
    if not sized:
        return 0.0, ""
    holding = [mark for capacity, mark in sized if capacity >= answer.value - 1e-9]
    mark = float(f"{min(holding) if holding else max(sized)[1]:.9g}")
    return mark, f"one mark, {Figure(mark, answer.unit).text}"


def _figure(quantity: Quantity) -> Figure:
    return Figure(quantity.value, quantity.unit)


def _level_mark(answer: Figure, register: Register, system: str) -> tuple[float, str]:
    """One mark of the tank's scale; for a volume, what stands between two marks there, by the level table."""
    tools = [tool for tool in register.house.measuring_tools if "level" in tool.for_]
    if not tools:
        return 0.0, ""
    unit = level_unit(register)
    mark = convert(tools[0].mark.value, tools[0].mark.unit, unit)
    if answer.unit == unit:
        return mark, f"one mark, {Figure(mark, unit).text}"
    tables = register.of_id("level_table", system=system)
    if not tables:
        return 0.0, ""
    rows = tables[0].rounded["rows"]
    above = next((index for index in range(1, len(rows)) if rows[index][1] >= answer.value), len(rows) - 1)
    low, high = rows[above - 1], rows[above]
    volume = mark * (high[1] - low[1]) / (high[0] - low[0])
    volume = float(f"{volume:.2g}")
    return volume, f"one mark of the {tools[0].name}, {Figure(volume, answer.unit).text} here"


def _resolution(measures: str, register: Register) -> tuple[float, str]:
    for meter in register.house.meters:
        if meter.measures == measures:
            digit = meter.last_digit
            return (digit, f"one digit of the {meter.name}, {meter.resolution}") if digit else (0.0, "")
    return 0.0, ""
