"""How often a tray must flood, and how long roots last without: what a plug holds against what a plant drinks."""

from __future__ import annotations

import math

from macros.ground.problems import RangeProblem


def root_water(plug_volume: float, available: float, root_mat: float) -> float:
    """Water a plant can draw on between floods [mL]; volumes [mL], `available` the share of the plug that is water."""
    if plug_volume <= 0 or not 0 < available <= 1 or root_mat < 0:
        raise RangeProblem("a plug has a volume above 0 and holds a share of water above 0, up to 1")
    return plug_volume * available + root_mat


def floods_per_day(water_per_day: float, held: float, allowed_depletion: float) -> float:
    """Floods a day, unrounded: a plant's water over what it may draw between two; volumes [mL]."""
    if held <= 0 or not 0 < allowed_depletion <= 1:
        raise RangeProblem("a plug holds water above 0, of which a share above 0 may be drawn")
    return water_per_day / (held * allowed_depletion)


def hourly_use(water_per_day: float, light_hours: float, dark_fraction: float) -> float:
    """What a plant drinks in an hour of light [mL/h]; `dark_fraction`: the use of a dark hour over that of a light one."""
    if not 0 <= light_hours <= 24 or not 0 <= dark_fraction <= 1:
        raise RangeProblem("light lasts 0 to 24 h a day, and the dark share is 0 to 1")
    hours = light_hours + dark_fraction * (24 - light_hours)
    if hours <= 0 or water_per_day <= 0:
        raise RangeProblem("a plant drinks something in a day")
    return water_per_day / hours


def dry_hours(held: float, dry_limit: float, use: float) -> float:
    """Hours in the light from a flood until the plug has lost `dry_limit` of its water; held [mL], use [mL/h]."""
    if held <= 0 or use <= 0 or not 0 < dry_limit <= 1:
        raise RangeProblem("water held and water used are above 0, the dry limit above 0 and up to 1")
    return held * dry_limit / use


def longest_gap(floods: list[int], light_on: int, light_off: int, dark_fraction: float) -> float:
    """The longest time between two floods, as hours in the light.

    Parameters
    ----------
    floods : start of each flood [minutes after midnight]
    light_on, light_off : [minutes after midnight]; off before on means light over midnight
    dark_fraction : an hour in the dark counts this much
    """
    light, dark = longest_gap_parts(floods, light_on, light_off, dark_fraction)
    return light + dark_fraction * dark


def longest_gap_parts(
    floods: list[int], light_on: int, light_off: int, dark_fraction: float
) -> tuple[float, float]:
    """Of the gap that `longest_gap` finds, the hours in the light and the hours in the dark [h]."""
    if not floods:
        raise RangeProblem("no flood is set")
    times = sorted(floods)
    parts = []
    for first, last in zip(times, [*times[1:], times[0] + 1440], strict=True):
        light = sum(is_light(minute % 1440, light_on, light_off) for minute in range(first, last))
        parts.append((light / 60, (last - first - light) / 60))
    return max(parts, key=lambda part: part[0] + dark_fraction * part[1])


def is_light(minute: int, light_on: int, light_off: int) -> bool:
    """Whether lamps burn at a minute of the day."""
    if light_on < light_off:
        return light_on <= minute < light_off
    return minute >= light_on or minute < light_off


def days_to_refill(fill: float, refill: float, use: float) -> float:
    """Days from the fill mark to the refill mark; volumes [L], use [L/day]."""
    if use <= 0 or refill >= fill:
        raise RangeProblem("water is used, and the refill mark stands under the fill mark")
    return (fill - refill) / use


def minutes_up(minutes: float, step: float) -> float:
    """Up to whole steps of a timer; both [min]."""
    if step <= 0:
        raise RangeProblem("a timer has a step above 0")
    return math.ceil(minutes / step - 1e-9) * step
