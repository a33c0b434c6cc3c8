"""From a list of activities to clock times: each at the earliest minute at which its people and things are free."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from macros.calculations.scheduler.network import Arc, Network, earliest_starts
from macros.calculations.scheduler.records import Placed, Plan


@dataclass(frozen=True)
class Placement:
    """Starts [min] by number, finish of the whole, and by how many minutes greatest gaps are missed (0: a plan).

    `by` is the person chosen, as a resource, where one of several does it; -1 elsewhere.
    """

    starts: tuple[int, ...]
    finish: int
    missed: int = 0
    worst_link: tuple[int, int] | None = None
    by: tuple[int, ...] = ()

    @property
    def worth(self) -> tuple[int, int]:
        """Smaller is better: first the gaps kept, then the finish."""
        return self.missed, self.finish


@dataclass
class Placer:
    """Places lists of one network and counts how many activities it placed, the measure of work done.

    For each unit k of a resource a whole number holds, as bits, the minutes at which more than k units are in use.
    Asking for a free stretch is then a few shifts, whatever the length of the day.
    """

    network: Network
    placed: int = 0
    _blocking: list[tuple[int, ...]] = field(default_factory=list)
    _held: list[tuple[tuple[int, int, int], ...]] = field(default_factory=list)
    _firsts: list[int] = field(default_factory=list)
    _units: int = 0
    _gapped: list[bool] = field(default_factory=list)
    _tied: list[tuple[Arc, ...]] = field(default_factory=list)

    def __post_init__(self) -> None:
        firsts = self._firsts
        for count in self.network.available:
            firsts.append(self._units)
            self._units += count
        for demand in self.network.demand:
            self._blocking.append(tuple(firsts[r] + self.network.available[r] - units for r, units in demand))
            self._held.append(tuple((firsts[r], self.network.available[r], units) for r, units in demand))
        self._tied = [tuple(arc for arc in arcs if arc.greatest is not None) for arcs in self.network.before]
        self._gapped = [any(arc.greatest is not None for arc in arcs) for arcs in self.network.then]

    def place(self, order: list[int], tries: int) -> Placement:
        """The day of a list in which nothing stands before what it comes after.

        Where an activity cannot start within a greatest gap, the one before the gap is put off by the minutes missed
        and the list is placed again from there, up to `tries` times; after that the gap is missed.
        """
        network, minutes = self.network, self.network.minutes
        starts = [0] * len(order)
        release = [0] * len(order)
        busy = [0] * self._units
        position_of = {j: position for position, j in enumerate(order)} if any(self._gapped) else {}
        by = [-1] * len(order)
        kept: dict[int, list[int]] = {}
        missed, worst, worst_link = 0, 0, None
        position = 0
        while position < len(order):
            j = order[position]
            if self._gapped[j]:
                kept[j] = busy.copy()
            early = release[j]
            for arc in network.before[j]:
                ended = starts[arc.other] + minutes[arc.other] + arc.least
                if ended > early:
                    early = ended
            late, culprit = self._latest(j, starts)
            start, by[j] = self._first_free(j, early, busy, by)
            self.placed += 1
            if late is not None and start > late:
                if tries > 0:
                    tries -= 1
                    back = self._put_off(culprit, start - late, starts, release)
                    position, busy = position_of[back], kept[back].copy()
                    continue
                missed += start - late
                if start - late > worst:
                    worst, worst_link = start - late, (culprit, j)
            starts[j] = start
            self._hold(j, start, busy, by[j])
            position += 1
        finish = max((s + m for s, m in zip(starts, minutes, strict=True)), default=0)
        return Placement(tuple(starts), finish, missed, worst_link, tuple(by))

    def _latest(self, j: int, starts: list[int]) -> tuple[int | None, int]:
        """The last minute a greatest gap before j lets it start at, and what stands before that gap."""
        late, culprit = None, -1
        for arc in self._tied[j]:
            end = starts[arc.other] + self.network.minutes[arc.other] + (arc.greatest or 0)
            if late is None or end < late:
                late, culprit = end, arc.other
        return late, culprit

    def _put_off(self, i: int, by: int, starts: list[int], release: list[int]) -> int:
        """Puts i off, and whatever may not be so long before it; gives the earliest of them."""
        release[i] = starts[i] + by
        late, culprit = self._latest(i, starts)
        if late is not None and release[i] > late:
            return self._put_off(culprit, release[i] - late, starts, release)
        return i

    def _first_free(self, j: int, early: int, busy: list[int], by: list[int]) -> tuple[int, int]:
        """The first minute at which all that j needs is free, and who of those who may does it.

        At the same minute whoever did what j comes after goes on; else the last, who may do the least.
        """
        if not self.network.either or not self.network.either[j]:
            return self._free_from(j, early, busy), -1
        led = {by[arc.other] for arc in self.network.before[j]}
        found = [
            (self._free_from(j, early, busy, self._firsts[person]), person not in led, -person)
            for person in self.network.either[j]
        ]
        start, _, person = min(found)
        return start, -person

    def _free_from(self, j: int, early: int, busy: list[int], person: int = -1) -> int:
        """The first minute from `early` on from which all that j needs is free for its whole length."""
        taken = busy[person] if person >= 0 else 0
        for unit in self._blocking[j]:
            taken |= busy[unit]
        taken >>= early
        length = self.network.minutes[j]
        if not taken & ((1 << length) - 1):
            return early
        covered = 1
        while 2 * covered <= length:  # a start is bad if any of the next `length` minutes is taken
            taken |= taken >> covered
            covered *= 2
        if length > covered:
            taken |= taken >> (length - covered)
        return early + (~taken & (taken + 1)).bit_length() - 1

    def _hold(self, j: int, start: int, busy: list[int], person: int) -> None:
        stretch = ((1 << self.network.minutes[j]) - 1) << start
        if person >= 0:
            busy[self._firsts[person]] |= stretch
        for first, count, units in self._held[j]:
            if count == units == 1:  # most places and tools; nothing to carry to another unit
                busy[first] |= stretch
                continue
            for _ in range(units):
                carried = stretch
                for unit in range(first, first + count):
                    busy[unit], carried = busy[unit] | carried, busy[unit] & carried


def written_plan(network: Network, day: Placement, bound: int) -> Plan:
    """The plan of a day: who does what, and everything moved as early as the order of each person and thing allows."""
    people, follows = _hand_out(network, day)
    then = list(network.then)
    for j, earlier in enumerate(follows):
        for i in earlier:
            then[i] = (*then[i], Arc(j, 0, None))
    before = tuple(
        (*arcs, *(Arc(i, 0, None) for i in sorted(earlier)))
        for arcs, earlier in zip(network.before, follows, strict=True)
    )
    starts = earliest_starts(replace(network, before=before, then=tuple(then)))
    placed = tuple(
        Placed(network.ids[j], starts[j], starts[j] + network.minutes[j], people[j])
        for j in _by_start(starts)
    )
    return Plan(placed, max(one.finish for one in placed), bound)


def _by_start(starts: Sequence[int]) -> list[int]:
    return sorted(range(len(starts)), key=lambda j: (starts[j], j))


def _hand_out(network: Network, day: Placement) -> tuple[list[tuple[int, ...]], list[set[int]]]:
    """The people of each activity, and what must end before it because it holds the same person or unit."""
    people: list[tuple[int, ...]] = [() for _ in day.starts]
    follows: list[set[int]] = [set() for _ in day.starts]
    last: list[list[int | None]] = [[None] * units for units in network.available]
    for j in _by_start(day.starts):
        led = {person for arc in network.before[j] for person in people[arc.other]}
        people[j] = _named(network, day, j)
        for resource, units in _held(network, day, j):
            holders = last[resource]
            taken = _free_units(network, day, j, holders, led if resource == 0 else set())[:units]
            if resource == 0:
                people[j] = tuple(sorted(taken))
            for unit in taken:
                before, holders[unit] = holders[unit], j
                if before is not None:
                    follows[j].add(before)
    return people, follows


def _held(network: Network, day: Placement, j: int) -> Sequence[tuple[int, int]]:
    """What j holds: where persons are held by name, those in place of so many hands."""
    if not network.persons:
        return network.demand[j]
    chosen = ((day.by[j], 1),) if day.by[j] >= 0 else ()
    return (*(one for one in network.demand[j] if one[0] != 0), *chosen)


def _named(network: Network, day: Placement, j: int) -> tuple[int, ...]:
    """The persons j holds by name."""
    held = {resource for resource, _ in _held(network, day, j)}
    return tuple(person for person, resource in enumerate(network.persons) if resource in held)


def _free_units(
    network: Network, day: Placement, j: int, holders: list[int | None], led: set[int]
) -> list[int]:
    """The units nobody holds when j starts; first whoever did what j comes after."""
    free = [
        unit
        for unit, i in enumerate(holders)
        if i is None or day.starts[i] + network.minutes[i] <= day.starts[j]
    ]
    return sorted(free, key=lambda unit: (unit not in led, unit))
