"""Who may do which page of a day: A all of it, B what the roster gives to the next best person of the house."""

from __future__ import annotations

from collections.abc import Sequence

from macros.amounts import Register
from macros.house.rules.people import TRAINER
from macros.page_model.page import PageView
from macros.published.work.jobs import day_facts
from macros.training.path.sign_offs import standings


def kept_from_b(pages: Sequence[PageView], register: Register) -> frozenset[str]:
    """Keys of the pages that A alone may do, of those given.

    B is whoever of the house, A left out, may do most of them: by sign-offs in force where the house keeps any, else by
    the level of the role. A house that names no people keeps nothing from anybody.
    """
    bound = [page.key for page in pages if page.level >= day_facts().day.signed_from]
    others = _may_do(pages, register)
    if not register.house.people or not bound:
        return frozenset()
    left = [frozenset(bound) - may for may in others] or [frozenset(bound)]
    return min(left, key=len)


def _may_do(pages: Sequence[PageView], register: Register) -> list[frozenset[str]]:
    """The pages each person may do alone, without the one with the highest level."""
    house = register.house
    people = sorted(house.people, key=lambda person: -person.level)[1:]
    trained = {
        person.role: frozenset(page.key for page in pages) for person in people if person.level >= TRAINER
    }
    if not house.sign_offs:
        by_level = {p.role: frozenset(page.key for page in pages if p.level >= page.level) for p in people}
        return [*(by_level | trained).values()]
    signed: dict[str, set[str]] = {}
    for one in standings(register, pages):
        if one.in_force and one.may != "beside somebody":
            signed.setdefault(one.entry.who, set()).add(one.page.key)
    first = max(house.people, key=lambda person: person.level).role
    by_sign_off = {who: frozenset(keys) for who, keys in signed.items() if who != first}
    return [*(by_sign_off | trained).values()]
