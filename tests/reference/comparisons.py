"""The sourced cases of this folder, and how far each calculation lies from them."""

from __future__ import annotations

import importlib
import math
import pkgutil
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from macros import calculations
from macros.amounts import Register, compute_amounts
from macros.calculations.feed.solution import Solutes
from macros.calculations.scheduler import Link, NetworkActivity
from macros.calculations.water import volumes
from macros.ground.records import build_record
from macros.house.records.house import House
from tests.facts import source_of, with_texts

FOLDER = Path(__file__).parent
MODULES = {
    one.name.rpartition(".")[2]: one.name
    for one in pkgutil.walk_packages(calculations.__path__, "macros.calculations.")
}
"""Each module of the calculations by its last name."""
TRANSFORMS = {
    "log10": math.log10,
    "sites": lambda succession: succession.sites,
    "count": len,
    "finish": lambda times: max(one.earliest_finish for one in times),
    "earliest_starts": lambda times: [one.earliest_start for one in times],
    "latest_starts": lambda times: [one.latest_start for one in times],
    "total_floats": lambda times: [one.total_float for one in times],
    "pk": lambda constants: [-math.log10(constant) for constant in constants],
}


def cases() -> list[dict[str, Any]]:
    """All cases; those of a grid share its source."""
    return [
        case
        for path in sorted(FOLDER.glob("*.yml"))
        for case in yaml.safe_load(path.read_text(encoding="utf-8"))
    ]


def comparisons(case: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """A grid as single comparisons."""
    for row in case.get("rows", [None]):
        if row is None:
            yield case
        else:
            values = dict(zip(case["columns"], row, strict=True))
            yield {**case, "expected": values.pop("expected"), "inputs": values}


def computed(case: dict[str, Any]) -> Any:
    """What our calculation gives for one comparison; `amount.ID` is an amount of a house with the texts of `inputs`."""
    module, function = case["function"].split(".")
    if module == "amount":
        found = _register(tuple(case["inputs"].items())).get(function, **case.get("of", {})).exact
        return date.fromisoformat(found).toordinal() if isinstance(found, str) else found
    compute = getattr(importlib.import_module(MODULES[module]), function)
    found = compute(**{name: _built(name, value) for name, value in case["inputs"].items()})
    return TRANSFORMS[case["transform"]](found) if "transform" in case else found


@cache
def _register(texts: tuple[tuple[str, str], ...]) -> Register:
    """The amounts of the fourth house with these texts in place of its own; a room of a handbook keeps to no rule."""
    paths = {tuple(int(one) if one.isdigit() else one for one in way.split(".")): text for way, text in texts}
    house, _ = build_record(House, with_texts(source_of("fourth"), paths))
    assert house is not None
    assert house.house.as_of is not None
    return compute_amounts(house, house.house.as_of, house.house.place("as_of"))


def _built(name: str, value: Any) -> Any:
    """A shape, solutes or activities (id: [minutes, ids it comes after]) from their data; everything else as it is."""
    if name == "shape":
        ((kind, sizes),) = value.items()
        return getattr(volumes, kind)(*sizes)
    if name == "activities":
        return [
            NetworkActivity(id, minutes, after=tuple(map(Link, before)))
            for id, (minutes, *before) in value.items()
        ]
    return Solutes(**value) if name == "solutes" else value


def expected(case: dict[str, Any]) -> Any:
    """The value of the source; a day as its number, so that a day off is told."""
    return case["expected"].toordinal() if isinstance(case["expected"], date) else case["expected"]


def deviation(case: dict[str, Any]) -> float:
    """The largest relative distance of one comparison; 0 beside 0."""
    found, wanted = computed(case), expected(case)
    pairs = zip(found, wanted, strict=True) if isinstance(wanted, list) else [(found, wanted)]
    return max(abs(a - b) / abs(b) if b else abs(a) for a, b in pairs)
