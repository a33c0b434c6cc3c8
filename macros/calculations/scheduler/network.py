"""The network of a day's activities: whether it can be kept at all, and what time each has if hands were no limit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from heapq import heapify, heappop, heappush

from macros.calculations.scheduler.records import NetworkActivity, Times
from macros.ground.problems import RangeProblem

MORE_THAN_ONE = 2
WEEK = 7 * 24 * 60  # a longer activity or wait is a slip of the unit


@dataclass(frozen=True)
class Arc:
    """The other end of a link by its number in the list, with the link's minutes."""

    other: int
    least: int
    greatest: int | None


@dataclass(frozen=True)
class Network:
    """Activities by their number in the manual's order.

    `before[j]` are the links into j, `then[i]` those out of i. `demand[j]` are (resource, units held); resource 0 is
    the people, `available[r]` how many of resource r there are. An activity of 0 minutes holds nothing. Where somebody
    may not do all, `persons` is each person as a resource of their own, and `either[j]` those of whom one does j.
    """

    ids: tuple[str, ...]
    minutes: tuple[int, ...]
    before: tuple[tuple[Arc, ...], ...]
    then: tuple[tuple[Arc, ...], ...]
    demand: tuple[tuple[tuple[int, int], ...], ...]
    available: tuple[int, ...]
    persons: tuple[int, ...] = ()
    either: tuple[tuple[int, ...], ...] = ()

    def mirrored(self) -> Network:
        """The same day run backwards: what followed now goes before."""
        return replace(self, before=self.then, then=self.before)


def build_network(activities: Sequence[NetworkActivity], people: int, capacity: Mapping[str, int]) -> Network:
    """Activities as numbers. Raises RangeProblem with a whole sentence for what no plan could hold."""
    _check_each(activities, people)
    number = {activity.id: position for position, activity in enumerate(activities)}
    things = list(dict.fromkeys(need for activity in activities for need in activity.needs))
    _check_capacity(activities, things, capacity)
    _check_links(activities, number)
    before = tuple(
        tuple(Arc(number[link.activity], link.least, link.greatest) for link in activity.after)
        for activity in activities
    )
    network = Network(
        tuple(number),
        tuple(activity.minutes for activity in activities),
        before,
        _turned(before),
        tuple(_demand(activity, things) for activity in activities),
        (
            min(people, sum(a.hands for a in activities)),
            *(min(capacity.get(thing, 1), len(activities)) for thing in things),
        ),
    )
    in_order(network, range(len(activities)))
    return _with_persons(network, activities, people)


def _with_persons(network: Network, activities: Sequence[NetworkActivity], people: int) -> Network:
    """The network in which each person is held by name, where an activity says who alone may do it."""
    if people < MORE_THAN_ONE or all(activity.only is None for activity in activities):
        return network
    persons = tuple(len(network.available) + person for person in range(people))
    held = [
        _persons_of(activity, persons) if demand else ((), ())
        for activity, demand in zip(activities, network.demand, strict=True)
    ]
    return replace(
        network,
        demand=tuple(
            (*demand, *((person, 1) for person in named))
            for demand, (named, _) in zip(network.demand, held, strict=True)
        ),
        available=(*network.available, *(1 for _ in persons)),
        persons=persons,
        either=tuple(either for _, either in held),
    )


def _persons_of(
    activity: NetworkActivity, persons: tuple[int, ...]
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The persons an activity holds in any case, and those of whom one does it."""
    if activity.hands == 1:
        return ((), persons) if activity.only is None else ((persons[activity.only],), ())
    return persons[: activity.hands], ()


def _turned(before: tuple[tuple[Arc, ...], ...]) -> tuple[tuple[Arc, ...], ...]:
    """The links out of each activity, of those into each."""
    then: list[list[Arc]] = [[] for _ in before]
    for position, arcs in enumerate(before):
        for arc in arcs:
            then[arc.other].append(Arc(position, arc.least, arc.greatest))
    return tuple(map(tuple, then))


def in_order(network: Network, keys: Sequence[int]) -> list[int]:
    """A list in which nothing stands before what it comes after; of those that may come, the smallest key first.

    Equal keys go by the given order. Raises RangeProblem for a ring.
    """
    order: list[int] = []
    waiting = [len(arcs) for arcs in network.before]
    ready = [(keys[j], j) for j, count in enumerate(waiting) if not count]
    heapify(ready)
    while ready:
        _, first = heappop(ready)
        order.append(first)
        for arc in network.then[first]:
            waiting[arc.other] -= 1
            if not waiting[arc.other]:
                heappush(ready, (keys[arc.other], arc.other))
    if len(order) < len(waiting):
        raise RangeProblem(f"{', '.join(_ring(network, set(order)))} wait for one another")
    return order


def followers(network: Network) -> list[set[int]]:
    """For each activity all that come after it, directly or through others."""
    found: list[set[int]] = [set() for _ in network.ids]
    for j in reversed(in_order(network, range(len(found)))):
        for arc in network.then[j]:
            found[j] |= found[arc.other] | {arc.other}
    return found


def earliest_starts(network: Network) -> list[int]:
    """Earliest start of each [min] with people and things without limit; the forward pass.

    A greatest gap pulls the earlier activity towards the later one, so the pass is repeated until nothing moves.
    Raises RangeProblem where the links contradict one another.
    """
    order = in_order(network, range(len(network.ids)))
    starts = [0] * len(order)
    for _ in range(len(order) + 1):
        moved = False
        for j in order:
            for arc in network.before[j]:
                ended = starts[arc.other] + network.minutes[arc.other]
                starts[j] = max(starts[j], ended + arc.least)
        for j in order:
            for arc in network.before[j]:
                i = arc.other
                if arc.greatest is not None:
                    wanted = starts[j] - arc.greatest - network.minutes[i]
                    if wanted > starts[i]:
                        starts[i], moved = wanted, True
        if not moved:
            return starts
    raise RangeProblem(_contradiction(network, order))


def floats(activities: Sequence[NetworkActivity]) -> tuple[Times, ...]:
    """Forward and backward pass [min] over the links alone, people and things without limit, in the given order.

    Raises RangeProblem as `plan_day` does. Source: the critical-path method (Kelley and Walker 1959), with least and
    greatest gaps as arcs of a longest-path problem.
    """
    most = max((activity.hands for activity in activities), default=0)
    network = build_network([replace(one, only=None) for one in activities], most, {})
    early = earliest_starts(network)
    late_back = earliest_starts(network.mirrored())
    finish = max((s + m for s, m in zip(early, network.minutes, strict=True)), default=0)
    return tuple(
        Times(one.id, early[j], early[j] + one.minutes, finish - late_back[j] - one.minutes)
        for j, one in enumerate(activities)
    )


def _check_each(activities: Sequence[NetworkActivity], people: int) -> None:
    seen: set[str] = set()
    if people < 0:
        raise RangeProblem(f"a plan for {people} people cannot be made; it is 0 or more")
    for activity in activities:
        name = activity.id
        if name in seen:
            raise RangeProblem(f"{name} stands twice in the list of activities; each needs an id of its own")
        seen.add(name)
        if activity.minutes < 0:
            raise RangeProblem(f"{name} takes {activity.minutes} minutes; it must be 0 or more")
        if activity.minutes != int(activity.minutes):
            raise RangeProblem(f"{name} takes {activity.minutes} minutes; a plan counts whole minutes")
        if activity.minutes > WEEK:
            raise RangeProblem(
                f"{name} takes {activity.minutes} minutes; the plan of a day holds up to {WEEK}, a week"
            )
        if activity.hands < 0:
            raise RangeProblem(f"{name} is done by {activity.hands} people; it must be 0 or more")
        if activity.hands > people:
            raise RangeProblem(
                f"{name} is done by {activity.hands} people together, and the plan is for {people}"
            )
        if activity.only is not None and not 0 <= activity.only < max(people, 1):
            raise RangeProblem(f"{name} is for person {activity.only} alone, and the plan is for {people}")


def _check_capacity(
    activities: Sequence[NetworkActivity], things: Sequence[str], capacity: Mapping[str, int]
) -> None:
    for thing in things:
        if capacity.get(thing, 1) < 1:
            who = next(activity.id for activity in activities if thing in activity.needs)
            raise RangeProblem(f"there are {capacity[thing]} of {thing}, and {who} needs one")


def _check_links(activities: Sequence[NetworkActivity], number: Mapping[str, int]) -> None:
    for name, link in ((activity.id, link) for activity in activities for link in activity.after):
        if link.activity not in number:
            raise RangeProblem(f"{name} comes after {link.activity}, which is no activity")
        pair = f"{name} after {link.activity}"
        if link.least < 0:
            raise RangeProblem(f"the least gap of {pair} is {link.least} minutes; it must be 0 or more")
        if link.greatest is not None and link.greatest < link.least:
            raise RangeProblem(
                f"the greatest gap of {pair} is {link.greatest} minutes, below the least of {link.least}"
            )
        for gap in (link.least, link.greatest or 0):
            if gap != int(gap):
                raise RangeProblem(f"a gap of {pair} is {gap} minutes; a plan counts whole minutes")
        if link.least > WEEK:
            raise RangeProblem(
                f"the least gap of {pair} is {link.least} minutes; it may be up to {WEEK}, a week"
            )


def _demand(activity: NetworkActivity, things: list[str]) -> tuple[tuple[int, int], ...]:
    if not activity.minutes:
        return ()
    people = ((0, activity.hands),) if activity.hands else ()
    return people + tuple((1 + things.index(need), 1) for need in dict.fromkeys(activity.needs))


def _ring(network: Network, left_out: set[int]) -> list[str]:
    """The ids that stand in a ring: what is left after taking away whatever only follows one."""
    left = set(range(len(network.ids))) - left_out
    while True:
        ends = {j for j in left if not any(arc.other in left for arc in network.then[j])}
        if not ends:
            return [network.ids[j] for j in sorted(left)]
        left -= ends


def _contradiction(network: Network, order: list[int]) -> str:
    """Says which greatest gap is shorter than what must happen within it."""
    for i in order:
        away = {i: 0}  # least minutes from the start of i to the start of what follows it
        for j in order:
            for arc in network.before[j]:
                if arc.other in away:
                    start = away[arc.other] + network.minutes[arc.other] + arc.least
                    away[j] = max(away.get(j, 0), start)
        for arc in network.then[i]:
            between = away[arc.other] - network.minutes[i]
            if arc.greatest is not None and between > arc.greatest:
                return (
                    f"{network.ids[arc.other]} starts at most {arc.greatest} minutes after {network.ids[i]}, "
                    f"but what must happen between them takes {between}"
                )
    return "the greatest gaps between the activities contradict one another, however many people there are"


def link_words(network: Network, i: int, j: int) -> str:
    """A greatest gap as words for a message."""
    greatest = min(a.greatest for a in network.before[j] if a.other == i and a.greatest is not None)
    return f"{network.ids[j]} at most {greatest} minutes after {network.ids[i]}"
