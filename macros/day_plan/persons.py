"""The day of one person, to be read down a page: neighbours of one page as one row, waits and what the other must end first."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from macros.day_plan.rows import (
    Done,
    done,
    gaps,
    looks,
    names,
    numbers,
    second_of,
    wait_of_row,
    words_of,
)
from macros.day_plan.schedule import PlannedDay
from macros.day_plan.times import length
from macros.page_model.day_plan import PersonPlan, PersonRow, PlanPiece
from macros.page_model.page import StepView

FOLDED = 30
"""A gap shorter than this folds into the row [min]; from here on it ends the row."""
LONG = 60
"""A wait from which a person is told of it before the rows [min]."""
TOLD = 10
"""A wait inside a row from which its end is told [min]."""


def person_plans(day: PlannedDay) -> tuple[PersonPlan, ...]:
    """The plan of each person, A first."""
    return tuple(_person(day, person) for person in range(day.people))


def _person(day: PlannedDay, person: int) -> PersonPlan:
    groups = _groups([one for one in done(day) if person in one.people], day)
    entries = [(group[0].start, _row(day, group, person)) for group in groups]
    entries += [(one.start, _rest(day, one.start, one.finish)) for one in day.plan.rests]
    entries += [
        (minute, _later(day, activity.page.document, numbers(activity.steps, {}), minute, room))
        for activity, minute, room in looks(day)
        if person == 0
    ]
    rows = tuple(row for _, row in sorted(entries, key=lambda entry: entry[0]))
    return PersonPlan("AB"[person], rows, _long_waits(day, person))


def _groups(own: Sequence[Done], day: PlannedDay) -> list[list[Done]]:
    """Work of one page, one after the other; a break or a long gap ends it, a flood done again is a row of its own."""
    breaks = [one.start for one in day.plan.rests]
    groups: list[list[Done]] = []
    for one in own:
        last = groups[-1][-1] if groups else None
        if (
            last is not None
            and last.activity.page is one.activity.page
            and last.activity.kind == one.activity.kind
            and last.people == one.people
            and one.start - last.end < FOLDED
            and not any(last.end <= start <= one.start for start in breaks)
        ):
            groups[-1].append(one)
        else:
            groups.append([one])
    return groups


def _row(day: PlannedDay, group: list[Done], person: int) -> PersonRow:
    first, last = group[0], group[-1]
    steps = [step for one in group for step in one.activity.steps]
    again = first.activity.kind == "again"
    words, short = _words(day, group, steps)
    piece = PlanPiece(
        day.clock(first.start),
        first.activity.page.document,
        numbers(steps, day.work.instead),
        words,
        tuple(text for text in _waits(day, group) if text),
        second_of(group, steps, day.people, call_second=False),
        short,
        _after_other(day, first, person),
    )
    critical = any(one.critical for one in group)
    return PersonRow(
        piece.start,
        day.clock(last.end),
        (piece,),
        critical,
        "again" if again else "work",
        last.end - first.start,
    )


def _words(day: PlannedDay, group: list[Done], steps: Sequence[StepView]) -> tuple[str, str]:
    """One step in its own words, or the page's title; and what each round is for, a flood done again with its minutes."""
    first = group[0].activity
    if first.kind == "again":
        minutes = f"again at {', '.join(day.clock(one.start) for one in group)}"
        return f"{words_of(first.page, steps[:1], '', False).rstrip('.')}, {minutes}", minutes
    rounds = {one.activity.label: day.clock(one.start) for one in reversed(group) if one.activity.label}
    labels = [f"{name} {at}" if len(rounds) > 1 else name for name, at in reversed(rounds.items())]
    whole = words_of(first.page, steps, "", False) if len(steps) == 1 else first.page.title.split(":")[0]
    return ": ".join(filter(None, (whole.rstrip("."), ", ".join(labels)))), ", ".join(labels)


def _after_other(day: PlannedDay, first: Done, person: int) -> str:
    """What the other person must have ended for this row to begin, where nothing else holds it."""
    placed, own = day.plan.placed, {one.activity.id: one for one in done(day)}
    for link in day.work.links.get(first.activity.id, ()):
        source = link.activity.partition("+")[0]
        if link.activity not in placed or source not in own:
            continue
        other = own[source]
        waited = placed[link.activity].finish + link.least == first.start
        if waited and first.start > 0 and person not in other.people:
            page, steps = other.activity.page.document, numbers(other.activity.steps[-1:], {})
            return f"{names(other.people, day.people)} ends {page} {steps} first"
    return ""


def _waits(day: PlannedDay, group: list[Done]) -> list[str]:
    """The ends of the waits inside the row that are worth a look at the clock, and the wait after it."""
    inside = [
        f"wait to {day.clock(then.start)}" for one, then in pairwise(group)
        if then.start - one.end >= TOLD and one.activity.kind == "work"
    ]  # fmt: skip
    return [*inside, wait_of_row(day, group[-1]).replace(", at most to", ", at most")]


def _rest(day: PlannedDay, begin: int, end: int) -> PersonRow:
    words = "Break, out of the room, hands washed."
    return PersonRow(
        day.clock(begin),
        day.clock(end),
        (PlanPiece(day.clock(begin), "", "", words, short="Break, hands washed."),),
        kind="rest",
        minutes=end - begin,
    )


def _later(day: PlannedDay, page: str, steps: str, minute: int, latest: int | None) -> PersonRow:
    limit = f"{day.clock(latest)} at most" if latest is not None else ""
    piece = PlanPiece(day.clock(minute), page, steps, "Look once more.", (limit,) if limit else ())
    return PersonRow(piece.start, "", (piece,), kind="later")


def _long_waits(day: PlannedDay, person: int) -> tuple[str, ...]:
    """When the person comes, and the long waits, before any row."""
    told = []
    for begin, end in gaps(day, person):
        if begin == 0 and end >= FOLDED:
            told.append(f"Begins at {day.clock(end)}.")
        elif end - begin >= LONG:
            told.append(f"Free from {day.clock(begin)} to {day.clock(end)}, {length(end - begin)}.")
    return tuple(told)
