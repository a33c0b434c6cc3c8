"""How much acid or base brings the tank's pH into its band, by halves, and where it stops."""

from __future__ import annotations

import math

from macros.amounts.engine.amount import Amount
from macros.amounts.engine.number_format import brief
from macros.amounts.engine.pours import bench, give_poured
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.feed.feeding import last_digit, pen_accuracy
from macros.amounts.water.logbook import responses, usual_response
from macros.calculations import pours
from macros.calculations.feed.acid_dose import MOLAR_MASS, acid_needed, equivalents_per_mole, ph_after_acid
from macros.calculations.feed.base_dose import base_needed
from macros.calculations.feed.carbonate import MG_CACO3_PER_MEQ, Activity, inorganic_carbon
from macros.calculations.feed.feeding import MOLAR_MASS_PHOSPHORUS
from macros.calculations.feed.solution import Solutes
from macros.ground.problems import RangeProblem
from macros.ground.units import convert
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import FeedStage
from macros.house.records.systems import System

TOPIC = "pH"
MODEL = (
    "closed-carbonate model with Davies activities: Plummer and Busenberg 1982 constants; within 2 % of PHREEQC "
    "(Parkhurst and Appelo, USGS Techniques and Methods 6-A43, 2013)"
)
MOST_OF_ALKALINITY = 0.8
"""Without a house log, all acid of a day stays under this share: closed water then stands at about pH 5.7, at 1.0
of it near 4.5 (PHREEQC, start pH 7.6)."""
MOST_STOCK = 2.0
"""[mL/L] Most of any concentrate in one day: our own limit, no source."""
HIGHEST_PH = 9.0
"""Where the table of pH-down ends at the latest: no tap water for feed reads more (drinking water: 9.5 at most, EU 2020/2184)."""
UNDER_THE_BAND = 0.5
"""How far under the band the pH is taken to read for the first pH-up dose [pH units]."""

_ACID_WORDS = {
    "phosphoric": "phosphoric",
    "nitric": "nitric",
    "sulfuric": "sulfuric",
    "sulphuric": "sulfuric",
    "citric": "citric",
}
_BASE_MOLAR_MASS = {"potassium hydroxide": 56.106, "sodium hydroxide": 39.997}


def acid_name(chemical: Chemical) -> str:
    """The model's name of a stock's acid.

    Raises
    ------
    RangeProblem
        the acid is none the model knows.
    """
    for word, name in _ACID_WORDS.items():
        if word in chemical.active.lower():
            return name
    raise RangeProblem(
        f'"{chemical.active}" is no acid that can be computed; phosphoric, nitric, sulfuric and citric acid can'
    )


def fill(register: Register) -> None:
    """Enter the pH amounts of every system."""
    house = register.house
    acids, bases = house.chemicals_with_role("acid"), house.chemicals_with_role("base")
    water = house.water_source
    for system in house.systems:
        stage = house.nutrients.stages.get(system.fill_stage)
        if stage is None:
            continue
        keys = {"system": system.id}
        with register.attempt("ph_band", stage, "ph_target", **keys):
            _ph_band(register, system, stage)
        for acid in acids[:1]:
            of = {**keys, "chemical": acid.id}
            with register.attempt("acid_demand", water, "alkalinity_as_caco3", **of):
                _acid_demand(register, system, stage, acid)
            with register.attempt("acid_normality", acid, "active", **of):
                _acid_normality(register, system, stage, acid)
            with register.attempt("ph_first_dose", stage, "ph_target", **of):
                _ph_first_dose(register, system, stage, acid)
            with register.attempt("ph_log_response", stage, "ph_target", **of):
                _ph_log_response(register, system, stage, acid)
            with register.attempt("ph_next_dose", stage, "ph_target", **of):
                _ph_next_dose(register, system, stage, acid)
        for base in bases[:1]:
            with register.attempt("ph_up_first_dose", base, "active", chemical=base.id, **keys):
                _ph_up_first_dose(register, system, stage, base)


def _ph_band(register: Register, system: System, stage: FeedStage) -> None:
    w = Working(register, "ph_band", "pH band", TOPIC, system=system.id)
    w.raw(system, "fill_stage")
    low, target, high = (w.fact(stage, name) for name in ("ph_low", "ph_target", "ph_high"))
    w.add_line(f"{low:g} to {high:g}, target {target:g}")
    w.band(low, target, high, "1", 0.1, "as the house set it")


def tap_water(w: Working, register: Register) -> tuple[float, float, float, float]:
    """Alkalinity, pH, temperature and calcium of the tap water; what is not given is assumed and said."""
    water = register.house.water_source
    alkalinity = w.fact(water, "alkalinity_as_caco3", "mg/L")
    ph = w.fact(water, "ph")
    temperature = w.fact_or(
        water, "temperature", "degC", 15.0, "tap water at 15 degC; set water_source.temperature"
    )
    assumed = "calcium of the water not known, taken as none (the dose is up to 3 % high; half of it is poured first)"
    calcium = w.fact_or(water, "calcium", "mg/L", 0.0, assumed)
    return alkalinity, ph, temperature, calcium


def _acid_demand(register: Register, system: System, stage: FeedStage, acid: Chemical) -> None:
    w = Working(register, "acid_demand", "Acid the water takes", TOPIC, system=system.id, chemical=acid.id)
    w.raw(system, "fill_stage")
    w.raw(acid, "active")
    alkalinity, ph, temperature, calcium = tap_water(w, register)
    target = w.fact(stage, "ph_target")
    name = acid_name(acid)
    millimoles = acid_needed(alkalinity, ph, target, temperature, name, calcium)
    each = equivalents_per_mole(name, target, temperature)
    w.source(MODEL)
    w.add_line(
        f"water of {brief(alkalinity)} mg/L as CaCO3, pH {ph:g}, {brief(temperature)} degC, calcium {brief(calcium)} "
        f"mg/L, to pH {target:g}: {brief(millimoles)} mmol/L of {name} acid x {brief(each)} eq/mol "
        f"= {brief(millimoles * each)} meq/L"
    )
    w.add_line(
        "pencil check: alkalinity / 50 x (1 - a(target)/a(start)), a(pH) = 1/(1 + 10^(6.35 - pH)), gives "
        f"{brief(_pencil(alkalinity, ph, target), 3)} meq/L"
    )
    w.number(millimoles * each, "meq/L", "nearest", "not rounded in calculations", step=0.01)


def _pencil(alkalinity: float, ph: float, target: float) -> float:
    """The hand form of the acid demand: no activities, 25 degC [meq/L]."""
    bicarbonate = [1 / (1 + 10 ** (6.35 - value)) for value in (target, ph)]
    return alkalinity / 50 * (1 - bicarbonate[0] / bicarbonate[1])


def molarity(w: Working, chemical: Chemical, molar_mass: float) -> float:
    """[mol/L] of a stock. A molar mass in the house's file must agree with the substance's own."""
    grams: float = w.amount("stock_strength", chemical=chemical.id)
    return grams / molar_mass


def _acid_normality(register: Register, system: System, stage: FeedStage, acid: Chemical) -> None:
    w = Working(
        register, "acid_normality", "Strength of the pH-down", TOPIC, system=system.id, chemical=acid.id
    )
    w.raw(system, "fill_stage")
    name = acid_name(acid)
    w.raw(acid, "active")
    molar = molarity(w, acid, MOLAR_MASS[name])
    target = w.fact(stage, "ph_target")
    temperature = tap_water(w, register)[2]
    each = equivalents_per_mole(name, target, temperature)
    w.source(MODEL)
    w.add_line(
        f"{brief(molar * MOLAR_MASS[name])} g/L / {brief(MOLAR_MASS[name])} g/mol = {brief(molar)} mol/L; "
        f"at pH {target:g}: {brief(molar)} mol/L x {brief(each)} eq/mol = {brief(molar * each)} eq/L"
    )
    w.number(molar * each, "eq/L", "nearest", "not rounded in calculations", step=0.01)


def _ph_first_dose(register: Register, system: System, stage: FeedStage, acid: Chemical) -> Amount | None:
    w = Working(register, "ph_first_dose", "First pH-down dose", TOPIC, system=system.id, chemical=acid.id)
    w.raw(system, "fill_stage")
    volume = w.amount("res_fill", system=system.id)
    demand = w.amount("acid_demand", system=system.id, chemical=acid.id)
    normality = w.amount("acid_normality", system=system.id, chemical=acid.id)
    low = w.fact(stage, "ph_low")
    alkalinity, ph, temperature, calcium = tap_water(w, register)
    full = volume * demand / normality
    share = demand / (alkalinity / MG_CACO3_PER_MEQ)
    if share > MOST_OF_ALKALINITY:
        raise RangeProblem(
            f"to reach pH {stage.ph_target:g} the acid of one day would use {share:.0%} of the water's alkalinity. Without "
            f"a house log at most {MOST_OF_ALKALINITY:.0%} may be used: beyond it pH falls fast. Set a higher target or "
            "blend in low-mineral water"
        )
    if full / volume > MOST_STOCK:
        raise RangeProblem(
            f"the full dose is {brief(full / volume, 3)} mL/L of {acid.name}; at most {MOST_STOCK:g} mL/L of any "
            "concentrate goes in on one day. Use a stronger stock or blend in low-mineral water"
        )
    reached = ph_after_acid(
        alkalinity, ph, demand / 2 / _each(w, stage, acid), temperature, acid_name(acid), calcium
    )
    if reached < low:
        raise RangeProblem(
            f"the first dose alone would take the water to pH {reached:.1f}, under the low limit {low:g}"
        )
    w.add_line(
        f"{brief(volume)} L{w.litres_again()} x {brief(demand)} meq/L / {brief(normality)} eq/L = {brief(full)} mL in all"
    )
    w.add_line(
        f"half of it first: {brief(full)} mL / 2 = {brief(full / 2)} mL; plain water then stands at about pH {reached:.1f}"
    )
    w.add_line("the feed is acid too, and carbon dioxide leaves slowly: read after 15 min, then decide")
    w.source("half first: common practice, no source")
    tools = bench(register, w, "acids", full / 2)
    return give_poured(w, full / 2, tools, "down", "a first dose is rounded down", acid.place("strength"))


def _each(w: Working, stage: FeedStage, acid: Chemical) -> float:
    return equivalents_per_mole(acid_name(acid), stage.ph_target, tap_water(w, w.register)[2])


def _by_the_sum(register: Register, system: System, stage: FeedStage, acid: Chemical) -> float | None:
    """What the alkalinity of the water asks for, for one pH unit [mL/L]; None where it cannot be said."""
    aside = Working(register, "ph_log_response", "", TOPIC, system=system.id, chemical=acid.id)
    fall = aside.fact(register.house.water_source, "ph") - aside.fact(stage, "ph_target")
    keys = {"system": system.id, "chemical": acid.id}
    if fall <= 0 or not register.of_id("acid_demand", **keys) or not register.of_id("acid_normality", **keys):
        return None
    expected: float = aside.amount("acid_demand", **keys) / aside.amount("acid_normality", **keys) / fall
    return expected


def _ph_log_response(register: Register, system: System, stage: FeedStage, acid: Chemical) -> None:
    w = Working(
        register, "ph_log_response", "pH-down for one pH unit", TOPIC, system=system.id, chemical=acid.id
    )
    w.raw(system, "fill_stage")
    expected = _by_the_sum(register, system, stage, acid)
    readings = responses(w, system, acid.id, expected)
    if readings:
        slope = usual_response(readings)
        told = ", ".join(brief(reading.slope, 3) for reading in readings)
        w.add_line(
            f"the middle one of the last {len(readings)} readings of the log, each acid / litres / pH units: {told}"
        )
        w.add_line(f"{brief(slope)} mL/L for one pH unit")
        w.number(slope, "mL/L", "down", "the smaller response is the safe one", step=0.01)
        return
    demand = w.amount("acid_demand", system=system.id, chemical=acid.id)
    normality = w.amount("acid_normality", system=system.id, chemical=acid.id)
    ph, target = w.fact(register.house.water_source, "ph"), w.fact(stage, "ph_target")
    if expected is None:
        raise Withheld("the tap water is at or under the target pH already")
    slope = expected
    w.add_line(
        f"{brief(demand)} meq/L / {brief(normality)} eq/L / ({ph:g} - {target:g}){w.litres_again()} = {brief(slope)} mL/L for one pH unit"
    )
    w.assume("no house log of three readings yet: the response is taken from the water, not from the tank")
    w.number(slope, "mL/L", "down", "the smaller response is the safe one", step=0.01)


def _readings_over(high: float, digit: float, most: float) -> list[float]:
    """pH from the first the pen shows over the band to the one whose dose is the first dose, none left out up to pH 0.1."""
    step = max(digit, 0.1)
    rows = [round(high + digit, 2)]
    while rows[-1] < min(most, HIGHEST_PH) - 1e-9:
        rows.append(round(math.floor((rows[-1] + 1e-9) / step) * step + step, 2))
    return rows


def _ph_next_dose(register: Register, system: System, stage: FeedStage, acid: Chemical) -> None:
    w = Working(register, "ph_next_dose", "pH-down by the pH read", TOPIC, system=system.id, chemical=acid.id)
    w.raw(system, "fill_stage")
    volume = w.amount("res_fill", system=system.id)
    slope = w.amount("ph_log_response", system=system.id, chemical=acid.id)
    first = w.whole("ph_first_dose", system=system.id, chemical=acid.id)
    target, high = w.fact(stage, "ph_target"), w.fact(stage, "ph_high")
    reads = _readings_over(high, last_digit(w, "ph"), target + 2 * first.exact / (volume * slope))
    doses = [min(volume * slope * (read - target) / 2, first.exact) for read in reads]
    tools = bench(register, w, "acids", *doses)
    rows: list[list[float | None]] = []
    for read, dose in zip(reads, doses, strict=True):
        try:
            wanted = convert(dose, "mL", tools.unit)
            poured: float | None = pours.plan_pours(wanted, tools.tools, "down", tools.limit).total
        except pours.NoTool:
            poured = None
        rows.append([read, poured])
    w.add_line(
        f"half x {brief(volume)} L x {brief(slope)} mL/L x (pH read - {target:g}); never more than the first dose: "
        "the last row is for all over it; between two rows the upper one"
    )
    off = pen_accuracy(w, "ph")
    if off is not None:
        low = w.fact(stage, "ph_low")
        w.add_line(
            f"a pen that reads {off:g} too high makes a dose {brief(volume * slope * off / 2)} mL too large: the tank then "
            f"stands up to {off:g} under what the pen shows"
        )
        if target - off < low:
            what = f"the pH pen reads up to {off:g} off: that alone carries a tank at its target {target:g} under ph_low {low:g}"
            allowed = "The target stands further above ph_low than the pen may be off"
            remedy = "Use a better pen, or set a higher target"
            register.report_problem(stage, "ph_target", what, allowed, remedy)
    w.add_line("two doses in 24 h, then stop: check the pen and ask")
    w.table([("pH read", ""), ("pH-down", tools.unit)], rows, "down to a mark", None)


def _ph_up_first_dose(register: Register, system: System, stage: FeedStage, base: Chemical) -> Amount | None:
    """A quarter of what the model run backwards asks from half a unit under the band to the target."""
    w = Working(register, "ph_up_first_dose", "First pH-up dose", TOPIC, system=system.id, chemical=base.id)
    w.raw(system, "fill_stage")
    active = str(w.raw(base, "active")).lower()
    molar_mass = next((mass for word, mass in _BASE_MOLAR_MASS.items() if word in active), None)
    if molar_mass is None:
        raise RangeProblem(
            f'"{base.active}" is no base that can be computed; potassium and sodium hydroxide can'
        )
    volume = w.amount("res_fill", system=system.id)
    low, target = w.fact(stage, "ph_low"), w.fact(stage, "ph_target")
    alkalinity, ph, temperature, _ = tap_water(w, register)
    alk = alkalinity / MG_CACO3_PER_MEQ / 1000
    carbon = inorganic_carbon(alk, ph, Activity(temperature, alk))
    phosphorus = _feed_phosphorus(w, register)
    solutes = Solutes(carbon=carbon, phosphate=phosphorus / MOLAR_MASS_PHOSPHORUS / 1000)
    needed = base_needed(low - UNDER_THE_BAND, target, solutes, temperature, 0.01)
    molar = molarity(w, base, molar_mass)
    full = volume * needed / molar
    w.source(MODEL)
    w.add_line(
        f"from pH {low - UNDER_THE_BAND:g} to {target:g} the tank takes {brief(needed)} mmol/L of base; "
        f"{brief(volume)} L{w.litres_again()} x {brief(needed)} / {brief(molar)} mol/L = {brief(full)} mL in all"
    )
    w.add_line(
        f"a quarter of it first: {brief(full)} mL / 4 = {brief(full / 4)} mL, for little holds pH in fresh feed; two doses in 24 h, then stop"
    )
    w.source("a quarter first: common practice, no source")
    tools = bench(register, w, "bases", full / 4)
    return give_poured(w, full / 4, tools, "down", "a first dose is rounded down", base.place("strength"))


def _feed_phosphorus(w: Working, register: Register) -> float:
    """[mg/L] phosphorus of the feed; it buffers, so the smaller figure is the safe one."""
    nutrients = register.house.nutrients
    assumed = "phosphorus of the feed not given, taken as none: the smaller dose"
    return w.fact_or(nutrients, "total_phosphorus_at_leafy_rate", "mg/L", 0.0, assumed)
