"""Rules on feed parts and the bands of each stage."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem, Severity
from macros.house.records.feeding import FeedStage, NutrientPart
from macros.house.records.house import House
from macros.house.rules.report import limit, problem_at

MOST_DRY = 5.0
"""[g/L] A salt adds about 1 mS/cm a g/L, and no band is over 6 mS/cm: from memory."""
MASSES = ("kg", "g", "lb", "oz_wt")


def check_feed(house: House) -> Iterator[Problem]:
    """Every rule on feed."""
    yield from _parts(house)
    yield from _dry_parts(house)
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


def _dry_parts(house: House) -> Iterator[Problem]:
    """A part is dry or liquid in every stage alike, has the EC that goes with it, and a scale where it is weighed."""
    for part in house.nutrients.parts:
        rates = [one.rates[part.id] for one in house.nutrients.stages.values() if part.id in one.rates]
        dry = [rate for rate in rates if rate.unit.startswith("g/")]
        if dry and len(dry) < len(rates):
            liquid = next(rate for rate in rates if rate not in dry)
            what = f'the rates of {part.id} are "{dry[0].written}" and "{liquid.written}"'
            allowed = "A part is weighed in every stage, or poured in every stage"
            yield problem_at(
                part, "id", what, allowed, "Write the dry one and the stock made of it as two parts"
            )
        elif rates:
            yield from _as_measured(house, part, bool(dry))


def _as_measured(house: House, part: NutrientPart, dry: bool) -> Iterator[Problem]:
    own, other = ("ec_per_g_per_l", "ec_per_ml_per_l")[:: 1 if dry else -1]
    if getattr(part, other) is not None:
        severity: Severity = "error"
        kind, each = ("dry feed, weighed", "1 g") if dry else ("a liquid feed", "1 mL")
        what = f"{part.id} is {kind} by its rate, and {other} is that of the other kind"
        remedy = f"Stir {each} into 1 L of your water and write the EC it adds as {own}"
        if getattr(part, own) is not None:
            remedy, severity = f"Take {other} away", "warning"
        yield problem_at(part, other, what, f"{own} goes with it", remedy, severity=severity)
    if not dry:
        return
    if not house.scales:
        what = f"{part.name} is dry feed, and the house has no scale"
        allowed = "A powder is weighed in grams, never measured in mL"
        remedy = 'Write one under scales, with its capacity and its mark, as "0.1 g"'
        yield problem_at(part, "id", what, allowed, remedy, "E24")
    if part.container is not None and part.container.unit not in MASSES:
        what = f'"{part.container.written}" is a volume, and {part.name} is dry feed'
        yield problem_at(
            part, "container", what, "A bag is told by its weight", 'Write it as "1 kg" or "2 lb"'
        )


def _rates(house: House, name: str, stage: FeedStage) -> Iterator[Problem]:
    ids = [part.id for part in house.nutrients.parts]
    for part, rate in stage.rates.items():
        field = f"rates.{part}"
        if ids and part not in ids:
            what = f"{part} is no part of the feed"
            yield problem_at(stage, field, what, f"The parts are {', '.join(ids)}", "Mend the name")
        if stage.weighs(part):
            if not 0 < rate.to("g/L") <= MOST_DRY:
                yield problem_at(
                    stage,
                    field,
                    f'"{rate.written}" of {name} is no rate of a dry feed',
                    f"Above 0 to {limit(MOST_DRY, 'g/L', rate, up=False)}",
                    "Copy it from the label",
                )
        elif not 0 < rate.to("mL/L") <= 20:
            allowed = f"Above 0 to {limit(20, 'mL/L', rate, up=False)}"
            remedy = "Copy it from the label"
            yield problem_at(
                stage, field, f'"{rate.written}" of {name} is no rate of a liquid feed', allowed, remedy
            )
