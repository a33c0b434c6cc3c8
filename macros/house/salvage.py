"""The parts of a house that read well although others do not, so that rules still look at them."""

from __future__ import annotations

import copy
from typing import Any

from macros.house.base import build_record
from macros.house.house import House
from macros.problems import Place, Problem
from macros.source import Path_, Source

_NEEDED: dict[str, Any] = {"mixing_order": [], "parts": [], "stages": {}}


def whole_parts(source: Source, mistakes: list[Problem], us_gallons: bool) -> House | None:
    """The house without the sections, systems and list entries that hold a mistake; None when too little is left."""
    bad = {problem.place for problem in mistakes}
    data = copy.deepcopy(source.data)
    for section in list(data):
        value = data[section]
        if isinstance(value, list):
            kept = [i for i in range(len(value)) if not _touched(source, (section, i), bad)]
            data[section] = [value[i] for i in kept]
            _renumber(source, section, kept)
        elif _touched(source, (section,), bad):
            if section in ("house", "water_source"):
                return None
            data[section] = copy.deepcopy(_NEEDED) if section == "nutrients" else None
            if data[section] is None:
                del data[section]
    part = Source(data=data, places=source.places, file=source.file)
    house, _ = build_record(House, part, us_gallons=us_gallons)
    return house


def _touched(source: Source, path: Path_, bad: set[Place]) -> bool:
    return any(place in bad for where, place in source.places.items() if where[: len(path)] == path)


def _renumber(source: Source, section: str, kept: list[int]) -> None:
    """Move the places of kept list entries to their new positions."""
    moved = {}
    for path, place in list(source.places.items()):
        if len(path) > 1 and path[0] == section and isinstance(path[1], int):
            del source.places[path]
            if path[1] in kept:
                moved[(section, kept.index(path[1]), *path[2:])] = place
    source.places.update(moved)
