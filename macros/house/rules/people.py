"""Rules on sign-offs that need no page: who signs, for whom, at which level."""

from __future__ import annotations

from macros.ground.problems import Problem
from macros.house.records.house import House
from macros.house.records.sign_offs import SignOff, is_initials
from macros.house.rules.report import told

TRAINER = 4
"""The level that may train and sign off others."""


def check_sign_offs(house: House) -> list[Problem]:
    """Every sign-off names people the house knows, and its trainer was one on that day."""
    problems: list[Problem] = []
    seen: set[tuple[str, str, object]] = set()
    for entry in house.sign_offs:
        problems += _people(house, entry)
        if entry.level is not None and not 1 <= entry.level <= TRAINER:
            problems.append(
                told(
                    entry,
                    "level",
                    f"{entry.level} is no level of a sign-off",
                    "1 watches and rinses, 2 works under eyes, 3 works alone, 4 trains others",
                    "Write one of them, or leave the line out",
                )
            )
        name = (entry.who, entry.procedure, entry.when)
        if name in seen:
            problems.append(
                told(
                    entry,
                    "when",
                    f"{entry.who} is signed off for {entry.procedure} twice on {entry.when}",
                    "One sign-off a day for a person and a page",
                    "Remove one",
                    "E32",
                )
            )
        seen.add(name)
    return problems


def _people(house: House, entry: SignOff) -> list[Problem]:
    roles = [person.role for person in house.people]
    unknown = [
        told(
            entry,
            field,
            f'"{value}" is no role under people and no initials',
            f"Roles are {', '.join(roles) or 'not listed'}; initials are 2 to 4 capital letters, as QM or Q.M.",
            "Write one of them; a full name stays out of the file",
        )
        for field, value in (("who", entry.who), ("by", entry.by))
        if value not in roles and not is_initials(value)
    ]
    if unknown:
        return unknown
    if entry.by == entry.who:
        return [
            told(
                entry,
                "by",
                f"{entry.who} signs for itself",
                "A trainer watches and signs; nobody signs the own work",
                "Name who watched",
            )
        ]
    if may_train(house, entry):
        return []
    return [
        told(
            entry,
            "by",
            f"nothing on file says that {entry.by} may train for {entry.procedure} on {entry.when}",
            "A trainer is a role of level 4 under people, or has an earlier sign-off of level 4 for the page",
            "Name another, or enter the trainer's own sign-off first",
        )
    ]


def may_train(house: House, entry: SignOff) -> bool:
    """Whether who signed could train then: a role of level 4, or an earlier sign-off of level 4."""
    if any(person.role == entry.by and person.level >= TRAINER for person in house.people):
        return True
    return any(
        own.who == entry.by
        and own.level == TRAINER
        and own.when < entry.when  # strictly: else two could make each other trainers on one day
        and own.covers(entry.procedure)
        for own in house.sign_offs
    )
