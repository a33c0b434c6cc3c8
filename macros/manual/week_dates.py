"""What is due between two days, from the dates among the amounts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from macros.amounts import Register

_KINDS = {
    "sow_date": "Sow",
    "dome_off": "Dome off",
    "window_opens": "Transplant window opens",
    "window_closes": "Transplant window closes",
    "harvest_first": "First harvest",
    "harvest_last": "Last harvest",
    "discard_date": "Throw out",
}


@dataclass(frozen=True)
class DueDate:
    """One thing due on a day: the words of its kind, and what it is about."""

    day: date
    what: str
    thing: str


def dates_between(register: Register, first: date, last: date) -> list[DueDate]:
    """Every date amount and every day of the plan from `first` to `last`, both included, in order."""
    due = [
        DueDate(date.fromisoformat(amount.printed), words, _thing(register, dict(amount.of)))
        for id_, words in _KINDS.items()
        for amount in register.of_id(id_)
    ]
    plan = register.house.crop_plan
    if plan is not None:
        due.append(DueDate(plan.planting_day, "Planting day", plan.cleanout_system or ""))
        if plan.cleanout_day is not None:
            due.append(DueDate(plan.cleanout_day, "Cleanout", plan.cleanout_system or ""))
    return sorted((one for one in due if first <= one.day <= last), key=lambda d: (d.day, d.what, d.thing))


def _thing(register: Register, of: dict[str, str]) -> str:
    if "chemical" in of:
        return register.house.chemical(of["chemical"]).name
    return of.get("variety", "").replace("_", " ")
