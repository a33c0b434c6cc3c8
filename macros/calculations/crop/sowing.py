"""How many plugs to sow for a wanted number of plants, and on which day."""

from __future__ import annotations

import math
from datetime import date, timedelta

from macros.ground.problems import RangeProblem

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MOST_PLUGS = 5000


def plug_chance(germination: float, seeds: int, survival: float) -> float:
    """Chance that a plug carries a usable plant [1]: at least one of its seeds comes up, and it lives.

    germination, survival [1] 0 to 1; seeds [seeds] 1 or more. Raises RangeProblem outside these. Source: elementary
    probability.
    """
    if not 0 <= germination <= 1 or not 0 <= survival <= 1 or seeds < 1:
        raise RangeProblem("germination and survival are shares from 0 to 1, and a plug gets a seed")
    return (1 - (1 - germination) ** seeds) * survival


def chance_of_enough(plugs: int, wanted: int, chance: float) -> float:
    """Chance [1] that at least `wanted` of `plugs` succeed.

    plugs, wanted [plugs], none wanted is certain; chance [1] 0 to 1 of each. Raises RangeProblem for a chance outside
    that. Source: upper tail of the binomial distribution, exact, any statistics textbook.
    """
    if not 0 <= chance <= 1:
        raise RangeProblem("a chance is 0 to 1")
    if wanted <= 0:
        return 1.0
    if chance in (0.0, 1.0):
        return 1.0 if chance == 1.0 and plugs >= wanted else 0.0
    logs = (
        math.lgamma(plugs + 1) - math.lgamma(k + 1) - math.lgamma(plugs - k + 1)
        + k * math.log(chance) + (plugs - k) * math.log1p(-chance)
        for k in range(wanted, plugs + 1)
    )  # fmt: skip
    return min(1.0, math.fsum(math.exp(value) for value in logs))


def plugs_to_sow(wanted: int, chance: float, certainty: float) -> int:
    """The least number of plugs that gives `wanted` plants with the asked certainty [plugs].

    wanted [plants] 0 or more; chance [1] of a plug, 0.3 to 1; certainty [1] above 0, under 1. Raises RangeProblem
    outside these, for under 0.3 sowing more is no answer, and over 5000 plugs. Source: as `chance_of_enough`; the
    bounds are our own.
    """
    if not 0 < certainty < 1:
        raise RangeProblem("a certainty is above 0 and under 1")
    if chance < 0.3:
        raise RangeProblem(
            f"only {chance:.0%} of plugs give a plant; under 30 % the seed is not worth sowing"
        )
    plugs = wanted
    while chance_of_enough(plugs, wanted, chance) < certainty:
        plugs += 1
        if plugs > MOST_PLUGS:
            raise RangeProblem(f"over {MOST_PLUGS} plugs")
    return plugs


def plugs_for_each(most: int, chance: float, certainty: float) -> list[int]:
    """The plugs of `plugs_to_sow` for 1 plant, 2 plants and so on up to `most` [plugs].

    most [plants] 0 or more; chance, certainty [1] as there. Raises RangeProblem as `plugs_to_sow`. Source: as there;
    more plants never take fewer plugs, so that each count goes on from the one before.
    """
    found: list[int] = [plugs_to_sow(1, chance, certainty)] if most >= 1 else []
    for wanted in range(2, most + 1):
        plugs = found[-1] + 1
        while chance_of_enough(plugs, wanted, chance) < certainty:
            plugs += 1
            if plugs > MOST_PLUGS:
                raise RangeProblem(f"over {MOST_PLUGS} plugs")
        found.append(plugs)
    return found


def sowing_day(planting: date, youngest: int, oldest: int, weekday: str) -> tuple[date, int]:
    """The sowing day, and the age on planting day [days]: the weekday whose age is nearest the middle, a tie the
    earlier.

    planting: the day; youngest, oldest [days] 0 or more; weekday: one of `WEEKDAYS`. Raises RangeProblem where the
    ages are out of order or no such weekday falls between them. Source: arithmetic of dates; the choice is our own.
    """
    if not 0 <= youngest <= oldest:
        raise RangeProblem("the youngest age for planting is at most the oldest")
    days = [(planting - timedelta(days=age), age) for age in range(youngest, oldest + 1)]
    fitting = [(day, age) for day, age in days if WEEKDAYS[day.weekday()] == weekday]
    if not fitting:
        raise RangeProblem(f"no {weekday} falls in the window")
    middle = (youngest + oldest) / 2
    return min(fitting, key=lambda found: (abs(found[1] - middle), found[0]))


def ages_on(planting: date, oldest: int, youngest: int, weekday: str) -> list[int]:
    """Ages nearest the window that a weekday would give: just under it and just over it [days].

    planting: the day; oldest, youngest [days] 0 or more; weekday: one of `WEEKDAYS`. Raises nothing. Source:
    arithmetic of dates.
    """
    ages = [
        age for age in range(oldest + 8) if WEEKDAYS[(planting - timedelta(days=age)).weekday()] == weekday
    ]
    under = [age for age in ages if age < youngest]
    over = [age for age in ages if age > oldest]
    return [*under[-1:], *over[:1]]
