"""Where a house must be mended so that a page gets what it asks for: the line of the fact, never that of the page."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from macros.amounts.engine.amount import of_tuple
from macros.amounts.engine.register import Register
from macros.amounts.not_given import NOT_ASKED, cause_of, root_of
from macros.ground.problems import Place, Problem
from macros.ground.records import Record
from macros.house import House

WHAT = "this is missing, and pages of the manual ask for it"
REMEDY = "Write it here"

_ASKED_BY_TASK = {
    "batch_spray": "coverage", "batch_tool_dip": "batch", "rinse_count_trays": "coverage", "loop_volume": "level",
}  # fmt: skip
"""What a task of cleaning must say before an amount is worked out for it at all."""


def missing_fact(house: House, path: str) -> Problem | None:
    """A fact a page asks for by its path, as `sanitizing.rinse.residue_allowed`, told where it would stand; None for a path
    that no house has.
    """
    record: Any = house
    at, field = house.place("house"), ""
    for step in path.split("."):
        if isinstance(record, Record):
            if step not in type(record).model_fields:
                return None
            at, field = record.place(step), record.key(step)
            record = getattr(record, step)
        else:
            field = f"{field}.{step}"
            record = record.get(step) if isinstance(record, Mapping) else None
        if record is None:
            break
    left = path.removeprefix(field)
    return Problem(at, path if left.startswith(".") else field or path, WHAT, "", REMEDY)


def missing_amount(register: Register, id_: str, of: Mapping[str, str]) -> Problem | None:
    """The fact that an amount waits for, where it would stand; None where the page asks for what no house has.

    Parameters
    ----------
    of : the keys it was asked with; those of the page that it has not do no harm
    """
    wanted = set(of_tuple(dict(of)))
    tried = [key for key in sorted(register.withheld) if key[0] == id_ and set(key[1]) <= wanted]
    if not tried and _is_there(register, id_, of.get("system")):
        return None
    root = root_of(register, tried[0] if tried else (id_, of_tuple(dict(of))))
    cause = cause_of(register, root)
    if cause.fact:
        file, _, line = cause.where.split(", ")[0].rpartition(":")
        at = Place(file, int(line)) if file else register.house.place("house")
        return Problem(at, cause.fact, WHAT, "", REMEDY)
    return _told_of(register.house, root[0], dict(root[1]) or dict(of), cause.text)


def _is_there(register: Register, id_: str, system: str | None) -> bool:
    """Whether the system, or the house where none is named, has an amount of this id."""
    return any(system is None or dict(one.of).get("system", system) == system for one in register.of_id(id_))


def _told_of(house: House, id_: str, of: Mapping[str, str], why: str) -> Problem | None:
    """What is not worked out for another reason, told at the task or system it is for."""
    tasks = house.sanitizing.tasks if house.sanitizing else {}
    if of.get("task") in tasks or id_ in _ASKED_BY_TASK:
        task = tasks.get(of.get("task", "tray_spray"))
        field = _ASKED_BY_TASK.get(id_, "chemical")
        if task is None:
            return Problem(house.place("sanitizing"), "sanitizing.tasks", WHAT, "", REMEDY)
        if why == NOT_ASKED and getattr(task, field) is None:
            return Problem(task.place(field), task.key(field), WHAT, "", REMEDY)
        return Problem(
            task.place("chemical"), task.key("chemical"), f"pages ask for what this task lacks: {why}"
        )
    if why == NOT_ASKED:
        return None
    system = next((one for one in house.systems if one.id == of.get("system")), None)
    record, field = (system, "id") if system is not None else (house, "house")
    return Problem(
        record.place(field), record.key(field), f"pages ask for what is not worked out here: {why}"
    )
