"""The parts of a house that read well although others do not, so that rules still look at them."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from typing import Any

from macros.ground.problems import Problem
from macros.ground.records import build_record
from macros.ground.yaml_source import ANY_NAME, Path_, Source
from macros.house.records.house import House

_NEEDED: dict[str, Any] = {"mixing_order": [], "parts": [], "stages": {}}


def whole_parts(source: Source, mistakes: list[Problem], us_gallons: bool) -> House | None:
    """The house without the sections, systems and list entries that hold a mistake; None when too little is left."""
    bad = {problem.place for problem in mistakes}
    touched = {path[:length] for path, place in source.places.items() if place in bad for length in (1, 2)}
    if {("house",), ("water_source",)} & touched:
        return None
    data = copy.deepcopy(source.data)
    _renumber(source, _kept_entries(data, touched))
    for section in [
        name for name, value in data.items() if (name,) in touched and not isinstance(value, list)
    ]:
        del data[section]
        if section == "nutrients":
            data[section] = copy.deepcopy(_NEEDED)
    left_out = _left_out(source.data, data, mistakes)
    part = Source(data=data, places=source.places, file=source.file, left_out=left_out)
    house, _ = build_record(House, part, us_gallons=us_gallons)
    return house


def _left_out(
    written: dict[str, Any], kept: dict[str, Any], mistakes: list[Problem]
) -> dict[str, frozenset[str]]:
    """The sections of which something is left out, each with the names of it."""
    unread = any(problem.key.endswith((".id", ".name", ".role")) for problem in mistakes)
    return {
        section: (_names(value) - _names(kept.get(section))) | ({ANY_NAME} if unread else set())
        for section, value in written.items()
        if value != kept.get(section)
    }


def _names(data: Any) -> frozenset[str]:
    """Every name under which something else may ask for an entry."""
    found: set[str] = set()
    if isinstance(data, dict):
        found |= {
            value for key, value in data.items() if key in ("id", "name", "role") and isinstance(value, str)
        }
        found |= {key for key, value in data.items() if isinstance(value, dict)}
        data = list(data.values())
    for item in data if isinstance(data, list) else ():
        found |= _names(item)
    return frozenset(found)


def _kept_entries(data: dict[str, Any], touched: set[Path_]) -> dict[str, dict[int, int]]:
    """Take the touched entries out of every list; for each list, the old position of what is kept -> the new one."""
    moved = {}
    for section, value in data.items():
        if isinstance(value, list):
            kept = [index for index in range(len(value)) if (section, index) not in touched]
            moved[section] = {old: new for new, old in enumerate(kept)}
            value[:] = [value[index] for index in kept]
    return moved


def _renumber(source: Source, new: Mapping[str, Mapping[int, int]]) -> None:
    """Move the places of kept list entries to their new positions; those of the others go."""
    moved = {}
    for path, place in list(source.places.items()):
        section, index = (*path, None, None)[:2]
        if isinstance(section, str) and isinstance(index, int) and section in new:
            del source.places[path]
            if index in new[section]:
                moved[section, new[section][index], *path[2:]] = place
    source.places.update(moved)
