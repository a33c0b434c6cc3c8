"""What was read and done, one CSV row each: the log of the tanks, and the record of every other value the pages write.

Rows become records with file and line.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import pairwise
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


@dataclass(frozen=True)
class Table:
    """One kind of CSV file.

    Parameters
    ----------
    section : the section of the house its rows are, and the folder its files lie in
    columns : column of the header -> field and unit
    needed : columns a header must have
    same : fields that tell whose reading a row is, beside its time
    """

    section: str
    columns: Mapping[str, tuple[str, str]]
    needed: tuple[str, ...]
    same: tuple[str, ...]


LOG = Table("log", LOG_COLUMNS, ("date", "system"), ("date", "system"))
RECORDS = Table(
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


def header_of(text: str) -> list[str]:
    """The names in the first line."""
    return [name.strip() for name in next(csv.reader(csv_lines(text)), [])]


def csv_lines(text: str) -> list[str]:
    """The lines of a file as an editor shows them: no other mark ends a line."""
    return [f"{line}\n" for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n")]


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
    what, remedy = _wrong_header(header, table, text)
    if what:
        return [_refusal(table, shown, 1, "header", what, remedy)]
    rows: list[dict[str, Any]] = merged.data.setdefault(table.section, [])
    problems: list[Problem] = []
    for line, values, last in _rows_of(text):
        what, remedy = _wrong_length(values, header, last - line + 1)
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


def _wrong_header(header: list[str], table: Table, text: str) -> tuple[str, str]:
    """What is wrong with the first line, and what to do; empty where nothing is."""
    kind, columns = "a log" if table is LOG else "a record", f"Columns: {', '.join(table.columns)}"
    for mark, called in ((";", "semicolons"), ("\t", "tabs"), ("|", "bars")):
        parts = [part.strip(' "') for part in ",".join(header).split(mark)]
        if len(parts) > 1 and len(set(parts) & set(table.columns)) > 1:
            what = f"the values are parted by {called}, and commas are read"
            return what, (
                "Save it from the spreadsheet as CSV with the comma as field separator, and its numbers with a decimal point: "
                "1.42"
            )
    unknown = [name for name in header if name not in table.columns]
    other = next(one for one in TABLES if one is not table)
    if set(other.needed) <= set(header) and not set(table.needed) <= set(header):
        what = f"these are the columns of {'a record' if table is LOG else 'a log'}, not of {kind}"
        return what, f"Move the file to the folder {other.section}/"
    if len(set(header) & set(table.columns)) < 2:
        for number, line in enumerate(csv_lines(text)[1:6], start=2):
            if set(table.needed) <= set(header_of(line)):
                return f"the names of the columns stand in line {number}", "Take away what stands above them"
        what = "the first line does not name the columns"
        return what, f"Write them above the first row, as {','.join(table.needed)}. {columns}"
    if "" in unknown:
        return "the header has a column without a name", "Take away the comma too many, or write its name"
    if unknown:
        near = [one for name in unknown for one in get_close_matches(name, table.columns, n=1, cutoff=0.7)]
        meant = f"Did you mean {', '.join(near)}? " if near else ""
        return f"{', '.join(unknown)} is no column of {kind}", meant + columns
    twice = sorted({name for name in header if header.count(name) > 1})
    if twice:
        return f"{', '.join(twice)} stands there twice", f"Keep one. {columns}"
    fields: dict[str, str] = {}
    for name in header:
        first = fields.setdefault(table.columns[name][0], name)
        if first != name:
            return (
                f"the columns {first} and {name} say the same, and one of the two would be lost",
                "Keep one",
            )
    missing = " or no ".join(name for name in table.needed if name not in header)
    return (f"the header names no {missing}", columns) if missing else ("", "")


def _wrong_length(values: list[str], header: list[str], lines: int) -> tuple[str, str]:
    """A row over several lines, or of more or fewer values than the header has columns; empty where all is well."""
    if lines > 1:
        what = f"a quote opens in this row and is not closed in it: {lines} lines are read as one"
        return what, 'Write a quote at both ends of the text ("so, then"), or take it away'
    if len(values) == len(header):
        return "", ""
    what = f"the row has {len(values)} values, the header {len(header)} columns"
    pairs = [
        (at, f"{whole}.{part}")
        for at, (whole, part) in enumerate(pairwise(value.strip() for value in values))
        if re.fullmatch(r"-?\d+", whole) and re.fullmatch(r"\d+", part)
    ]
    if pairs and len(values) > len(header):
        at, number = pairs[0]
        alone = len(pairs) == 1 and at < len(header)
        written = f"{number} in {header[at]}" if alone else "1.42"
        return what, f"A decimal comma splits a value in two: write {written}, and leave blanks empty"
    if len(values) == 1 and ";" in values[0]:
        return what, "This row is parted by semicolons: write commas"
    if len(values) > len(header):
        return (
            what,
            'A comma in a note splits it in two: write it in quotes, "so, then", or take commas at the end away',
        )
    return what, "Write a comma for each column that is left empty, or close a quote that is open"


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
