"""Whether somebody of the house may do a page on the day it is for (E22)."""

from __future__ import annotations

from datetime import date

from macros.ground.problems import Place, Problem
from macros.house import House


def nobody_may(house: House, key: str, level: int, day: date, place: Place) -> list[Problem]:
    """A problem where no role that is there on the day has the sign-off level of a page.

    A house that names no people is not judged.
    """
    able = [person for person in house.people if person.level >= level]
    if not house.people or any(person.is_there(day) for person in able):
        return []
    away = " and ".join(f"'{person.role}'" for person in able)
    besides = f" besides {away} who is away on {day}" if able else ""
    return [
        Problem(
            place,
            "who",
            f"sheet {key} needs sign-off {level}; nobody in people has it{besides}",
            "Each sheet has somebody who may do it",
            "Train or name somebody, or move the day",
            "E22",
        )
    ]
