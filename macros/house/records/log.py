"""What was read and done, one CSV row each: the log of the tanks, and the record of every other value the pages write.

Rows become records with file and line.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from macros.ground.field_types import (
    ClockTime,
    Conductivity,
    Day,
    Flag,
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
from macros.ground.yaml_source import Source, unseen_character
from macros.house.records.log_slips import Table, csv_lines, header_of, wrong_header, wrong_length

LOG_COLUMNS = {
    "date": ("date", ""), "time": ("time", ""), "system": ("system", ""),
    "level_cm": ("level", "cm"), "level_in": ("level", "in"),
    "added_L": ("added", "L"), "added_gal": ("added", "us_gal"),
    "ec_mS_cm": ("ec", "mS/cm"), "ec_after_mS_cm": ("ec_after", "mS/cm"), "ph": ("ph", ""),
    "acid_mL": ("acid", "mL"), "acid_fl_oz": ("acid", "fl_oz"), "acid_chemical": ("acid_chemical", ""),
    "ph_after": ("ph_after", ""),
    "temperature_C": ("temperature", "degC"), "temperature_F": ("temperature", "degF"),
    "strip_mg_L": ("strip_reading", "mg/L"), "by": ("by", ""), "note": ("note", ""),
}  # fmt: skip
"""Column of the header -> field of the record, and the unit the column is in."""
RECORD_COLUMNS = (
    "date",
    "time",
    "page",
    "system",
    "step",
    "what",
    "value",
    "unit",
    "limits",
    "outside",
    "by",
)
"""Columns of a record, which are its fields."""
MOST_ROWS = 20_000
_PLAIN_NUMBERS = ("ph", "ph_after")
"""Fields that are a number without a unit."""
_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")


class LogRow(Record):
    """What one person read and did at one tank. The level is read before water is added; blank means not read.

    `ec` and `ph` are what was found, `ec_after` and `ph_after` what feed, water or acid left. `strip_reading` is what a test
    strip showed in the tank or in its last rinse.
    """

    date: Day
    time: ClockTime | None = None
    system: Identifier
    level: Length | None = None
    added: Volume | None = None
    ec: Conductivity | None = None
    ec_after: Conductivity | None = None
    ph: Ph | None = None
    acid: Volume | None = None
    acid_chemical: Identifier | None = None
    ph_after: Ph | None = None
    temperature: Temperature | None = None
    strip_reading: MassConcentration | None = None
    by: Name | None = None
    note: Text | None = None


class RecordRow(Record):
    """A value a step asked for that is no reading of a tank: what the page calls it, its limits as printed, whether outside."""

    date: Day
    time: ClockTime | None = None
    page: Name
    system: Identifier | None = None
    step: Name
    what: Name
    value: Text
    unit: Name | None = None
    limits: Text | None = None
    outside: Flag = False
    by: Name | None = None


LOG = Table("a log", "log", LOG_COLUMNS, ("date", "system"), ("date", "system"))
RECORDS = Table(
    "a record",
    "records",
    {name: (name, "") for name in RECORD_COLUMNS},
    ("date", "page", "step", "what", "value"),
    ("date", "page", "system", "step", "what"),
)
TABLES = (LOG, RECORDS)


def read_tables(folder: Path, merged: Source, added: Sequence[Path] = ()) -> list[Problem]:
    """Enter every `log/*.csv` and `records/*.csv` of a house's data folder into `merged`, and return what is wrong.

    The rows are typed together with the rest of the house, so that a wrong one is told like any other field; those of
    the files `added`, which are of no house yet, come last.
    """
    problems: list[Problem] = []
    for table in TABLES:
        shown_folder = f"{folder.name}/{table.section}"
        paths, unread = files_of(folder / table.section, ".csv", shown_folder, folder.parent)
        problems += unread
        for path in paths:
            shown = f"{shown_folder}/{path.name}"
            text, refused = read_file(path, shown, folder.parent, remedy="Start a new file a year")
            problems += refused
            if text is not None:
                problems += _read_table(text, shown, table, merged)
    for path in added:
        text, refused = read_file(path, shown_name(path), path.parent, remedy="Give it in parts")
        problems += refused
        if text is not None:
            problems += _read_table(text, shown_name(path), None, merged)
    return problems


def shown_name(path: Path) -> str:
    """How messages name a file that is of no house; never as one of the house's own."""
    return str(path if path.is_absolute() or path.parts[:1] == ("..",) else Path.cwd() / path)


def table_of(text: str) -> Table:
    """The kind of a file by its header: a record names its page, a row of the log does not."""
    return RECORDS if {"page", "value"} & set(header_of(text)) else LOG


def _read_table(text: str, shown: str, table: Table | None, merged: Source) -> list[Problem]:
    """The rows of a file into `merged`; without a table its header says which it is."""
    try:
        return _read_rows(text, shown, table or table_of(text), merged)
    except csv.Error:
        what = f"a value has over {csv.field_size_limit()} characters"
        remedy = "Look for a quotation mark that nothing closes: it makes one value of many lines"
        return [_refusal(table or LOG, shown, 1, "row", what, remedy)]


def _read_rows(text: str, shown: str, table: Table, merged: Source) -> list[Problem]:
    header = header_of(text)
    what, remedy = wrong_header(header, table, TABLES, csv_lines(text))
    if what:
        return [_refusal(table, shown, 1, "header", what, remedy)]
    rows: list[dict[str, Any]] = merged.data.setdefault(table.section, [])
    problems: list[Problem] = []
    for line, values, last in _rows_of(text):
        what, remedy = wrong_length(values, header, last - line + 1)
        if not what and len(rows) >= MOST_ROWS:
            what, remedy = f"over {MOST_ROWS} rows in all", f"Move old years out of {table.section}/"
        if what:
            problems.append(_refusal(table, shown, line, "row", what, remedy))
            if len(rows) >= MOST_ROWS:
                return problems
            continue
        row, here = {}, (table.section, len(rows))
        merged.places[here] = Place(shown, line)
        for field, value, wrong in _cells(header, values, table, Place(shown, line)):
            if wrong is not None:
                problems.append(wrong)
            elif value:
                row[field] = value
                merged.places[*here, field] = Place(shown, line)
        rows.append(row)
    return problems


def _rows_of(text: str) -> Iterator[tuple[int, list[str], int]]:
    """Every row that is not empty, below the header: its first line, its values, its last line."""
    reader = csv.reader(csv_lines(text))
    next(reader, None)
    before = reader.line_num
    for values in reader:
        if any(value.strip() for value in values):
            yield before + 1, values, reader.line_num
        before = reader.line_num


def _cells(
    header: list[str], values: list[str], table: Table, at: Place
) -> Iterator[tuple[str, str, Problem | None]]:
    """Each field of a row, its value with its unit (empty where nothing is written), and what is wrong with it."""
    for name, value in zip(header, (value.strip() for value in values), strict=True):
        field, unit = table.columns[name]
        wrong = unseen_character(value, at.file, at.line, f"{table.section}.{name}")
        if wrong is None and value and (unit or field in _PLAIN_NUMBERS):
            wrong = _no_number(name, value, table, at)
        yield field, f"{value} {unit}".strip() if value else "", wrong


def _no_number(name: str, value: str, table: Table, at: Place) -> Problem | None:
    """What is wrong with a cell of a column of numbers, whose unit its heading says."""
    if _NUMBER.fullmatch(value):
        return None
    what, remedy = f'"{value}" is not a number', "Write the number alone, or leave the cell empty"
    decimal_comma = re.fullmatch(r"([+-]?\d+),(\d+)", value)
    number = re.match(r"[+-]?\d+(?:\.\d+)?(?=\s*[^\d\s.,+-])", value)
    if decimal_comma:
        what = f'"{value}" has a decimal comma'
        remedy = f"Write {decimal_comma.group(1)}.{decimal_comma.group(2)}"
    elif number:
        what = f'"{value}" is more than a number; the unit stands in the heading {name}'
        remedy = f"Write {number.group()} alone if it is in that unit"
    return _refusal(table, at.file, at.line, name, what, remedy)


def _refusal(table: Table, shown: str, line: int, key: str, what: str, remedy: str) -> Problem:
    return Problem(Place(shown, line), f"{table.section}.{key}", what, "", remedy)
