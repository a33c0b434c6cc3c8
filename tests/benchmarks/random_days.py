"""Days made by a seed: work, soaks that run by themselves, gaps with a limit, shared things, lifts for two.

Every day can be done, because its jobs could be done one after another: the gaps with a limit are drawn wide enough
for that. One seed gives one day, for one person and for two; what two lift together, one carries in parts.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

from macros.calculations.scheduler import Link, NetworkActivity

THINGS = ("hose", "pump", "scale", "sink")


@dataclass
class _Made:
    """A day in the making: its activities, and when each would end if everything were done one after another."""

    rng: random.Random
    people: int
    activities: list[NetworkActivity] = field(default_factory=list)
    ends: dict[str, int] = field(default_factory=dict)
    now: int = 0

    def add(
        self,
        name: str,
        minutes: int,
        hands: int,
        after: tuple[Link, ...] = (),
        needs: tuple[str, ...] = (),
    ) -> str:
        if hands > self.people:  # carried in parts
            hands, minutes = self.people, minutes * 2
        start = max([self.now, *(self.ends[link.activity] + link.least for link in after)])
        self.now = self.ends[name] = start + minutes
        self.activities.append(NetworkActivity(name, minutes, hands, after, needs))
        return name


def random_day(seed: int, tasks: int, people: int) -> tuple[list[NetworkActivity], dict[str, int]]:
    """About `tasks` activities in the order of a manual, and how many there are of each thing (none said: one)."""
    rng = random.Random(seed)
    day = _Made(rng, people)
    heads: list[str] = []
    tails: list[str] = []
    while len(day.activities) < tasks:
        after = tuple(
            Link(tail, rng.choice((0, 0, 0, 10, 45)))
            for tail in dict.fromkeys(rng.choice(tails) for _ in range(rng.choice((0, 1, 1, 2))) if tails)
        )
        number = len(tails) + 1
        left = tasks - len(day.activities)
        kind = rng.choice(("work", "work", "soak", "fill")) if left >= 3 else "work"
        if rng.random() < 0.12 and heads:  # plants out of water: back within a time
            head = rng.choice(heads)
            gap = day.now - day.ends[head] + 60
            after = (
                *[link for link in after if link.activity != head],
                Link(head, 0, gap + rng.randrange(30)),
            )
        heads.append(f"{kind}-{number}")
        tails.append(_job(day, kind, number, after))
    return day.activities, {"scale": 2}


def _job(day: _Made, kind: str, number: int, after: tuple[Link, ...]) -> str:
    """Adds a job of one or three activities; gives the last of them."""
    rng = day.rng
    if kind == "work":
        hands = 2 if rng.random() < 0.2 else 1
        needs = (rng.choice(THINGS),) if rng.random() < 0.4 else ()
        return day.add(f"work-{number}", rng.randrange(3, 41), hands, after, needs)
    if kind == "soak":
        spray = day.add(f"soak-{number}", rng.randrange(5, 21), 1, after, _maybe(rng, "hose"))
        soak = day.add(f"stand-{number}", rng.randrange(10, 61), 0, (Link(spray, 0, rng.choice((0, 5))),))
        rinse = Link(soak, 0, rng.randrange(5, 31))
        return day.add(f"rinse-{number}", rng.randrange(5, 26), 1, (rinse,), _maybe(rng, "sink"))
    start = day.add(f"fill-{number}", rng.randrange(2, 6), 1, after)
    needs = (rng.choice(("hose", "pump")),)
    fill = day.add(f"runs-{number}", rng.randrange(10, 41), 0, (Link(start, 0, 0),), needs)
    return day.add(
        f"test-{number}",
        rng.randrange(4, 11),
        1,
        (Link(fill, 0, rng.randrange(10, 61)),),
        _maybe(rng, "scale"),
    )


def _maybe(rng: random.Random, thing: str) -> tuple[str, ...]:
    return (thing,) if rng.random() < 0.5 else ()
