"""How many plugs to sow for a wanted number of plants, and on which day."""

from __future__ import annotations

import math
from datetime import date, timedelta
from functools import lru_cache

from macros.ground.problems import RangeProblem

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MOST_PLUGS = 5000
INTERVALS = 160
"""Steps of the integral over the share that comes up: four digits of the chance hold for tests of 1 to 1000 seeds."""


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
    none, one_more = plugs * math.log1p(-chance), math.log(chance) - math.log1p(-chance)
    ways = _log_ways(plugs)[wanted:]
    return min(1.0, math.fsum([math.exp(way + none + k * one_more) for k, way in enumerate(ways, wanted)]))


@lru_cache(maxsize=512)
def _log_ways(plugs: int) -> tuple[float, ...]:
    """Logarithm of the ways to pick 0, 1 and so on of the plugs."""
    every = math.lgamma(plugs + 1)
    return tuple(every - math.lgamma(k + 1) - math.lgamma(plugs - k + 1) for k in range(plugs + 1))


@lru_cache(maxsize=4096)
def chance_after_test(
    plugs: int, wanted: int, came_up: int, tested: int, seeds: int = 1, survival: float = 1.0
) -> float:
    """Chance [1] that at least `wanted` of `plugs` give a plant, where all that is known of the seed is a test.

    plugs, wanted [plugs] 0 or more; came_up, tested [seeds] 0 to tested, 1 or more; seeds [seeds] in a plug; survival [1]
    0 to 1. Before the test every share is as likely as every other, after it the share lies as Beta(came_up + 1,
    tested - came_up + 1): with one seed a plug and none lost this is the beta-binomial distribution. What lies over 12
    standard deviations off counts as not enough. Raises RangeProblem outside these. Source: Bayes 1763 and any textbook
    of Bayesian statistics; integrated by Simpson's rule.
    """
    shares, third = _likely_shares(came_up, tested)
    found = (
        weight * chance_of_enough(plugs, wanted, plug_chance(share, seeds, survival))
        for share, weight in shares
    )
    return min(1.0, math.fsum(found) * third)


@lru_cache(maxsize=64)
def _likely_shares(came_up: int, tested: int) -> tuple[tuple[tuple[float, float], ...], float]:
    """Shares a test leaves likely, each with its weight in Simpson's rule, and a third of their distance."""
    a, b = _beta_after(came_up, tested)
    middle, width = a / (a + b), 12 * math.sqrt(a * b / (a + b + 1)) / (a + b)
    low, high = max(0.0, middle - width), min(1.0, middle + width)
    norm = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
    found = []
    for step in range(INTERVALS + 1):
        share = low + (high - low) * step / INTERVALS
        weight = 1 if step in (0, INTERVALS) else 4 if step % 2 else 2
        density = math.exp(norm + _log_power(share, a - 1) + _log_power(1 - share, b - 1))
        found.append((share, weight * density))
    return tuple(found), (high - low) / INTERVALS / 3


def share_after_test(came_up: int, tested: int) -> float:
    """Share [1] of seeds that is expected to come up after a test, any share likely before it.

    came_up, tested [seeds] 0 to tested, 1 or more. Raises RangeProblem outside. Source: Laplace's rule of succession.
    """
    a, b = _beta_after(came_up, tested)
    return a / (a + b)


def plugs_to_sow(
    wanted: int, certainty: float, came_up: int, tested: int, seeds: int = 1, survival: float = 1.0
) -> int:
    """The least number of plugs that gives `wanted` plants with the asked certainty after a test of the seed [plugs].

    wanted [plants] 0 or more; certainty [1] above 0, under 1; came_up, tested [seeds] 0 to tested, 1 or more; seeds [seeds]
    in a plug, 1 or more; survival [1] 0 to 1. Raises RangeProblem outside these, where under 0.3 of the plugs are expected to give a plant, for then sowing more is no answer, and over 5000
    plugs. Source: as `chance_after_test`; the bounds are our own.
    """
    if not 0 < certainty < 1:
        raise RangeProblem("a certainty is above 0 and under 1")
    expected = plug_chance(share_after_test(came_up, tested), seeds, survival)
    if expected < 0.3:
        raise RangeProblem(
            f"only {expected:.0%} of plugs give a plant; under 30 % the seed is not worth sowing"
        )

    def enough(plugs: int) -> bool:
        return chance_after_test(plugs, wanted, came_up, tested, seeds, survival) >= certainty

    too_few, plugs = wanted - 1, wanted
    while not enough(plugs):
        if plugs >= MOST_PLUGS:
            raise RangeProblem(f"over {MOST_PLUGS} plugs")
        too_few, plugs = plugs, min(MOST_PLUGS, plugs + max(1, plugs // 4))
    while plugs - too_few > 1:
        middle = (plugs + too_few) // 2
        too_few, plugs = (too_few, middle) if enough(middle) else (middle, plugs)
    return plugs


def _beta_after(came_up: int, tested: int) -> tuple[float, float]:
    if not 0 <= came_up <= tested or tested < 1:
        raise RangeProblem("a test has a seed, and no more come up than were laid out")
    return came_up + 1.0, tested - came_up + 1.0


def _log_power(base: float, power: float) -> float:
    """The logarithm of base^power; 0^0 is 1."""
    if power == 0:
        return 0.0
    return power * math.log(base) if base > 0 else -math.inf


def plugs_for_each(
    most: int, certainty: float, came_up: int, tested: int, seeds: int = 1, survival: float = 1.0
) -> list[int]:
    """The plugs of `plugs_to_sow` for 1 plant, 2 plants and so on up to `most` [plugs].

    most [plants] 0 or more; certainty [1] above 0, under 1; came_up, tested [seeds] 0 to tested, 1 or more; seeds [seeds] in
    a plug; survival [1] 0 to 1. Raises RangeProblem as `plugs_to_sow`. Source: as there; more plants never take fewer
    plugs, so that each count goes on from the one before.
    """
    found: list[int] = [plugs_to_sow(1, certainty, came_up, tested, seeds, survival)] if most >= 1 else []
    for wanted in range(2, most + 1):
        plugs = found[-1] + 1
        while chance_after_test(plugs, wanted, came_up, tested, seeds, survival) < certainty:
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
