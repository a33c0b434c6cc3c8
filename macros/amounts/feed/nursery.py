"""What is mixed by the bucket: plug water and nursery solution, a litre and a batch, at the EC of the stage `nursery`."""

from __future__ import annotations

from dataclasses import dataclass

from macros.amounts.engine.number_format import brief, house_unit, in_house_unit, shown_unit
from macros.amounts.engine.pours import Bench, bench
from macros.amounts.engine.register import Reason, Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.feed.acidity import MODEL, acid_name, molarity, tap_water
from macros.amounts.feed.feeding import strength_of_feed
from macros.amounts.feed.parts import in_ratio, parts_of, tools_of
from macros.calculations import pours
from macros.calculations.feed import feeding
from macros.calculations.feed.acid_dose import MOLAR_MASS, acid_needed
from macros.calculations.rounding import round_to
from macros.ground.problems import RangeProblem
from macros.ground.units import convert
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import FeedStage

TOPIC = "Feed"
STAGE = "nursery"
PLUG_WATER_PH = 5.6, 6.0
"""The band of SOP-11: our own default."""


@dataclass(frozen=True)
class _Recipe:
    """Rows of a recipe: part, for a litre [mL or g], for the batch as poured [tools' unit]; the EC of it [mS/cm].

    `units` are those of the two columns; empty where liquid and dry parts meet, whose names then tell theirs.
    """

    rows: list[list[object]]
    units: tuple[str, str]
    ec: float


def fill(register: Register) -> None:
    """Enter both recipes of a house that sows, and the EC the nursery solution reads."""
    house = register.house
    stage = house.nutrients.stages.get(STAGE)
    if stage is None:
        for id_ in ("nursery_recipe", "nursery_ec"):
            register.withhold(id_, {}, Reason(f"no feed stage is called {STAGE}"))
    else:
        with register.attempt("nursery_recipe", stage, "ec_target"):
            _nursery_recipe(register, stage)
    for acid in house.chemicals_with_role("acid")[:1]:
        with register.attempt("plug_water_recipe", acid, "active"):
            _plug_water_recipe(register, stage, acid)


def _batch(w: Working) -> float:
    """[L] What is mixed at once."""
    us = w.register.house.us
    default = convert(2.0, "us_gal", "L") if us else 10.0
    text = "2 gal" if us else "10 L"
    assumed = f"{text} mixed at once (a bucket); set nursery.solution_batch"
    return w.fact_or(w.register.house.nursery, "solution_batch", "L", default, assumed)


def _shown(w: Working, litres: float) -> tuple[str, str]:
    value, unit = in_house_unit(litres, "L", w.register.house.us)
    return brief(value), shown_unit(unit)


def _nursery_recipe(register: Register, stage: FeedStage) -> None:
    """The parts of the stage in their ratio, at the share of its rates that brings the tap water to the target EC."""
    w = Working(register, "nursery_recipe", "Nursery solution", TOPIC)
    water, target = (
        w.fact(register.house.water_source, "ec", "mS/cm"),
        w.fact(stage, "ec_target", "mS/cm"),
    )
    low, high = w.fact(stage, "ec_low", "mS/cm"), w.fact(stage, "ec_high", "mS/cm")
    total, pairs = strength_of_feed(w, register, stage)
    if water >= target:
        raise RangeProblem(
            f"the tap water reads {brief(water)} mS/cm already, the nursery solution is to read {brief(target)} mS/cm"
        )
    share = feeding.ec_raise(water, target, total)
    litres = _batch(w)
    recipe = _mixed(w, stage, pairs, share, litres)
    w.add_line(
        f"share of the rates of this stage = ({brief(target)} - {brief(water)}) / {brief(total)} = {brief(share)}; "
        f"as poured the mix reads {brief(recipe.ec, 3)} mS/cm"
    )
    if not low <= recipe.ec <= high:
        raise Withheld(
            f"the nursery solution as poured would read {brief(recipe.ec, 3)} mS/cm, its band is {brief(low)} to "
            f"{brief(high)} mS/cm. Mix more at once (nursery.solution_batch) or use a finer measure for feed"
        )
    amount, unit = _shown(w, litres)
    small = _small(register)[0]
    columns = [("part", ""), (f"for 1 {small}", recipe.units[0]), (f"for {amount} {unit}", recipe.units[1])]
    w.table(columns, recipe.rows, "nearest mark, all parts with one tool so that their ratio holds", None)
    ec = Working(register, "nursery_ec", "EC of the nursery solution", TOPIC)
    ec.whole("nursery_recipe")
    ec.add_line(f"the recipe as poured gives {brief(recipe.ec, 3)} mS/cm")
    ec.number(
        recipe.ec,
        "mS/cm",
        "nearest",
        "two decimals, as the meter shows",
        step=0.01,
        bounds=(low, high),
        as_read=True,
    )


def _mixed(
    w: Working, stage: FeedStage, pairs: list[tuple[float, float]], share: float, litres: float
) -> _Recipe:
    doses = [feeding.dose_full(litres, rate * share, 1.0) for rate, _ in pairs]
    tools = tools_of(w, stage, [[dose] for dose in doses])
    try:
        poured = [plan.total for plan in in_ratio(doses, tools)]
    except pours.NoTool:
        amount, unit = _shown(w, litres)
        told = ", ".join(f"{brief(dose, 3)} {own.dose_unit}" for dose, own in zip(doses, tools, strict=True))
        raise Withheld(
            f"no measure for feed takes the {told} that {amount} {unit} of nursery "
            "solution take. Mix more at once (nursery.solution_batch) or own a finer measure"
        ) from None
    water = w.fact(w.register.house.water_source, "ec", "mS/cm")
    added = [
        (convert(total, own.unit, own.dose_unit) / litres, each)
        for total, (_, each), own in zip(poured, pairs, tools, strict=True)
    ]
    alike = {(own.dose_unit, own.unit) for own in tools}
    rows: list[list[object]] = [
        [
            part.name if len(alike) == 1 else _told_apart(part.name, own),
            round(rate * share * _small(w.register)[1], 2),
            total,
        ]
        for part, (rate, _), total, own in zip(parts_of(w, stage), pairs, poured, tools, strict=True)
    ]
    units = alike.pop() if len(alike) == 1 else ("", "")
    return _Recipe(rows, units, feeding.ec_expected(water, added))


def _told_apart(name: str, own: Bench) -> str:
    """A part with the units of its two columns."""
    return f"{name} [{', '.join(dict.fromkeys((own.dose_unit, shown_unit(own.unit))))}]"


def _plug_water_recipe(register: Register, stage: FeedStage | None, acid: Chemical) -> None:
    """Tap water and half of the pH-down it takes; no feed, for seed brings its own."""
    w = Working(register, "plug_water_recipe", "Plug water", TOPIC)
    w.raw(acid, "active")
    low, high = PLUG_WATER_PH
    target = min(max(w.fact(stage, "ph_target"), low), high) if stage is not None else (low + high) / 2
    alkalinity, ph, temperature, calcium = tap_water(w, register)
    if ph <= high:
        raise Withheld(f"the tap water reads pH {ph:g}: plug water takes no pH-down")
    ec = w.fact(register.house.water_source, "ec", "mS/cm")
    name = acid_name(acid)
    millimoles = acid_needed(alkalinity, ph, target, temperature, name, calcium)
    each = millimoles / molarity(w, acid, MOLAR_MASS[name])
    litres = _batch(w)
    tools = bench(register, w, "acids", each * litres / 2)
    half = _down(each * litres / 2, tools)
    w.source(MODEL)
    w.source("half first: common practice, no source")
    w.source("plug water without feed: common practice, no source")
    w.add_line(
        f"{brief(millimoles)} mmol/L of {name} acid to pH {target:g} = {brief(each, 3)} mL/L of {acid.name} in all; "
        "half of it first, then read pH"
    )
    amount, unit = _shown(w, litres)
    small, litres_of_it = _small(register)
    columns = [
        ("what", ""), ("EC", "mS/cm"), (f"half, for 1 {small}", "mL"), (f"half, for {amount} {unit}", tools.unit),
    ]  # fmt: skip
    rows: list[list[object]] = [
        [
            f"tap water and {acid.name}, no feed",
            round(ec, 2),
            round_to(each / 2 * litres_of_it, 0.01, "down"),
            half,
        ]
    ]
    w.table(columns, rows, "down to a mark", None)


def _small(register: Register) -> tuple[str, float]:
    """The unit of water a recipe is told for beside the batch, and its litres."""
    unit = house_unit("L", register.house.us)
    return shown_unit(unit), convert(1.0, unit, "L")


def _down(dose: float, tools: Bench) -> float | None:
    try:
        wanted = convert(dose, "mL", tools.unit)
        return pours.plan_pours(wanted, tools.tools, "down", tools.limit).total
    except pours.NoTool:
        return None
