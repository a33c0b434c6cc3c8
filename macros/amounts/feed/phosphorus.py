"""Phosphorus of a tank: what pH-down brings (W07), and what feed parts and pH-down bring together."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.feed.acidity import molarity
from macros.amounts.feed.parts import rate_of
from macros.calculations.feed.acid_dose import MOLAR_MASS
from macros.calculations.feed.feeding import MOLAR_MASS_PHOSPHORUS, phosphorus_added
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import FeedStage
from macros.house.records.systems import System

TOPIC = "pH"
LABEL_STAGE = "leafy"
"""The stage the house gives its phosphorus for."""
MOST_PHOSPHORUS = 25.0
"""[mg/L] Of pH-down alone: above it the sheet warns. Our own limit; extension advice caps phosphoric acid for the same reason."""
MOST_IN_ALL = 80.0
"""[mg/L] Of feed and pH-down together: our own limit. Common recipes hold 30 to 60 (Hoagland 31, tomato in fruit 62: from memory)."""


def fill(register: Register) -> None:
    """Enter the phosphorus of every tank."""
    house = register.house
    acids = house.chemicals_with_role("acid")[:1]
    for system in house.systems:
        for acid in acids:
            if "phosphoric" in acid.active.lower():
                with register.attempt("acid_phosphorus", acid, "active", system=system.id, chemical=acid.id):
                    _acid_phosphorus(register, system, acid)
        stage = house.nutrients.stages.get(system.fill_stage)
        if stage is not None:
            with register.attempt("phosphorus_in_all", stage, "rates", system=system.id):
                _in_all(register, system, stage)


def _acid_phosphorus(register: Register, system: System, acid: Chemical) -> None:
    w = Working(
        register, "acid_phosphorus", "Phosphorus from the acid", TOPIC, system=system.id, chemical=acid.id
    )
    volume = w.amount("res_fill", system=system.id)
    first = w.whole("ph_first_dose", system=system.id, chemical=acid.id)
    molar = molarity(w, acid, MOLAR_MASS["phosphoric"])
    full = 2 * phosphorus_added(first.exact / volume * molar)
    w.add_line(
        f"2 x {brief(first.exact)} mL x {brief(molar)} mol/L x {MOLAR_MASS_PHOSPHORUS} g/mol / {brief(volume)} L "
        f"= {brief(full)} mg/L at the full dose, half of it after the first"
    )
    if full > MOST_PHOSPHORUS:
        w.assume(
            f"W07: the full dose adds over {MOST_PHOSPHORUS:g} mg/L phosphorus; the first half stays within it"
        )
        what = f"the full pH-down dose adds {full:.0f} mg/L phosphorus to tank {system.id}"
        allowed = f"{MOST_PHOSPHORUS:g} mg/L at full dose (our own limit; extension advice caps phosphoric acid for the same reason)"
        remedy = "Blend in low-mineral water, or use another acid"
        register.report_problem(acid, "active", what, allowed, remedy, "W07", "warning")
    w.number(full, "mg/L", "up", "what is added is rounded up", step=1.0)


def _of_feed(w: Working, stage: FeedStage) -> float:
    """[mg/L] As the parts with phosphate are dosed beside the stage the label is for; of several the one raised most."""
    nutrients = w.register.house.nutrients
    label = nutrients.stages.get(LABEL_STAGE)
    given = w.fact(nutrients, "total_phosphorus_at_leafy_rate", "mg/L")
    if stage is label:
        w.add_line(f"feed: {brief(given)} mg/L at the {LABEL_STAGE} rate")
        return given
    if label is None:
        raise Withheld(f"no feed stage is called {LABEL_STAGE}")
    shares = [
        rate_of(w, stage, part) / rate_of(w, label, part)
        for part in nutrients.parts
        if "phosphate" in part.contains and part.id in stage.rates and part.id in label.rates
    ]
    if not shares:
        raise Withheld(f"no part that contains phosphate has a rate in this stage and in {LABEL_STAGE}")
    feed = given * max(shares)
    w.add_line(
        f"feed: {brief(given)} mg/L at the {LABEL_STAGE} rate x {brief(max(shares))}, the part with phosphate beside its "
        f"{LABEL_STAGE} rate = {brief(feed)} mg/L"
    )
    return feed


def _in_all(register: Register, system: System, stage: FeedStage) -> None:
    w = Working(register, "phosphorus_in_all", "Phosphorus of feed and pH-down", TOPIC, system=system.id)
    w.raw(system, "fill_stage")
    feed = _of_feed(w, stage)
    acid = sum(
        float(w.amount(found.id, **dict(found.of)))
        for found in register.of_id("acid_phosphorus", system=system.id)
    )
    total = feed + acid
    w.add_line(f"{brief(feed)} + pH-down, full dose, {brief(acid)} = {brief(total)} mg/L")
    if total > MOST_IN_ALL:
        what = f"feed and pH-down bring {total:.0f} mg/L phosphorus to tank {system.id}, {feed:.0f} of it the feed"
        allowed = f"{MOST_IN_ALL:g} mg/L together (our own limit): more locks up iron and zinc"
        remedy = "Lower the rate of the part with phosphate, or use another acid"
        register.report_problem(stage, "rates", what, allowed, remedy, "W07", "warning")
    w.number(total, "mg/L", "up", "what is added is rounded up", step=1.0)
