"""Rules on sign-offs that need no page: who signs, for whom, at which level."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from macros.ground.problems import Problem
from macros.house.records.house import House
from macros.house.records.sign_offs import SignOff, is_initials
from macros.house.rules.report import problem_at

TRAINER = 4
"""The level that may train and sign off others."""


def check_sign_offs(house: House) -> Iterator[Problem]:
    """Every sign-off names people the house knows, and its trainer was one on that day."""
    seen: set[tuple[str, str, object]] = set()
    for entry in house.sign_offs:
        yield from _people(house, entry)
        yield from _before_first_day(house, entry)
        if entry.level is not None and not 1 <= entry.level <= TRAINER:
            what = f"{entry.level} is no level of a sign-off"
            allowed = "1 beginner, 2 helper, 3 lead, 4 trainer"
            yield problem_at(entry, "level", what, allowed, "Write one of them, or leave the line out")
        name = (entry.who, entry.procedure, entry.when)
        if name in seen:
            what = f"{entry.who} is signed off for {entry.procedure} twice on {entry.when}"
            allowed = "One sign-off a day for a person and a page"
            yield problem_at(entry, "when", what, allowed, "Remove one", "E32")
        seen.add(name)


def _people(house: House, entry: SignOff) -> Iterator[Problem]:
    roles = [person.role for person in house.people]
    known = (
        f"Roles are {', '.join(roles) or 'not listed'}; initials are 2 to 4 capital letters, as QM or Q.M."
    )
    strangers = [name for name in ("who", "by") if not _known(getattr(entry, name), roles)]
    for field in strangers:
        what = f'"{getattr(entry, field)}" is no role under people and no initials'
        yield problem_at(entry, field, what, known, "Write one of them; a full name stays out of the file")
    if strangers:
        return
    if house.role_of(entry.by) == house.role_of(entry.who):
        allowed = "A trainer watches and signs; nobody signs the own work"
        yield problem_at(entry, "by", f"{entry.who} signs for itself", allowed, "Name who watched")
        return
    if may_train(house, entry):
        return
    what = f"nothing on file says that {entry.by} may train for {entry.procedure} on {entry.when}"
    allowed = (
        "A trainer is a role of level 4 under people, or has an earlier sign-off of level 4 for the page"
    )
    yield problem_at(entry, "by", what, allowed, "Name another, or enter the trainer's own sign-off first")


def _before_first_day(house: House, entry: SignOff) -> Iterator[Problem]:
    """Nobody is signed off, or was watched in a run, before the first day of work."""
    own = next((person for person in house.people if person.role == house.role_of(entry.who)), None)
    if own is None:
        return
    for field, days in (("when", (entry.when,)), ("runs", entry.runs)):
        for day in days:
            if not own.has_started(day):
                what = f"{day} is before {own.starts}, the first day of {own.role}"
                allowed = "Nobody is signed off before the first day of work"
                yield problem_at(
                    entry, field, what, allowed, f"Mend the date, or starts of {own.role} under people"
                )


def _known(name: str, roles: list[str]) -> bool:
    return name in roles or is_initials(name)


def check_initials(house: House) -> Iterator[Problem]:
    """Initials are initials, and stand for one role."""
    seen: dict[str, str] = {}
    for person in house.people:
        if person.initials is None:
            continue
        first = seen.setdefault(person.initials.replace(".", ""), person.role)
        if not is_initials(person.initials):
            what = f'"{person.initials}" is no initials'
            allowed = "2 to 4 capital letters, as QM or Q.M.; a full name stays out of the file"
            yield problem_at(person, "initials", what, allowed, "Write them so")
        elif first != person.role:
            what = f"{person.initials} stands for {first} and for {person.role}"
            yield problem_at(
                person, "initials", what, "Initials are of one person", "Add a digit: QM2", "E32"
            )


def trainers(house: House, day: date) -> list[str]:
    """The roles that may train and approve on a day: of level 4, their first day come."""
    return [one.role for one in house.people if one.level >= TRAINER and one.has_started(day)]


def may_train(house: House, entry: SignOff) -> bool:
    """Whether who signed could train then: a role of level 4, or an earlier sign-off of level 4."""
    if house.role_of(entry.by) in trainers(house, entry.when):
        return True
    return any(
        house.role_of(own.who) == house.role_of(entry.by)
        and own.level == TRAINER
        and own.when < entry.when  # strictly: else two could make each other trainers on one day
        and own.covers(entry.procedure)
        for own in house.sign_offs
    )
