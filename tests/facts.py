"""Facts of the test houses as text: every leaf, a copy with some of them changed, and the amounts of such a copy."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

from macros.amounts import Register, compute_amounts
from macros.ground.records import build_record
from macros.ground.yaml_source import Path_, Source, read_yaml
from macros.house.records.house import House
from macros.house.rules import check_house
from tests.making import HOUSES

EVERY_HOUSE = ("first", "second", "third", "fourth")


def source_of(name: str) -> Source:
    """The facts of a test house as text, with the place of each."""
    source, problems = read_yaml(HOUSES / name / "site_data" / "house.yml", "site_data/house.yml")
    assert problems == []
    assert source is not None
    return source


def leaves(data: Any, path: Path_ = ()) -> Iterator[tuple[Path_, str]]:
    """Every text of the house with the way to it."""
    if isinstance(data, dict | list):
        for step, item in data.items() if isinstance(data, dict) else enumerate(data):
            yield from leaves(item, (*path, step))
    elif isinstance(data, str):
        yield path, data


def with_texts(source: Source, texts: dict[Path_, str]) -> Source:
    """A copy of the house with these texts in place of its own; each must be there."""
    data = copy.deepcopy(source.data)
    for path, text in texts.items():
        holder = data
        for step in path[:-1]:
            holder = holder[step]
        assert isinstance(holder[path[-1]], str), path
        holder[path[-1]] = text
    return Source(data=data, places=source.places, file=source.file)


def register_of(source: Source) -> Register:
    """The amounts of a house that says nothing worse than warnings of its own facts."""
    us = source.data["house"].get("unit_style") == "us"
    house, problems = build_record(House, source, us_gallons=us)
    assert house is not None, [str(problem) for problem in problems]
    refused = [str(problem) for problem in check_house(house, None) if problem.severity == "error"]
    assert refused == []
    assert house.house.as_of is not None
    return compute_amounts(house, house.house.as_of, house.house.place("as_of"))
