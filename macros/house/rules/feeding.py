"""Rules on feed parts and the bands of each stage."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.house.records.feeding import FeedStage
from macros.house.records.house import House
from macros.house.rules.report import limit, problem_at


def check_feed(house: House) -> Iterator[Problem]:
    """Every rule on feed."""
    yield from _parts(house)
    for name, stage in house.nutrients.stages.items():
        yield from _bands(name, stage)
        yield from _rates(house, name, stage)


def _parts(house: House) -> Iterator[Problem]:
    nutrients = house.nutrients
    ids, order = [part.id for part in nutrients.parts], nutrients.mixing_order
    for name in order:
        if name not in ids:
            what, known = f"{name} stands in mixing_order but is no part", f"The parts are {', '.join(ids)}"
            yield problem_at(nutrients, "mixing_order", what, known, "Mend the order")
    for name in ids:
        if name not in order:
            what, allowed = f"the part {name} has no place in mixing_order", "Every part has one"
            yield problem_at(nutrients, "mixing_order", what, allowed, "Put it where it is mixed in")
    for name in dict.fromkeys(order):
        if order.count(name) > 1:
            what, allowed = f"{name} stands in mixing_order more than once", "Each part is mixed in once"
            yield problem_at(nutrients, "mixing_order", what, allowed, "Keep one of the two", "E32")


def _bands(name: str, stage: FeedStage) -> Iterator[Problem]:
    if not 4.0 <= stage.ph_low < stage.ph_target < stage.ph_high <= 9.0:
        what = (
            f"ph_low {stage.ph_low:g}, ph_target {stage.ph_target:g}, ph_high {stage.ph_high:g} "
            f"of {name} are out of order or range"
        )
        yield problem_at(stage, "ph_target", what, "low < target < high, between 4 and 9", "Mend the band")
    low, target, high = (getattr(stage, f"ec_{end}").to("mS/cm") for end in ("low", "target", "high"))
    if not 0 < low < target < high <= 6:
        what = (
            f"ec_low {stage.ec_low.written}, ec_target {stage.ec_target.written}, ec_high "
            f"{stage.ec_high.written} of {name} are out of order or range"
        )
        yield problem_at(stage, "ec_target", what, "low < target < high, up to 6 mS/cm", "Mend the band")


def _rates(house: House, name: str, stage: FeedStage) -> Iterator[Problem]:
    ids = [part.id for part in house.nutrients.parts]
    for part, rate in stage.rates.items():
        field = f"rates.{part}"
        if ids and part not in ids:
            what = f"{part} is no part of the feed"
            yield problem_at(stage, field, what, f"The parts are {', '.join(ids)}", "Mend the name")
        if not 0 < rate.to("mL/L") <= 20:
            allowed = f"Above 0 to {limit(20, 'mL/L', rate, up=False)}"
            remedy = "Copy it from the label"
            yield problem_at(
                stage, field, f'"{rate.written}" of {name} is no rate of a liquid feed', allowed, remedy
            )
