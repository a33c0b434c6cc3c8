"""How often a tray must flood, and how long roots last without: what a plug holds against what a plant drinks."""

from __future__ import annotations

import math

from macros.ground.problems import RangeProblem


def root_water(plug_volume: float, available: float, root_mat: float) -> float:
    """Water a plant can draw on between floods [mL].

    plug_volume [mL] above 0; available [1] share of the plug that is water, above 0, up to 1; root_mat [mL] 0 or
    more. Raises RangeProblem outside these. Source: arithmetic.
    """
    if plug_volume <= 0 or not 0 < available <= 1 or root_mat < 0:
        raise RangeProblem("a plug has a volume above 0 and holds a share of water above 0, up to 1")
    return plug_volume * available + root_mat


def floods_per_day(water_per_day: float, held: float, allowed_depletion: float) -> float:
    """Floods a day, unrounded [1/day]: a plant's water over what it may draw between two.

    water_per_day [mL/day] 0 or more, not judged; held [mL] above 0; allowed_depletion [1] above 0, up to 1. Raises
    RangeProblem outside these. Source: arithmetic, checked by hand.
    """
    if held <= 0 or not 0 < allowed_depletion <= 1:
        raise RangeProblem("a plug holds water above 0, of which a share above 0 may be drawn")
    return water_per_day / (held * allowed_depletion)


def hourly_use(water_per_day: float, light_hours: float, dark_fraction: float) -> float:
    """What a plant drinks in an hour of light [mL/h].

    water_per_day [mL/day] above 0; light_hours [h/day] 0 to 24; dark_fraction [1] the use of a dark hour over that of
    a light one, 0 to 1. Raises RangeProblem outside these, and for no light with no use in the dark. Source:
    arithmetic; the split is our own, no source.
    """
    if not 0 <= light_hours <= 24 or not 0 <= dark_fraction <= 1:
        raise RangeProblem("light lasts 0 to 24 h a day, and the dark share is 0 to 1")
    hours = light_hours + dark_fraction * (24 - light_hours)
    if hours <= 0 or water_per_day <= 0:
        raise RangeProblem("a plant drinks something in a day")
    return water_per_day / hours


def dry_hours(held: float, dry_limit: float, use: float) -> float:
    """Hours in the light from a flood until the plug has lost a share of its water [h].

    held [mL] above 0; dry_limit [1] above 0, up to 1; use [mL/h] above 0. Raises RangeProblem outside these. Source:
    water held times usable share over loss; stone wool at container capacity, Acta Agrophysica 10(1) (2007) 113-120.
    """
    if held <= 0 or use <= 0 or not 0 < dry_limit <= 1:
        raise RangeProblem("water held and water used are above 0, the dry limit above 0 and up to 1")
    return held * dry_limit / use


def longest_gap(floods: list[int], light_on: int, light_off: int, dark_fraction: float) -> float:
    """The longest time between two floods, as hours in the light [h].

    floods [minutes after midnight] start of each, one at least; light_on, light_off [minutes after midnight], off
    before on means light over midnight; dark_fraction [1] an hour in the dark counts this much. Raises RangeProblem
    for no flood. Source: arithmetic of the clock; arithmetic, checked by hand.
    """
    light, dark = longest_gap_parts(floods, light_on, light_off, dark_fraction)
    return light + dark_fraction * dark


def longest_gap_parts(
    floods: list[int], light_on: int, light_off: int, dark_fraction: float
) -> tuple[float, float]:
    """Of the gap that `longest_gap` finds, the hours in the light and the hours in the dark [h].

    floods, light_on, light_off [minutes after midnight] and dark_fraction [1] as there. Raises RangeProblem for no
    flood. Source: arithmetic of the clock.
    """
    if not floods:
        raise RangeProblem("no flood is set")
    times = sorted(floods)
    parts = []
    for first, last in zip(times, [*times[1:], times[0] + 1440], strict=True):
        light = sum(is_light(minute % 1440, light_on, light_off) for minute in range(first, last))
        parts.append((light / 60, (last - first - light) / 60))
    return max(parts, key=lambda part: part[0] + dark_fraction * part[1])


def is_light(minute: int, light_on: int, light_off: int) -> bool:
    """Whether lamps burn at a minute of the day.

    minute, light_on, light_off [minutes after midnight] 0 to 1439, not judged. Raises nothing. Source: arithmetic of
    the clock.
    """
    if light_on < light_off:
        return light_on <= minute < light_off
    return minute >= light_on or minute < light_off


def days_to_refill(fill: float, refill: float, use: float) -> float:
    """Time from the fill mark to the refill mark [days].

    fill, refill [L], the second under the first; use [L/day] above 0. Raises RangeProblem outside these. Source:
    arithmetic.
    """
    if use <= 0 or refill >= fill:
        raise RangeProblem("water is used, and the refill mark stands under the fill mark")
    return (fill - refill) / use


def minutes_up(minutes: float, step: float) -> float:
    """Up to whole steps of a timer [min].

    minutes [min] 0 or more, not judged; step [min] above 0. Raises RangeProblem for no step. Source: arithmetic.
    """
    if step <= 0:
        raise RangeProblem("a timer has a step above 0")
    return math.ceil(minutes / step - 1e-9) * step
