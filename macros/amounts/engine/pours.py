"""An amount becomes pours of the measuring tools the house owns, in the unit of those tools."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from macros.amounts.engine.amount import Amount, Pour, Rounding
from macros.amounts.engine.number_format import brief, shown_unit, text_as_set, trimmed
from macros.amounts.engine.register import Reason, Register, Withheld
from macros.amounts.engine.working import Working
from macros.calculations import pours
from macros.calculations.rounding import in_figures, round_to
from macros.ground.problems import Place, Problem
from macros.ground.units import convert
from macros.house.records.tools import MeasuringTool

HALF_MARK_LIMIT = {
    "nutrients": 0.05,
    "sanitizer": 0.05,
    "water": 0.05,
    "acids": 0.10,
    "bases": 0.10,
    "neutralizer": 0.5,
}
"""Half a mark may be at most this share of the whole amount: our own choice, no source. Of what takes a sanitizer
out a grain too much does no harm."""

_LONGEST = 6
"""Characters of a measured amount: fluid ounces in gallons have more than anybody reads, and are told as such."""

MANY = 12
"""More fillings of water than this for one amount are told: our own choice, no source. Of a dose `pours.FEW_POURS`."""
OTHER_WAYS = {
    "sanitizer": ", make a larger batch, or keep a weaker stock",
    "acids": ", or thin the stock once, acid into water, and write the strength you then keep",
    "bases": ", or thin the stock once, stock into water, and write the strength you then keep",
    "nutrients": ", or thin each part alone by the same and write the rates of what you then keep",
    "dry_feed": ", or dissolve it once into a stock and write its rate in mL of that",
}
"""What helps besides another tool, where a dose is too small or too large for those of the house."""

_METRIC = {"mL", "L"}


@dataclass(frozen=True)
class Bench:
    """The tools of one group in one unit, as the pours planner takes them; `own_units` are those of their marks.

    They are marked alike, all metric or all US: one amount is never poured with both.
    """

    group: str
    unit: str
    tools: tuple[pours.Tool, ...]
    own_units: Mapping[str, str]

    @property
    def weighs(self) -> bool:
        """Whether these are scales, for a powder."""
        return self.unit in ("g", "oz_wt")

    @property
    def dose_unit(self) -> str:
        """The unit a dose is worked out in."""
        return "g" if self.weighs else "mL"

    @property
    def limit(self) -> float:
        """The largest share half a mark may be of the whole amount."""
        return HALF_MARK_LIMIT.get(self.group, 0.05)


def benches(register: Register, working: Working, group: str) -> list[Bench]:
    """The house's tools for a group of liquids, those marked as the house prints first; every tool is an input."""
    owned = tools_for(register, group)
    us = register.house.us
    found = [
        _bench(working, group, "mL" if metric else "fl_oz", alike)
        for metric in (not us, us)
        if (alike := [tool for tool in owned if _is_metric(tool) == metric])
    ]
    return found or [Bench(group, "mL", (), {})]


def bench(register: Register, working: Working, group: str, *doses: float) -> Bench:
    """Of the tools for a group, those marked alike that measure most of the doses [mL], in the fewest pours."""
    return min(benches(register, working, group), key=lambda one: _cost(one, doses))


def scales(working: Working, group: str) -> Bench:
    """The house's scales for a powder, those that show grams before those that show ounces; every scale used is an input.

    Raises
    ------
    Withheld
        the house has none; its rules say so.
    """
    owned = working.register.house.scales
    if not owned:
        raise Withheld("the house has no scale", "scales")
    grams = [one for one in owned if one.mark.unit in ("g", "kg")]
    unit, alike = ("g", grams) if grams else ("oz_wt", owned)
    sizes = [[_neat(working.fact(one, size, unit)) for size in ("capacity", "mark")] for one in alike]
    tools = tuple(
        pours.Tool(one.name, most, mark, mark) for one, (most, mark) in zip(alike, sizes, strict=True)
    )
    return Bench(group, unit, tools, {one.name: unit for one in alike})


def _cost(bench_: Bench, doses: Sequence[float]) -> tuple[int, int]:
    """How many doses [mL] the tools cannot measure, and the pours of the others."""
    plans = [_plan_or_none(bench_, convert(dose, "mL", bench_.unit), "nearest") for dose in doses]
    there = [len(plan.pours) for plan in plans if plan is not None]
    return len(plans) - len(there), sum(there)


def _plan_or_none(bench_: Bench, wanted: float, direction: pours.Direction) -> pours.PourPlan | None:
    try:
        return pours.plan_pours(wanted, bench_.tools, direction, bench_.limit)
    except pours.NoTool:
        return None


def _is_metric(tool: MeasuringTool) -> bool:
    return tool.capacity.unit in _METRIC


def _bench(working: Working, group: str, unit: str, tools: Sequence[MeasuringTool]) -> Bench:
    own = {tool.name: unit if _is_metric(tool) else tool.mark.unit for tool in tools}
    return Bench(group, unit, tuple(_as_tool(working, tool, unit) for tool in tools), own)


def tools_for(register: Register, group: str) -> list[MeasuringTool]:
    """The house's tools for a group of liquids; what serves `acids_bases` serves the one of the two the house has."""
    groups = {group, "acids_bases"} if group in ("acids", "bases") else {group}
    return [tool for tool in register.house.measuring_tools if groups & set(tool.for_)]


def water_bench(
    register: Register, working: Working, group: str, unit: str, step: float, litres: float | None = None
) -> tuple[Bench, float]:
    """Tools for water or for a batch, and the step its amount is printed in.

    Those marked in the system of the unit asked for; where the house has none of them, or only the others measure the
    litres, the others in their own unit.
    """
    owned = tools_for(register, group)
    metric = unit in _METRIC
    alike, others = (
        [tool for tool in owned if _is_metric(tool) == wanted] for wanted in (metric, not metric)
    )
    chosen = _bench(working, group, unit, alike), step
    if not others:
        return chosen
    other_unit = "us_gal" if metric else "L"
    step = min(_neat(tool.mark.to(other_unit)) for tool in others)
    other = _bench(working, group, other_unit, others), step
    if not alike or (litres is not None and not _fits(chosen, litres) and _fits(other, litres)):
        return other
    return chosen


def _fits(measured_with: tuple[Bench, float], litres: float) -> bool:
    return fits_in_pours(measured_with, litres, pours.MOST_POURS)


def give_measured(
    working: Working,
    exact: float,
    measured_with: tuple[Bench, float],
    direction: Literal["up", "down"],
    rule: str,
) -> Amount | None:
    """Enter an amount in litres, rounded to the step and then to pours of the bench of `water_bench`.

    Without a fitting tool, a problem instead.
    """
    bench_, step = measured_with
    place = working.register.house.place("measuring_tools")
    value = convert(exact, "L", bench_.unit)
    wanted = round_to(value, step, direction)
    try:
        plan = pours.plan_pours(wanted, bench_.tools, direction, bench_.limit)
    except pours.NoTool as missing:
        working.register.problems.append(_no_tool(working, missing, bench_, place))
        working.register.withhold(working.id, working.of, Reason("no measuring tool of the house fits"))
        return None
    _tell_many(working, plan, bench_, place, MANY)
    unit, total, text = _as_poured(plan, bench_, step)
    return working.enter(
        "number",
        exact,
        "L",
        value=convert(value, bench_.unit, unit),
        shown_unit=unit,
        figures=(trimmed(text),),
        rounded=total,
        rounding=Rounding(direction, step, rule),
        tool=plan_text(plan, bench_),
        pours=_own_pours(plan, bench_),
    )


def _as_poured(plan: pours.PourPlan, bench_: Bench, step: float) -> tuple[str, float, str]:
    """Unit, number and text of what is poured: off the step or too long to read, in the unit of the tools where all have one of their own."""
    own = {bench_.own_units[pour.tool] for pour in plan.pours}
    steps, text = plan.total / step, text_as_set(plan.total, step)
    read = abs(steps - round(steps)) < 1e-6 and len(trimmed(text)) <= _LONGEST
    if len(own) > 1 or bench_.unit in own or read:
        return bench_.unit, plan.total, text
    unit = own.pop()
    total = _neat(convert(plan.total, bench_.unit, unit))
    mark = min(tool.mark for tool in bench_.tools if tool.name in {pour.tool for pour in plan.pours})
    return unit, total, text_as_set(total, _neat(convert(mark, bench_.unit, unit)))


def fits_in_pours(measured_with: tuple[Bench, float], litres: float, most: int) -> bool:
    """Whether an amount, up to its step, is measured with the bench in at most so many pours."""
    bench_, step = measured_with
    plan = _plan_or_none(bench_, round_to(convert(litres, "L", bench_.unit), step, "up"), "up")
    return plan is not None and len(plan.pours) <= most


def give_poured(
    working: Working,
    exact: float,
    bench_: Bench,
    direction: pours.Direction,
    rule: str,
    place: Place,
    *,
    plan: pours.PourPlan | None = None,
) -> Amount | None:
    """Enter an amount as pours, with its tool plan, or as weighed; without a fitting tool, a problem instead.

    Parameters
    ----------
    exact : the amount [mL, on scales g]
    plan : pours already chosen together with others (feed parts share one tool)
    place : where to point when no tool fits
    """
    wanted = convert(exact, bench_.dose_unit, bench_.unit)
    try:
        plan = plan or pours.plan_pours(wanted, bench_.tools, direction, bench_.limit)
    except pours.NoTool as missing:
        working.register.problems.append(_no_tool(working, missing, bench_, place))
        reason = Reason("no measuring tool of the house fits")
        working.register.withhold(working.id, working.of, reason)
        return None
    step = min(tool.mark for tool in bench_.tools if tool.name in {pour.tool for pour in plan.pours})
    total = plan.total
    _tell_many(working, plan, bench_, place, pours.FEW_POURS)
    amount = working.enter(
        "number",
        exact,
        bench_.dose_unit,
        value=wanted,
        shown_unit=bench_.unit,
        figures=(poured_text(plan, bench_),),
        rounded=total,
        rounding=Rounding(direction, step, rule),
        tool=plan_text(plan, bench_),
        pours=() if bench_.weighs else _own_pours(plan, bench_),
        tools=tuple(dict.fromkeys(pour.tool for pour in plan.pours)),
    )
    if not bench_.weighs:
        _enter_plan(working, amount)
    return amount


def poured_text(plan: pours.PourPlan, bench_: Bench) -> str:
    """What the pours come to: the decimals of the finest mark used, more where the sum has more."""
    marks = {tool.name: tool.mark for tool in bench_.tools}
    return text_as_set(plan.total, min(marks[pour.tool] for pour in plan.pours))


def _tell_many(working: Working, plan: pours.PourPlan, bench_: Bench, place: Place, most: int) -> None:
    """A warning where so many fillings are counted that one is easily lost."""
    if len(plan.pours) <= most:
        return
    tool, times = Counter(pour.tool for pour in plan.pours).most_common(1)[0]
    unit = shown_unit(bench_.unit)
    fillings = "weighings on" if bench_.weighs else "fillings of"
    what = f"{working.label}: {brief(plan.total)} {unit} take {times} {fillings} '{tool}'"
    allowed = f"Over {most} are easily miscounted (our own choice)"
    remedy = (
        f"Buy a {'scale' if bench_.weighs else 'cylinder or jug'} that holds {in_figures(plan.total / most, 2, 'up')} {unit} or "
        f"more, with marks of {in_figures(2 * bench_.limit * plan.total, 2, 'down')} {unit} or finer"
    )
    keys = f" ({', '.join(working.of.values())})" if working.of else ""
    working.register.problems.append(
        Problem(place, f"{working.id}{keys}", what, allowed, remedy, severity="warning")
    )


def _own_pours(plan: pours.PourPlan, bench_: Bench) -> tuple[Pour, ...]:
    """Each pour in the unit its tool is marked in."""
    return tuple(
        Pour(pour.tool, _neat(convert(pour.volume, bench_.unit, own)), own)
        for pour in plan.pours
        for own in (bench_.own_units[pour.tool],)
    )


def plan_text(plan: pours.PourPlan, bench_: Bench) -> str:
    """`jug 1 L: 3 x 1000 + 420`; a single pour names its tool alone. A tool marked in another unit tells its own."""
    marks = {tool.name: tool.mark for tool in bench_.tools}
    pieces: dict[str, list[Pour]] = {}
    for pour in _own_pours(plan, bench_):
        pieces.setdefault(pour.tool, []).append(pour)
    alone = len(plan.pours) == 1
    texts = []
    for tool, own in pieces.items():
        unit = own[0].unit
        text = _sum_text([pour.volume for pour in own], _neat(convert(marks[tool], bench_.unit, unit)))
        if unit != bench_.unit:
            text = f"{text} {shown_unit(unit)}"
        elif alone:
            return tool
        texts.append(f"{tool}: {text}")
    return "; ".join(texts)


def _sum_text(volumes: Sequence[float], mark: float) -> str:
    """Equal pours are counted from three on: `3 x 1000 + 420`, `10.0 + 10.0 + 7.8`."""
    text: list[str] = []
    for volume in dict.fromkeys(volumes):
        times, shown = volumes.count(volume), text_as_set(volume, mark)
        text += [f"{times} x {shown}"] if times > 2 else [shown] * times
    return " + ".join(text)


def _enter_plan(working: Working, amount: Amount) -> None:
    """Pours as an amount of its own: which tool, filled how far."""
    plan = Working(working.register, "tool_plan", f"Pours for: {amount.label}", working.topic, **working.of)
    plan.whole(amount.id, **dict(amount.of))
    plan.add_line(f"{amount.tool}, together {amount.printed}")
    rows = [[pour.tool, f"{brief(pour.volume)} {shown_unit(pour.unit)}"] for pour in amount.pours]
    plan.table([("tool", ""), ("pour", "")], rows, "fewest pours to marks of own tools", None)


def _as_tool(working: Working, tool: MeasuringTool, unit: str) -> pours.Tool:
    return pours.Tool(
        name=tool.name,
        capacity=_neat(working.fact(tool, "capacity", unit)),
        mark=_neat(working.fact(tool, "mark", unit)),
        smallest_use=_neat(working.fact(tool, "smallest_use", unit)),
    )


def _neat(value: float) -> float:
    """Without the dust of unit conversion: 0.2 mL stays 0.2."""
    return float(f"{value:.10g}")


def _no_tool(working: Working, missing: pours.NoTool, bench_: Bench, place: Place) -> Problem:
    why, remedy = missing.told(shown_unit(bench_.unit))
    remedy += OTHER_WAYS.get(bench_.group, "") if bench_.tools else ""
    keys = f" ({', '.join(working.of.values())})" if working.of else ""
    return Problem(place, f"{working.id}{keys}", f"{working.label}: {why}", "", remedy, "E24")
