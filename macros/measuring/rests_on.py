"""What each page rests on: the facts behind its amounts and those it prints as they are."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from macros.amounts import Register
from macros.manual.pages.build_page import BuiltPage

REASON_WORDS = 6
"""The most words a reason has."""

_FACT = re.compile(r'\bfact\(\\*["\']([\w.]+)')


@dataclass(frozen=True)
class RestsOn:
    """Page -> the facts it rests on; fact -> the name of the nearest amount that is worked out from it."""

    pages: Mapping[str, frozenset[str]]
    amounts: Mapping[str, str]

    def weight(self, fact: str) -> int:
        """On how many pages a fact tells."""
        return sum(fact in facts for facts in self.pages.values())

    def own(self, open_: Iterable[str]) -> list[str]:
        """The pages that rest on nothing that is open."""
        still = frozenset(open_)
        return [page for page, facts in self.pages.items() if not facts & still]


def rests_on(built: Iterable[BuiltPage], register: Register) -> RestsOn:
    """As worked out from the inputs of every amount, for the pages of this house."""
    house = register.house
    everywhere = {"house.name", *(record.key(name) for record, name in house.unfilled())}
    pages = {}
    for page in built:
        facts = set(everywhere)
        for key in page.content.worked_from:
            amount = register.of_key(key)
            facts |= {item.name for item in amount.inputs} if amount is not None else set()
        if page.content.system:
            facts.add(f"systems[{page.content.system}].name")
        if page.data is not None:
            facts |= set(_FACT.findall(json.dumps(page.data.as_written)))
        pages[page.content.key] = frozenset(facts)
    return RestsOn(pages, _nearest(register))


def _nearest(register: Register) -> dict[str, str]:
    """For each fact the amount with the fewest inputs that has a name short enough for a reason."""
    found: dict[str, tuple[int, str]] = {}
    for amount in register.all():
        if len(amount.label.split()) > REASON_WORDS:
            continue
        for item in amount.inputs:
            best = found.get(item.name)
            if best is None or (len(amount.inputs), amount.label) < best:
                found[item.name] = len(amount.inputs), amount.label
    return {name: label for name, (_, label) in found.items()}
