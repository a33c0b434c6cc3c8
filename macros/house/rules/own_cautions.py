"""Rules on the house's own cautions that need no page: their names, their texts, that they stand somewhere."""

from __future__ import annotations

import re
from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.house.records.house import House
from macros.house.rules.report import problem_at

_ID = re.compile(r"OWN-[A-Z0-9][A-Z0-9-]*")
"""No caution of the manual begins so: one of the house can take the place of none of ours."""
_TEXTS = ("title", "hazard", "consequence", "avoidance")


def check_own_cautions(house: House) -> Iterator[Problem]:
    """Each has a name of its own, plain words and a step."""
    for one in house.own_cautions:
        if _ID.fullmatch(one.id) is None:
            what = f'"{one.id}" is no name of a caution of your own'
            allowed = "OWN- and capital letters, digits or hyphens: it stands beside the cautions of the manual and replaces none"
            yield problem_at(one, "id", what, allowed, "Write it so, as OWN-FAN")
        for field in _TEXTS:
            if set("{}") & set(getattr(one, field)):
                what = "braces stand in a caution"
                yield problem_at(one, field, what, "Plain words", "Write the value itself")
        if not one.before:
            what = f"{one.id} stands before no step"
            yield problem_at(
                one, "before", what, "A page and a step, as SOP-91 unplug", "Name the step it guards"
            )
