"""Rules on tap water, feed parts and the bands of each stage."""

from __future__ import annotations

from macros.ground.problems import Problem
from macros.house.records.feeding import FeedStage
from macros.house.records.house import House
from macros.house.records.room import WaterSource
from macros.house.rules.report import told


def check_feed(house: House) -> list[Problem]:
    """Every rule on water and feed."""
    problems = _water(house.water_source)
    problems += _parts(house)
    for name, stage in house.nutrients.stages.items():
        problems += _bands(name, stage)
        problems += _rates(house, name, stage)
    return problems


def _water(water: WaterSource) -> list[Problem]:
    problems = []
    alkalinity = water.alkalinity_as_caco3.to("mg/L")
    if not 0 < alkalinity <= 500:
        problems.append(
            told(
                water,
                "alkalinity_as_caco3",
                f'"{water.alkalinity_as_caco3.written}" is no alkalinity of tap water',
                "Above 0 to 500 mg/L as CaCO3",
                "Ask the laboratory, or use a drop kit for alkalinity",
            )
        )
    if not 5.0 <= water.ph <= 9.5:
        problems.append(
            told(water, "ph", f"pH {water.ph:g} is no pH of tap water", "5.0 to 9.5", "Read it again")
        )
    if not 0 <= water.ec.to("mS/cm") <= 3:
        problems.append(
            told(water, "ec", f'"{water.ec.written}" is no EC of tap water', "0 to 3 mS/cm", "Read it again")
        )
    if water.temperature is not None and not 1 <= water.temperature.to("degC") <= 40:
        hint = "; did you mean degC?" if water.temperature.unit == "degF" else ""
        problems.append(
            told(
                water,
                "temperature",
                f'"{water.temperature.written}" is no temperature of tap water{hint}',
                "1 to 40 degC (34 to 104 degF)",
                "Read the thermometer again",
                "E28",
            )
        )
    if water.flow_at_tap is not None and not 0.2 <= water.flow_at_tap.to("L/min") <= 200:
        problems.append(
            told(
                water,
                "flow_at_tap",
                f'"{water.flow_at_tap.written}" is no flow of a tap',
                "0.2 to 200 L/min",
                "Fill a bucket against a watch",
            )
        )
    return problems


def _parts(house: House) -> list[Problem]:
    nutrients = house.nutrients
    ids = [part.id for part in nutrients.parts]
    problems = [
        told(
            nutrients,
            "mixing_order",
            f"{name} stands in mixing_order but is no part",
            f"The parts are {', '.join(ids)}",
            "Mend the order",
        )
        for name in nutrients.mixing_order
        if name not in ids
    ]
    problems += [
        told(
            nutrients,
            "mixing_order",
            f"the part {name} has no place in mixing_order",
            "Every part has one",
            "Put it where it is mixed in",
        )
        for name in ids
        if name not in nutrients.mixing_order
    ]
    problems += [
        told(
            nutrients,
            "mixing_order",
            f"{name} stands in mixing_order more than once",
            "Each part is mixed in once",
            "Keep one of the two",
            "E32",
        )
        for name in dict.fromkeys(nutrients.mixing_order)
        if nutrients.mixing_order.count(name) > 1
    ]
    return problems


def _bands(name: str, stage: FeedStage) -> list[Problem]:
    problems = []
    if not 4.0 <= stage.ph_low < stage.ph_target < stage.ph_high <= 9.0:
        problems.append(
            told(
                stage,
                "ph_target",
                f"ph_low {stage.ph_low:g}, ph_target {stage.ph_target:g}, ph_high {stage.ph_high:g} "
                f"of {name} are out of order or range",
                "low < target < high, between 4 and 9",
                "Mend the band",
            )
        )
    low, target, high = (getattr(stage, f"ec_{end}").to("mS/cm") for end in ("low", "target", "high"))
    if not 0 < low < target < high <= 6:
        problems.append(
            told(
                stage,
                "ec_target",
                f"ec_low {stage.ec_low.written}, ec_target {stage.ec_target.written}, ec_high "
                f"{stage.ec_high.written} of {name} are out of order or range",
                "low < target < high, up to 6 mS/cm",
                "Mend the band",
            )
        )
    return problems


def _rates(house: House, name: str, stage: FeedStage) -> list[Problem]:
    ids = [part.id for part in house.nutrients.parts]
    problems = []
    for part, rate in stage.rates.items():
        field = f"rates.{part}"
        if ids and part not in ids:
            problems.append(
                told(
                    stage,
                    field,
                    f"{part} is no part of the feed",
                    f"The parts are {', '.join(ids)}",
                    "Mend the name",
                )
            )
        if not 0 < rate.to("mL/L") <= 20:
            problems.append(
                told(
                    stage,
                    field,
                    f'"{rate.written}" of {name} is no rate of a liquid feed',
                    "Above 0 to 20 mL/L",
                    "Copy it from the label",
                )
            )
    return problems
