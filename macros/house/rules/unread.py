"""What is written where nothing reads it: told, for who wrote it believes that it counts."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.ground.records import Record, nearest
from macros.house.records.house import House
from macros.house.records.people import Person
from macros.house.records.sanitizing import SanitizingTask
from macros.house.rules.report import problem_at
from macros.published.pages.frequencies import published_rhythms
from macros.published.pages.sources import sources

TASK_FIELDS = {
    "tray_spray": ("coverage", "waste_factor"),
    "parts_soak": ("loads_per_batch",),
    "tool_dip": ("batch",),
    "loop_circulate": ("run_time", "level"),
}
"""What sizes the batch of each task, or times it; every other field of a task is read for all of them."""


def check_unread(house: House) -> Iterator[Problem]:
    """Keys nobody knows, and facts that move nothing where they stand. What has a mistake of its own is told there."""
    left_out = {one for names in house.read_from.left_out.values() for one in names}
    for record, name, kind, known in _keys(house):
        for key in getattr(record, name):
            if key not in known and key not in left_out:
                remedy = nearest(key, known) or "Write one of them, or take the line out"
                what = f'"{key}" is no {kind}: nothing reads it'
                yield problem_at(record, f"{name}.{key}", what, f"There are {', '.join(known)}", remedy)
    yield from _own_names(house)
    for task, data in (house.sanitizing.tasks if house.sanitizing else {}).items():
        yield from _task(task, data)
    for person in house.people:
        yield from _may(person)


def _own_names(house: House) -> Iterator[Problem]:
    """Names the house gives are none of the manual's."""
    for field, ours in (("own_frequencies", published_rhythms()), ("own_sources", sources())):
        for key in getattr(house, field):
            if key in ours:
                what = f'"{key}" is a name of the manual\'s own'
                yield problem_at(
                    house, f"{field}.{key}", what, "A name says one thing", "Give it another name"
                )


def _keys(house: House) -> Iterator[tuple[Record, str, str, tuple[str, ...]]]:
    """Each mapping whose keys are names: its record and field, what a key is, and which there are."""
    yield house, "frequencies", "rhythm of the manual", tuple(published_rhythms())
    if house.sanitizing is not None:
        yield house.sanitizing, "tasks", "task of sanitizing", tuple(TASK_FIELDS)
    if house.crop_plan is not None:
        names = tuple(one.id for one in house.varieties)
        yield house.crop_plan, "weekly_demand", "variety of the house", names


def _task(task: str, data: SanitizingTask) -> Iterator[Problem]:
    own = TASK_FIELDS.get(task, ())
    for of, fields in TASK_FIELDS.items():
        for field in fields:
            if field in own or getattr(data, field) is None or task not in TASK_FIELDS:
                continue
            what = f"{field} under {task} is read by nothing"
            allowed = f"It is a fact of {of}" + (f"; {task} takes {', '.join(own)}" if own else "")
            yield problem_at(data, field, what, allowed, f"Take it out, or write it under {of}")


def _may(person: Person) -> Iterator[Problem]:
    """`all` makes a trainer; any other word is printed, and says nothing of the level."""
    if person.sign_off_level is not None or person.level or not person.may:
        return
    what = (
        f"{', '.join(person.may)} is printed and read by nothing: {person.role} stays at level 0, never alone"
    )
    allowed = "What a role may do alone is its sign_off_level, 1 to 4; may: [all] is level 4"
    remedy = f"Write sign_off_level under {person.role}"
    yield problem_at(person, "may", what, allowed, remedy, severity="warning")
