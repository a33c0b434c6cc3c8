"""Every fact of a house as its owner wrote it, by the name messages give it, with its place."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from macros.ground.yaml_source import Path_, human_path
from macros.house.records.house import House

HISTORY = ("issued", "sign_offs", "reviews", "wall_copies")
"""Sections that tell what was done to the manual; no page is worked out from them."""

LOG, RECORDS = "log", "records"
"""The section of readings: hundreds of rows, told as one fact."""


STARS = 4
"""Up to so many facts of one name are told apart by stars, more by their number."""


@dataclass(frozen=True)
class WrittenFact:
    """A fact: its text in the file, and `file:line`."""

    text: str
    where: str


def written_facts(house: House) -> dict[str, WrittenFact]:
    """Name, as `systems[A].reservoir.inside_length`, -> the fact; a list of single texts is one fact."""
    source = house.read_from
    found: dict[str, WrittenFact] = {}
    times: dict[str, int] = {}
    for path, text in _leaves(source.data, ()):
        name = human_path(source, path)
        before = times[name] = (
            times.get(name, -1) + 1
        )  # two bottles of one id stand in one list: both are facts
        mark = "*" * before if before < STARS else f"*{before}"
        found[name + mark] = WrittenFact(text, str(source.place(path)))
    if house.log:
        rows = sha256(json.dumps(source.data[LOG], sort_keys=True, default=str).encode()).hexdigest()
        found[LOG] = WrittenFact(f"{len(house.log)} rows, code {rows[:8]}", str(source.place((LOG,))))
    return found


def _leaves(data: Any, path: Path_) -> Iterator[tuple[Path_, str]]:
    if isinstance(data, dict):
        for name, item in data.items():
            if path or name not in (*HISTORY, LOG, RECORDS):
                yield from _leaves(item, (*path, name))
    elif isinstance(data, list):
        if any(isinstance(item, dict | list) for item in data):
            for number, item in enumerate(data):
                yield from _leaves(item, (*path, number))
        else:
            yield path, ", ".join("" if item is None else str(item) for item in data)
    else:
        yield path, "" if data is None else str(data)
