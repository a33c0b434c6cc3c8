"""What no plan can beat: the longest chain of links, and the work that each person or thing must get through."""

from __future__ import annotations

from macros.calculations.scheduler.network import Network, earliest_starts, in_order


def lower_bound(network: Network) -> int:
    """A finish [min] below which no plan can end. Never above the best finish there is.

    The greatest of the longest chain with its least gaps, and for each resource and each part of its activities: the
    earliest any of them may begin, all their work shared among the units, and the least that follows any of them.
    Source: the one-machine bound of heads, bodies and tails (Carlier 1982), with load divided by units.
    """
    heads = _heads(network)
    tails = _heads(network.mirrored())
    minutes = network.minutes
    longest = max(head + body + tail for head, body, tail in zip(heads, minutes, tails, strict=True))
    return max([longest, *(_load_bound(load, units, heads, tails) for load, units in _loads(network))])


def _loads(network: Network) -> list[tuple[dict[int, int], int]]:
    """For each resource the unit-minutes of each of its activities, and its units.

    One more: those that hold more than half of the people, which therefore come one after another.
    """
    loads: list[tuple[dict[int, int], int]] = [({}, units) for units in network.available]
    alone: dict[int, int] = {}
    for j, demand in enumerate(network.demand):
        for resource, units in demand:
            loads[resource][0][j] = units * network.minutes[j]
            if resource == 0 and 2 * units > network.available[0]:
                alone[j] = network.minutes[j]
    return [(load, units) for load, units in [*loads, (alone, 1)] if load]


def _load_bound(load: dict[int, int], units: int, heads: list[int], tails: list[int]) -> int:
    """Over all parts of the activities given by a least head and a least tail."""
    best = 0
    by_head = sorted(load, key=lambda j: -heads[j])
    for least_tail in {tails[j] for j in load}:
        work = 0
        for j in by_head:
            if tails[j] >= least_tail:
                work += load[j]
                best = max(best, heads[j] - (-work // units) + least_tail)
    return best


def _heads(network: Network) -> list[int]:
    """A time before which each activity cannot start: by its links, and by the work that must be done before it."""
    heads = earliest_starts(network)
    loads = _loads(network)
    reached = _gaps(network)
    for j in in_order(network, range(len(heads))):
        for arc in network.before[j]:
            heads[j] = max(heads[j], heads[arc.other] + network.minutes[arc.other] + arc.least)
        for load, units in loads:
            work, gap = 0, None
            for i in sorted((i for i in reached[j] if i in load), key=lambda i: -heads[i]):
                work += load[i]
                gap = reached[j][i] if gap is None else min(gap, reached[j][i])
                heads[j] = max(heads[j], heads[i] - (-work // units) + gap)
    return heads


def _gaps(network: Network) -> list[dict[int, int]]:
    """For each activity all that come before it, with the least minutes from the end of that one to its own start."""
    gaps: list[dict[int, int]] = [{} for _ in network.ids]
    for j in in_order(network, range(len(gaps))):
        for arc in network.before[j]:
            through = arc.least + network.minutes[arc.other]
            gaps[j][arc.other] = max(gaps[j].get(arc.other, 0), arc.least)
            for i, gap in gaps[arc.other].items():
                gaps[j][i] = max(gaps[j].get(i, 0), gap + through)
    return gaps
