"""Which order to do the day in: a few rules, a bounded search from the best of them, then back towards the manual.

The order of the given list is the manual's, the one people know. A plan leaves it only where that saves more than
`SPARE` of the day, and then no further than it must. Nothing here is left to chance or to the clock: the numbers drawn
come from a fixed seed, and the search ends after a counted amount of work.

Source: serial schedule generation with forward-backward improvement, as in the literature on project scheduling with
limited resources; the rules are latest finish, latest start, most followers and greatest positional weight.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from functools import lru_cache

from macros.calculations.scheduler.bound import lower_bound
from macros.calculations.scheduler.network import (
    Network,
    build_network,
    earliest_starts,
    followers,
    in_order,
    link_words,
)
from macros.calculations.scheduler.placing import Placement, Placer, written_plan
from macros.calculations.scheduler.records import NetworkActivity, Plan
from macros.ground.problems import RangeProblem

SPARE = 0.01  # a plan in the manual's order may take this share longer than the best order found
WORK = 80_000  # activities placed in one search, 0.2 s of processor time whatever the length of the day
LISTS = 4_000  # lists tried in one search; short days need no more
STUBBORN = 4  # times that work while no list keeps every greatest gap
SETTLING = 15_000  # activities placed on the way back towards the manual
PUT_OFF = 20  # how often one list may put an activity off so that a greatest gap is kept
STALE = 150  # lists without a better one before the search starts again from the best
HEAT = 0.08  # share of the day by which a list may be worse and still be gone on from, at first
PLANS_KEPT = 512  # a pack, its log and its checklist ask for the same plan; the same input gives the same one
TOGETHER = 0.3  # share of moves that take an activity with those tied to it by a greatest gap


def plan_day(activities: Sequence[NetworkActivity], people: int, capacity: Mapping[str, int] = {}) -> Plan:
    """A plan of the day [min]: who does what when, by `people`, with `capacity` of each thing (none said: one).

    The list is in the manual's order; an activity may stand before what it comes after. The plan keeps every link,
    holds no person and no thing twice, and is the same for the same input. Its finish is good, not always the best;
    `bound` says how good. Nobody and nothing is held by an activity of 0 minutes. Where one activity takes a minute
    more or less, three pairs of activities in a hundred change the order of their starts on average, and none in three
    days of four (measured on random days).

    Raises RangeProblem with a whole sentence for an unknown or doubled id, a ring, minutes or gaps that are negative,
    broken or above a week, a greatest gap below its least, more hands than people, and links for which no plan is found.
    """
    found = _plan_once(tuple(activities), people, tuple(sorted(capacity.items())))
    if isinstance(found, str):
        raise RangeProblem(found)
    return found


@lru_cache(maxsize=PLANS_KEPT)
def _plan_once(
    activities: tuple[NetworkActivity, ...], people: int, capacity: tuple[tuple[str, int], ...]
) -> Plan | str:
    """The plan, or why none was found: that takes the longest search, and is kept as well."""
    network = build_network(activities, people, dict(capacity))
    if not activities:
        return Plan((), 0, 0)
    bound = lower_bound(network)
    day = Search(network, bound).run()
    if day.worst_link:
        by_whom = "1 person" if people == 1 else f"{people} people"
        return (
            f"no plan for {by_whom} was found that keeps every greatest gap; "
            f"the hardest to keep is {link_words(network, *day.worst_link)}"
        )
    return written_plan(network, day, bound)


class Search:
    """The lists tried for one network, the best of them, and the work done so far."""

    def __init__(self, network: Network, bound: int) -> None:
        self.network = network
        self.mirror = network.mirrored()
        self.bound = bound
        self.forward, self.backward = Placer(network), Placer(self.mirror)
        self.lists = 0
        self.followers = followers(network)
        self.leaders = followers(self.mirror)
        self.tied = _tied(network, self.followers)
        self.manual = in_order(network, range(len(network.ids)))
        self.rank = {j: position for position, j in enumerate(self.manual)}
        self.order, self.day = self.manual, self._place(self.manual)

    def run(self) -> Placement:
        """The day to hand out: the manual's order where it is good enough, else the best found, settled."""
        manual = self.day
        if manual.worth <= (0, self._allowed(self.bound)):
            return manual
        self._try_rules()
        drawn = random.Random(1)
        while not self._spent:
            self._climb(drawn)
        if self.day.missed:
            return self.day
        return self._settled()

    @property
    def _spent(self) -> bool:
        longer = STUBBORN if self.day.missed else 1
        work = self.forward.placed + self.backward.placed
        return self.day.worth <= (0, self.bound) or self.lists >= longer * LISTS or work >= longer * WORK

    def _allowed(self, finish: int) -> int:
        return int(finish * (1 + SPARE))

    def _place(self, order: list[int]) -> Placement:
        self.lists += 1
        return self.forward.place(order, PUT_OFF)

    def _note(self, order: list[int], day: Placement) -> None:
        if day.worth < self.day.worth:
            self.order, self.day = order, day

    def _try_rules(self) -> None:
        """The manual's order and the well-known rules, each improved by running the day backwards and again."""
        minutes = self.network.minutes
        count = range(len(minutes))
        tails = earliest_starts(self.mirror)
        rules: tuple[Sequence[int], ...] = (
            [self.rank[j] for j in count],
            [-tails[j] for j in count],  # latest finish
            [-tails[j] - minutes[j] for j in count],  # latest start
            [-len(self.followers[j]) for j in count],
            [-minutes[j] - sum(minutes[k] for k in self.followers[j]) for j in count],  # positional weight
            earliest_starts(self.network),
        )
        for keys in rules:
            order = in_order(self.network, keys)
            self._note(*self._improved(order, self._place(order)))
            if self._spent:
                return

    def _improved(self, order: list[int], day: Placement) -> tuple[list[int], Placement]:
        """Everything as late as it may, last first, then as early as it may in that order, while that helps."""
        minutes = self.network.minutes
        while not self._spent:
            ends = [-start - length for start, length in zip(day.starts, minutes, strict=True)]
            self.lists += 1
            late = self.backward.place(in_order(self.mirror, ends), PUT_OFF)
            again = in_order(self.network, [-s - m for s, m in zip(late.starts, minutes, strict=True)])
            there = self._place(again)
            if there.worth >= day.worth:
                break
            order, day = again, there
        return order, day

    def _climb(self, drawn: random.Random) -> None:
        """From the best list by moves of one activity; at first a little worse is gone on from, later nothing is."""
        order, day = self.order, self.day
        stale, heat = 0, HEAT * day.finish
        while stale < STALE and not self._spent:
            stale += 1
            heat *= 0.99
            moved = self._moved(drawn, order)
            there = self._place(moved)
            if there.worth < self.day.worth:
                order, day = self._improved(moved, there)
                self._note(order, day)
                stale = 0
            elif there.missed <= day.missed and there.finish <= day.finish + int(heat * drawn.random()):
                order, day = moved, there

    def _moved(self, drawn: random.Random, order: list[int]) -> list[int]:
        """One activity, at times with those tied to it, put elsewhere; what must stay before or after it goes along."""
        position, goal = (int(drawn.random() * len(order)) for _ in range(2))
        chosen = order[position]
        group = self.tied[chosen] if drawn.random() < TOGETHER else {chosen}
        places = [place for place, j in enumerate(order) if j in group]
        forward = goal >= position
        along = group.union(*((self.followers if forward else self.leaders)[j] for j in group))
        first, last = (places[0], max(goal, places[-1])) if forward else (min(goal, places[0]), places[-1])
        # sorting keeps the order within what goes along and within what stays
        part = sorted(order[first : last + 1], key=lambda j: (j in along) == forward)
        return order[:first] + part + order[last + 1 :]

    def _settled(self) -> Placement:
        """The day of the best list after taking, place by place, the activity first in the manual that costs little."""
        limit = (0, self._allowed(self.day.finish))
        end = self.forward.placed + SETTLING
        order, day = self.order, self.day
        for position in range(len(order)):
            if self.forward.placed > end:
                break
            head, rest = order[:position], order[position:]
            there = self._place(head + sorted(rest, key=self.rank.__getitem__))
            if there.worth <= limit:
                return there
            waiting = set(rest)
            for j in sorted(rest, key=self.rank.__getitem__):
                if j == rest[0]:
                    break
                if self.leaders[j].isdisjoint(waiting):
                    nearer = [*head, j, *(k for k in rest if k != j)]
                    there = self._place(nearer)
                    if there.worth <= limit:
                        order, day = nearer, there
                        break
        return day


def _tied(network: Network, after: list[set[int]]) -> list[set[int]]:
    """For each activity those it is tied to by greatest gaps with nothing else in between, itself included."""
    tied = [{j} for j in range(len(network.ids))]
    for j, arcs in enumerate(network.before):
        for arc in arcs:
            between = any(other.other in after[arc.other] for other in arcs)
            if arc.greatest is not None and not between:
                group = tied[j] | tied[arc.other]
                for k in group:
                    tied[k] = group
    return tied
