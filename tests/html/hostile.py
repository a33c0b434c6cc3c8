"""A house whose every free text is hostile, found by the types of its records, so that a new field is hostile as well."""

from __future__ import annotations

import copy
import csv
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args, get_origin

from pydantic import WithJsonSchema

from macros.ground.records import Record
from macros.ground.yaml_source import Path_
from macros.house.records.house import House
from macros.house.records.log import RECORD_COLUMNS
from tests.facts import source_of

LEFT_OUT = {
    "Chemical.active": "a substance of the published list",
    "Chemical.never_with": "groups of the published list",
    "Chemical.store_with": "a group of the published list",
    "Chemical.sds_codes": "codes of the published list",
    "EdibleEntry.botanical": "the varieties are looked up by it",
    "EdibleEntry.parts": "parts of the published list",
    "Rinse.verify_with": "the name of a strip, which is hostile",
    "Variety.botanical": "looked up in the edible list",
    "Variety.part": "looked up in the edible list",
    "Block.cup_plates": "system, shelf and half, read by a pattern",
    "CropPlan.weekly_demand": "a count or a mass, read as a figure",
    "House.sow_layout": "ids of varieties",
    "House.frequencies": "a rhythm, read as a figure",
    "HouseFacts.currency": "the currency of every price",
    "HouseFacts.site_address": "an address, read by a pattern",
    "Issued.page": "the key of a page",
    "Issued.values_code": "the code of a page",
    "Person.initials": "two to four capital letters, read by a pattern",
    "Person.may": "one of its words makes the level",
}
"""Fields that are no free text although their type is: record and field, and what reads them."""

MARK = re.compile(r"Zq(\d+)q")


def hostile_house(folder: Path, text: str) -> tuple[Path, dict[int, str]]:
    """The fourth house with `text` and a number of its own in every free text; number -> record and field."""
    data = copy.deepcopy(source_of("fourth").data)
    data["inventory"] = [{"thing": "torch"}]
    data["issued"] = [
        {"page": "SOP-08-K", "revision": "1", "effective": "2031-04-01", "approved_by": "", "why": "", "values_code": "0000"},
        {"page": "SOP-08-K", "revision": "2", "effective": "2031-04-02", "approved_by": "", "why": "", "values_code": "0000"},
    ]  # fmt: skip
    data["wall_copies"] = [
        {"item": "SOP-08-K", "where": "", "count": "1", "printed": "1"},
        {"item": "SOP-08-K", "where": "", "count": "2", "printed": "2"},
    ]
    fields: dict[int, str] = {}
    for number, (path, name) in enumerate(list(free_texts(House, data, ()))):
        holder = data
        for step in path[:-1]:
            holder = holder[step]
        holder[path[-1]] = f"{text} Zq{number}q"
        fields[number] = name
    data["sanitizing"]["rinse"]["verify_with"] = data["test_strips"][0]["name"]
    place = folder / "house" / "site_data"
    (place / "log").mkdir(parents=True)
    _hostile_record(place / "records", text, fields)
    (place / "house.yml").write_text(json.dumps(data, ensure_ascii=False, indent=1), encoding="utf-8")
    return place.parent, fields


def _hostile_record(folder: Path, text: str, fields: dict[int, str]) -> None:
    """A value outside its limits, as a phone gives it, with a hostile text in every cell that takes one."""
    columns = ("what", "value", "limits", "by")
    numbers = {column: len(fields) + place for place, column in enumerate(columns)}
    row = {column: f"{text} Zq{number}q" for column, number in numbers.items()}
    fields.update({number: f"RecordRow.{column}" for column, number in numbers.items()})
    folder.mkdir(parents=True)
    with (folder / "a.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, RECORD_COLUMNS)
        writer.writeheader()
        writer.writerow({**row, "date": "2031-05-01", "page": "SOP-16", "step": "floor", "outside": "yes"})


def free_texts(model: type[Record], data: dict[str, Any], path: Path_) -> Iterator[tuple[Path_, str]]:
    """Way and name of every free text of the data, those it could hold and does not included."""
    for field, info in model.model_fields.items():
        key = info.alias or field
        here, name, value = (*path, key), f"{model.__name__}.{field}", data.get(key)
        parts = list(_parts(info.annotation))
        record = next((part for part in parts if isinstance(part, type) and issubclass(part, Record)), None)
        shape = next((part for part in (tuple, dict) if part in map(get_origin, parts)), None)
        if record is not None and value is not None:
            for at, item in _items(value, here, shape):
                yield from free_texts(record, item, at)
        elif name in LEFT_OUT or (shape is not None and not value):
            continue
        elif any(_is_text([*info.metadata, *parts])):
            yield from ((at, name) for at, _ in _items(value, here, shape))


def _parts(annotation: Any) -> Iterator[Any]:
    """A type and everything inside it."""
    yield annotation
    for part in get_args(annotation):
        yield from _parts(part)


def _is_text(parts: list[Any]) -> Iterator[bool]:
    """Only the free texts of the house are bounded in length."""
    return ("maxLength" in (part.json_schema or {}) for part in parts if isinstance(part, WithJsonSchema))


def _items(value: Any, path: Path_, shape: type | None) -> list[tuple[Path_, Any]]:
    if shape is None:
        return [(path, value)]
    return [((*path, at), item) for at, item in (value.items() if shape is dict else enumerate(value))]
