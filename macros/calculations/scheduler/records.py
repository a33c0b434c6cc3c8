"""The records of a planned day: activities with their links, and the plan that is made of them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Link:
    """This activity starts at least `least` minutes after `activity` ended, and at most `greatest` (None: no limit)."""

    activity: str
    least: int = 0
    greatest: int | None = None


@dataclass(frozen=True)
class NetworkActivity:
    """Something that takes whole minutes. `hands` people are held for all of it; 0 is a wait that runs by itself.

    `needs` are things (a tool, a place) it holds while it runs; how many of each there are stands in the plan's
    `capacity`, one where it says nothing. An activity of 0 minutes marks a moment and holds nobody and nothing.
    `only` names the one person (0, 1) who may do it; None is anybody. It binds work of one pair of hands.
    """

    id: str
    minutes: int
    hands: int = 1
    after: tuple[Link, ...] = ()
    needs: tuple[str, ...] = ()
    only: int | None = None


@dataclass(frozen=True)
class Placed:
    """An activity with its clock: minutes from the start of the day, and which people (0, 1) do it."""

    id: str
    start: int
    finish: int
    people: tuple[int, ...] = ()


@dataclass(frozen=True)
class Plan:
    """Every activity once, in the order of their starts; `finish` of the whole, and a bound no plan can beat."""

    placed: tuple[Placed, ...]
    finish: int
    bound: int

    @property
    def gap(self) -> float:
        """How far the finish may lie above the best there is, as a share of the bound; 0 means proved best."""
        return (self.finish - self.bound) / self.bound if self.bound else 0.0


@dataclass(frozen=True)
class Times:
    """What an activity's links leave it [min], people and things without limit."""

    id: str
    earliest_start: int
    earliest_finish: int
    latest_start: int

    @property
    def total_float(self) -> int:
        """Minutes the activity may slip while the day still ends at its earliest finish; 0 is critical."""
        return self.latest_start - self.earliest_start
