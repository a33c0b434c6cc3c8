"""When a stock has to be ordered, so that it is there on the day it is taken."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from macros.ground.problems import RangeProblem


@dataclass(frozen=True)
class Order:
    """`containers` of a stock: ordered on day `by`, wanted on day `wanted`; days count from 0, below it is too late."""

    by: int
    wanted: int
    containers: int


def reorder_point(use: float, lead: float, safety: float) -> float:
    """What is still there when a stock has to be ordered again [mL].

    use [mL/day], lead [days] from order to delivery, safety [1] the share more than that: 0 or more, not judged. Raises
    nothing. Source: Heizer and Render, Operations Management, reorder point.
    """
    return use * lead * (1 + safety)


def orders(
    held: float, takes: Sequence[float], container: float, lead: int, last_good: int | None = None
) -> list[Order]:
    """The orders that a stock needs, each as late as its delivery allows.

    held [mL] on the shelf, takes [mL] on each day, 0 or more; container [mL] above 0; lead [days] from order to
    delivery, 0 or more; last_good [day] the last day on which what is held now may be used, None without one. What
    is bought later is taken to be good for the whole time. Raises RangeProblem outside these. Source: arithmetic.
    """
    if held < 0 or container <= 0 or lead < 0 or min(takes, default=0.0) < 0:
        raise RangeProblem("stock, use and lead time are 0 or more, and a container holds something")
    found: list[Order] = []
    old, new = held, 0.0
    for day, take in enumerate(takes):
        if last_good is not None and day > last_good:
            old = 0.0
        from_old = min(old, take)
        old, short = old - from_old, take - from_old
        if short > new + 1e-9:
            count = math.ceil((short - new) / container - 1e-9)
            found.append(Order(day - lead, day, count))
            new += count * container
        new -= short
    return found
