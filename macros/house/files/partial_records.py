"""The parts of a house that read well although others do not, so that rules still look at them."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from typing import Any

from macros.ground.problems import Problem
from macros.ground.records import build_record
from macros.ground.yaml_source import Source
from macros.house.records.house import House

_NEEDED: dict[str, Any] = {"mixing_order": [], "parts": [], "stages": {}}


def whole_parts(source: Source, mistakes: list[Problem], us_gallons: bool) -> House | None:
    """The house without the sections, systems and list entries that hold a mistake; None when too little is left."""
    bad = {problem.place for problem in mistakes}
    touched = {path[:length] for path, place in source.places.items() if place in bad for length in (1, 2)}
    data = copy.deepcopy(source.data)
    lists: set[str] = set()
    places: dict[tuple[str, int], int] = {}
    for section in list(data):
        value = data[section]
        if isinstance(value, list):
            kept = [i for i in range(len(value)) if (section, i) not in touched]
            data[section] = [value[i] for i in kept]
            places |= {(section, old): new for new, old in enumerate(kept)}
            lists.add(section)
        elif (section,) in touched:
            if section in ("house", "water_source"):
                return None
            data[section] = copy.deepcopy(_NEEDED) if section == "nutrients" else None
            if data[section] is None:
                del data[section]
    _renumber(source, lists, places)
    part = Source(data=data, places=source.places, file=source.file)
    house, _ = build_record(House, part, us_gallons=us_gallons)
    return house


def _renumber(source: Source, lists: set[str], new: Mapping[tuple[str, int], int]) -> None:
    """Move the places of kept list entries to their new positions; those of the others go."""
    moved = {}
    for path, place in list(source.places.items()):
        if len(path) > 1 and path[0] in lists and isinstance(path[1], int):
            del source.places[path]
            if path[:2] in new:
                moved[(path[0], new[path[0], path[1]], *path[2:])] = place
    source.places.update(moved)
