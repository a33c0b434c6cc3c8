"""Why a planned day ends when it does: the chain of activities that leaves no minute to spare."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from macros.calculations.scheduler.records import NetworkActivity, Placed, Plan


def critical_chain(activities: Sequence[NetworkActivity], plan: Plan) -> tuple[str, ...]:
    """Ids from one that starts the day to one that ends it; no one of them can start earlier while the last one stays.

    Each begins at the minute at which the one before allows it: through a link with its least gap, through the person
    or the thing that was busy, or, going back in time, because it may not be longer before the next than the greatest
    gap. For a plan of `plan_day`; a plan with idle minutes in it may give a chain that starts later than the day.
    """
    if not plan.placed:
        return ()
    known = {activity.id: activity for activity in activities}
    placed = {one.id: one for one in plan.placed}
    last = next(one.id for one in plan.placed if one.finish == plan.finish)
    held_by: dict[str, str | None] = {last: None}
    waiting = [last]
    while waiting:
        name = waiting.pop()
        if placed[name].start == 0:
            return tuple(_walk(name, held_by))
        found = [cause for cause in _causes(name, known, placed) if cause not in held_by]
        for cause in reversed(list(dict.fromkeys(found))):
            held_by[cause] = name
            waiting.append(cause)
    return tuple(_walk(min(held_by, key=lambda name: placed[name].start), held_by))


def _walk(name: str | None, held_by: Mapping[str, str | None]) -> Iterator[str]:
    while name is not None:
        yield name
        name = held_by[name]


def _causes(name: str, known: Mapping[str, NetworkActivity], placed: Mapping[str, Placed]) -> Iterator[str]:
    """What keeps this activity from starting earlier: links first, then people, things, and greatest gaps after it."""
    activity, here = known[name], placed[name]
    yield from (
        link.activity for link in activity.after if placed[link.activity].finish + link.least == here.start
    )
    touching = [one for one in placed.values() if one.finish == here.start and one.start < one.finish]
    yield from (one.id for one in touching if set(one.people) & set(here.people))
    yield from (one.id for one in touching if set(known[one.id].needs) & set(activity.needs))
    yield from _tied_after(here, known, placed)


def _tied_after(
    here: Placed, known: Mapping[str, NetworkActivity], placed: Mapping[str, Placed]
) -> Iterator[str]:
    """What starts so late that a greatest gap holds this one back."""
    for other in known.values():
        latest = [link.greatest for link in other.after if link.activity == here.id]
        yield from (
            other.id for most in latest if most is not None and here.finish + most == placed[other.id].start
        )
