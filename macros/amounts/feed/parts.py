"""What is poured or weighed of each feed part: doses in mL of a liquid one, in grams of a dry one."""

from __future__ import annotations

from collections.abc import Sequence

from macros.amounts.engine.number_format import brief, with_unit
from macros.amounts.engine.pours import Bench, bench, scales
from macros.amounts.engine.working import Working
from macros.calculations import pours
from macros.ground.units import convert
from macros.house.records.feeding import FeedStage, NutrientPart


def parts_of(w: Working, stage: FeedStage) -> list[NutrientPart]:
    """The parts that have a rate in a stage, in the order of mixing."""
    return [part for part in w.register.house.nutrients.parts_in_order() if part.id in stage.rates]


def dose_unit(stage: FeedStage, part: NutrientPart) -> str:
    """The unit a dose of a part is worked out in: `mL` or `g`."""
    return "g" if stage.weighs(part.id) else "mL"


def rate_of(w: Working, stage: FeedStage, part: NutrientPart) -> float:
    """The rate of a part [mL/L, of a dry one g/L]."""
    return w.fact(stage, f"rates.{part.id}", f"{dose_unit(stage, part)}/L")


def rate_text(w: Working, stage: FeedStage, part: NutrientPart) -> str:
    """The rate as a working tells it: a dry one of a US house a gallon."""
    rate = rate_of(w, stage, part)
    if w.register.house.us and stage.weighs(part.id):
        return with_unit(brief(convert(rate, "g/L", "g/us_gal")), "g/us_gal")
    return f"{brief(rate)} {dose_unit(stage, part)}/L"


def ec_each(w: Working, stage: FeedStage, part: NutrientPart) -> float:
    """EC that 1 mL/L of a part adds, of a dry one 1 g/L [mS/cm]."""
    return w.fact(part, "ec_per_g_per_l" if stage.weighs(part.id) else "ec_per_ml_per_l", "mS/cm")


def tools_of(w: Working, stage: FeedStage, doses: Sequence[Sequence[float]]) -> list[Bench]:
    """The tools of each part for its doses [mL or g]: scales of a dry one, of the liquid ones those that suit them all."""
    units = [dose_unit(stage, part) for part in parts_of(w, stage)]
    liquid = [dose for unit, own in zip(units, doses, strict=True) if unit == "mL" for dose in own]
    found = {}
    if "mL" in units:
        found["mL"] = bench(w.register, w, "nutrients", *liquid)
    if "g" in units:
        found["g"] = scales(w, "dry_feed")
    return [found[unit] for unit in units]


def in_ratio(doses: Sequence[float], tools: Sequence[Bench]) -> list[pours.PourPlan]:
    """A plan for each dose [mL or g], those of one bench with one tool where one fits.

    Raises
    ------
    NoTool
        one fits no tool, or what is measured is off its ratio by more than 3 %.
    """
    wanted = [convert(dose, one.dose_unit, one.unit) for dose, one in zip(doses, tools, strict=True)]
    plans: dict[int, pours.PourPlan] = {}
    for alike in dict.fromkeys(one.unit for one in tools):
        own = [n for n, one in enumerate(tools) if one.unit == alike]
        bench_ = tools[own[0]]
        together = pours.plan_together([wanted[n] for n in own], bench_.tools, "nearest", bench_.limit)
        plans |= dict(zip(own, together, strict=True))
    found = [plans[n] for n in range(len(tools))]
    pours.refuse_off_ratio(wanted, found)
    return found


def measured(dose: float, tools: Bench, direction: pours.Direction = "nearest") -> float | None:
    """A dose [mL or g] as it is measured, in the unit of the tools; None where none of them measures so little."""
    try:
        wanted = convert(dose, tools.dose_unit, tools.unit)
        return pours.plan_pours(wanted, tools.tools, direction, tools.limit).total
    except pours.NoTool:
        return None
