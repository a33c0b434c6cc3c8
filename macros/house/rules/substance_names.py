"""The words that decide cautions: what a bottle holds is a known substance, or is said to be unknown."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.ground.records import nearest
from macros.house.records.chemicals import Chemical
from macros.house.records.house import House
from macros.house.rules.report import problem_at
from macros.published.safety.substances import (
    UNKNOWN,
    another_substance,
    fits_role,
    names_of_role,
    substances,
    substances_in,
    substances_of,
    written_names,
)


def check_substances(house: House) -> Iterator[Problem]:
    """Every `active` is a substance of the list that fits its role, or `unknown`; the name says no other substance."""
    for chemical in house.chemicals:
        found = substances_in(chemical.active)
        if chemical.active.strip().lower() == UNKNOWN:
            yield _said_unknown(chemical)
        elif not found:
            yield _not_listed(chemical)
        elif not fits_role(found, chemical.role):
            yield _other_role(chemical)
        else:
            yield from _other_name(chemical)


def substance_is_told(chemical: Chemical) -> bool:
    """Whether what it holds is refused here: what follows from that is not told as well."""
    found = substances_in(chemical.active)
    unknown = chemical.active.strip().lower() == UNKNOWN
    return not unknown and (not found or not fits_role(found, chemical.role))


def _said_unknown(chemical: Chemical) -> Problem:
    what = f"what {chemical.id} holds is not known; it gets the cautions of the worst {chemical.role}"
    allowed = "The label and section 3 of its safety data sheet name the active substance"
    return problem_at(chemical, "active", what, allowed, "Read them and write it", severity="warning")


def _not_listed(chemical: Chemical) -> Problem:
    what = f'"{chemical.active}" is no substance of the list, so its cautions are not known'
    allowed = f"Known for role {chemical.role}: {', '.join(names_of_role(chemical.role))}"
    near = nearest(chemical.active.lower(), written_names())
    written = f"Write it by one of its names, or active: {UNKNOWN}, which gets the strictest cautions"
    remedy = f"{near} {written}" if near else written
    return problem_at(chemical, "active", what, allowed, remedy)


def _other_role(chemical: Chemical) -> Problem:
    what = f"{chemical.active} is no {chemical.role}"
    allowed = f"Known for role {chemical.role}: {', '.join(names_of_role(chemical.role))}"
    return problem_at(chemical, "active", what, allowed, "Read the label again: mend active or role")


def _other_name(chemical: Chemical) -> Iterator[Problem]:
    """The bottle is called by one substance and said to hold another: its cautions would be those of the other."""
    foreign = another_substance(chemical.name, substances_of(chemical.active, chemical.role))
    if foreign:
        what = f'it is called "{chemical.name}", and its active is {chemical.active}'
        allowed = f"The cautions are those of {chemical.active}, not of {substances()[foreign].name}"
        remedy = "Read the label again; where both are in it, write both under active"
        yield problem_at(chemical, "active", what, allowed, remedy, severity="warning")
