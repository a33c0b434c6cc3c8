"""The house log: what was read and done at the tanks, one CSV row each. Rows become records with file and line."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from macros.ground.field_types import (
    ClockTime,
    Conductivity,
    Day,
    Identifier,
    Length,
    MassConcentration,
    Name,
    Ph,
    Temperature,
    Text,
    Volume,
)
from macros.ground.house_files import files_of, read_file
from macros.ground.problems import Place, Problem
from macros.ground.records import Record
from macros.ground.yaml_source import Path_, unseen_character

_COLUMNS = {
    "date": ("date", ""), "time": ("time", ""), "system": ("system", ""),
    "level_cm": ("level", "cm"), "level_in": ("level", "in"),
    "added_L": ("added", "L"), "added_gal": ("added", "us_gal"),
    "ec_mS_cm": ("ec", "mS/cm"), "ph": ("ph", ""),
    "acid_mL": ("acid", "mL"), "acid_fl_oz": ("acid", "fl_oz"), "acid_chemical": ("acid_chemical", ""),
    "ph_after": ("ph_after", ""),
    "temperature_C": ("temperature", "degC"), "temperature_F": ("temperature", "degF"),
    "strip_mg_L": ("strip_reading", "mg/L"), "by": ("by", ""), "note": ("note", ""),
}  # fmt: skip
"""Column of the header -> field of the record, and the unit the column is in."""
MOST_ROWS = 20_000


class LogRow(Record):
    """What one person read and did at one tank. The level is read before water is added; blank means not read.

    `strip_reading` is what a test strip showed in the tank or in its last rinse.
    """

    date: Day
    time: ClockTime | None = None
    system: Identifier
    level: Length | None = None
    added: Volume | None = None
    ec: Conductivity | None = None
    ph: Ph | None = None
    acid: Volume | None = None
    acid_chemical: Identifier | None = None
    ph_after: Ph | None = None
    temperature: Temperature | None = None
    strip_reading: MassConcentration | None = None
    by: Name | None = None
    note: Text | None = None


def read_log(folder: Path) -> tuple[list[dict[str, Any]], dict[Path_, Place], list[Problem]]:
    """Every `log/*.csv` of a house's data folder: rows as text with units, the place of each, and what is wrong.

    The rows are typed together with the rest of the house, so that a wrong one is told like any other field.
    """
    rows: list[dict[str, Any]] = []
    places: dict[Path_, Place] = {}
    paths, problems = files_of(folder / "log", ".csv", f"{folder.name}/log", folder.parent)
    for path in paths:
        shown = f"{folder.name}/log/{path.name}"
        text, refused = read_file(path, shown, folder.parent, remedy="Start a new file a year")
        problems += refused
        if text is None:
            continue
        _read_file(text, shown, rows, places, problems)
    return rows, places, problems


def _read_file(
    text: str, shown: str, rows: list[dict[str, Any]], places: dict[Path_, Place], problems: list[Problem]
) -> None:
    reader = csv.reader(f"{line}\n" for line in text.split("\n"))  # a line ends where an editor shows its end
    try:
        _read_rows(reader, shown, rows, places, problems)
    except csv.Error:
        what = f"a value has over {csv.field_size_limit()} characters"
        remedy = "A quotation mark that nothing closes makes one value of many lines: look for it here"
        problems.append(_refusal(shown, reader.line_num, "row", what, remedy))


def _read_rows(
    reader: Any, shown: str, rows: list[dict[str, Any]], places: dict[Path_, Place], problems: list[Problem]
) -> None:
    header = [name.strip() for name in next(reader, [])]
    wrong = _wrong_header(header)
    if wrong:
        problems.append(_refusal(shown, 1, "header", wrong, f"Columns: {', '.join(_COLUMNS)}"))
        return
    for values in reader:
        line = reader.line_num
        if not any(value.strip() for value in values):
            continue
        if len(values) != len(header):
            what = f"the row has {len(values)} values, the header {len(header)} columns"
            remedy = "A decimal comma splits a value in two: write 1.42, and leave blanks empty"
            problems.append(_refusal(shown, line, "row", what, remedy))
            continue
        if len(rows) >= MOST_ROWS:
            what = f"over {MOST_ROWS} rows in all"
            problems.append(_refusal(shown, line, "row", what, "Move old years out of log/"))
            return
        row, here = {}, ("log", len(rows))
        places[here] = Place(shown, line)
        for field, value, unseen in _cells(header, values, places[here]):
            if unseen is not None:
                problems.append(unseen)
            elif value:
                row[field] = value
                places[*here, field] = places[here]
        rows.append(row)


def _wrong_header(header: list[str]) -> str:
    unknown = [name for name in header if name not in _COLUMNS]
    if unknown:
        return f"{', '.join(unknown)} is no column of a log"
    fields: dict[str, str] = {}
    for name in header:
        field = _COLUMNS[name][0]
        if field in fields:
            return f"the columns {fields[field]} and {name} say the same, and one of the two would be lost"
        fields[field] = name
    return "" if {"date", "system"} <= set(header) else "the header names no date or no system"


def _cells(header: list[str], values: list[str], at: Place) -> Iterator[tuple[str, str, Problem | None]]:
    """Each field of a row, its value with its unit (empty where nothing is written), and what is wrong with it."""
    for name, value in zip(header, values, strict=True):
        field, unit = _COLUMNS[name]
        text = f"{value.strip()} {unit}".strip() if value.strip() else ""
        yield field, text, unseen_character(value, at.file, at.line, f"log.{name}")


def _refusal(shown: str, line: int, key: str, what: str, remedy: str) -> Problem:
    return Problem(Place(shown, line), f"log.{key}", what, "", remedy)
