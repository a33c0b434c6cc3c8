"""Who may do which page of a day: A all of it, B what the roster gives to the next best person of the house."""

from __future__ import annotations

from collections.abc import Sequence

from macros.amounts import Register
from macros.house.records.people import Person
from macros.house.rules.people import TRAINER
from macros.page_model.page import PageView
from macros.published.labour.jobs import day_facts
from macros.training.path.sign_offs import standings


def kept_from_b(pages: Sequence[PageView], register: Register) -> frozenset[str]:
    """Keys of the pages that A alone may do, of those given.

    B is whoever of the house, A left out, may do most of them: by sign-offs in force where the house keeps any, else by
    the level of the role. A house that names no people keeps nothing from anybody.
    """
    bound = [page.key for page in pages if page.level >= day_facts().day.signed_from]
    if not register.house.people or not bound:
        return frozenset()
    left = [frozenset(bound) - may for may in _may_do(pages, register)] or [frozenset(bound)]
    return min(left, key=len)


def _may_do(pages: Sequence[PageView], register: Register) -> list[frozenset[str]]:
    """The pages each person may do alone, without the one with the highest level."""
    first, people = _there(register)[:1], _there(register)[1:]
    if not register.house.sign_offs:
        return [frozenset(page.key for page in pages if one.level >= page.level) for one in people]
    signed = _signed(pages, register)
    for one in people:
        if one.level >= TRAINER:
            signed[one.role] = {page.key for page in pages}
    return [frozenset(keys) for who, keys in signed.items() if who not in [one.role for one in first]]


def _there(register: Register) -> list[Person]:
    """Whose first day has come, the highest level first."""
    there = (person for person in register.house.people if person.has_started(register.day))
    return sorted(there, key=lambda person: -person.level)


def _signed(pages: Sequence[PageView], register: Register) -> dict[str, set[str]]:
    """Who is signed off for which pages, in force and alone."""
    found: dict[str, set[str]] = {}
    for one in standings(register, pages):
        if one.in_force and one.may != "beside somebody":
            found.setdefault(one.entry.who, set()).add(one.page.key)
    return found
