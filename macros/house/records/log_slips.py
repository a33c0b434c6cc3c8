"""A CSV file of the house that is no table of its kind: what is wrong with its first line or a row, and what to do."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import pairwise

Told = tuple[str, str]
"""What is wrong, and what to do; both empty where nothing is."""

_MARKS = {";": "semicolons", "\t": "tabs", "|": "bars"}
_SAVE = "Save it from the spreadsheet as CSV with the comma as field separator, and its numbers with a decimal point: 1.42"


@dataclass(frozen=True)
class Table:
    """One kind of CSV file.

    Parameters
    ----------
    called : what such a file is, as "a log"
    section : the section of the house its rows are, and the folder its files lie in
    columns : column of the header -> field and unit
    needed : columns a header must have
    same : fields that tell whose reading a row is, beside its time
    """

    called: str
    section: str
    columns: Mapping[str, tuple[str, str]]
    needed: tuple[str, ...]
    same: tuple[str, ...]


def header_of(text: str) -> list[str]:
    """The names in the first line."""
    return [name.strip() for name in next(csv.reader(csv_lines(text)), [])]


def csv_lines(text: str) -> list[str]:
    """The lines of a file as an editor shows them: no other mark ends a line."""
    return [f"{line}\n" for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n")]


def wrong_header(header: list[str], table: Table, tables: Sequence[Table], lines: list[str]) -> Told:
    """What is wrong with the first line of a file, whose lines are `lines`; `tables` are all kinds there are."""
    found = (*_parted(header, table), *_other_table(header, table, tables), *_no_header(header, table, lines))
    return next(iter((*found, *_columns(header, table))), ("", ""))


def _parted(header: list[str], table: Table) -> Iterator[Told]:
    for mark, called in _MARKS.items():
        parts = {part.strip(' "') for part in ",".join(header).split(mark)}
        if len(parts) > 1 and len(parts & set(table.columns)) > 1:
            yield f"the values are parted by {called}, and commas are read", _SAVE


def _other_table(header: list[str], table: Table, tables: Sequence[Table]) -> Iterator[Told]:
    for other in tables:
        if set(other.needed) <= set(header) and not set(table.needed) <= set(header):
            what = f"these are the columns of {other.called}, not of {table.called}"
            yield what, f"Move the file to the folder {other.section}/"


def _no_header(header: list[str], table: Table, lines: list[str]) -> Iterator[Told]:
    if len(set(header) & set(table.columns)) > 1:
        return
    for number, line in enumerate(lines[1:6], start=2):
        if set(table.needed) <= set(header_of(line)):
            yield f"the names of the columns stand in line {number}", "Take away what stands above them"
    remedy = f"Write them above the first row, as {','.join(table.needed)}. {_known(table)}"
    yield "the first line does not name the columns", remedy


def _columns(header: list[str], table: Table) -> Iterator[Told]:
    unknown = [name for name in header if name not in table.columns]
    if "" in unknown:
        yield "the header has a column without a name", "Take away the comma too many, or write its name"
    if unknown:
        yield (
            f"{', '.join(unknown)} is no column of {table.called}",
            _meant(unknown, header, table) + _known(table),
        )
        return
    yield from _columns_twice(header, table)
    missing = [name for name in table.needed if name not in header]
    if missing:
        yield f"the header names no {' or no '.join(missing)}", _known(table)


def _meant(unknown: list[str], header: list[str], table: Table) -> str:
    """What the unknown columns may be; a column that must be there goes before one that only reads alike."""
    free = [name for name in table.columns if name not in header]
    near = [one for name in unknown for one in get_close_matches(name, free, n=1, cutoff=0.7)]
    lacking = [name for name in table.needed if name not in header]
    if lacking and not set(lacking) & set(near):
        return f"The header needs {' and '.join(lacking)}: write it over its column. "
    return f"Did you mean {', '.join(near)}? " if near else ""


def _columns_twice(header: list[str], table: Table) -> Iterator[Told]:
    twice = sorted({name for name in header if header.count(name) > 1})
    if twice:
        yield f"{', '.join(twice)} stands there twice", f"Keep one. {_known(table)}"
    fields: dict[str, str] = {}
    for name in header:
        first = fields.setdefault(table.columns[name][0], name)
        if first != name:
            yield f"the columns {first} and {name} say the same, and one of the two would be lost", "Keep one"


def _known(table: Table) -> str:
    return f"Columns: {', '.join(table.columns)}"


def wrong_length(values: list[str], header: list[str], lines: int) -> Told:
    """A row over several lines, or of more or fewer values than the header has columns."""
    if lines > 1:
        what = f"a quote opens in this row and is not closed in it: {lines} lines are read as one"
        return what, 'Write a quote at both ends of the text ("so, then"), or take it away'
    if len(values) == len(header):
        return "", ""
    what = f"the row has {len(values)} values, the header {len(header)} columns"
    if len(values) > len(header):
        return what, _too_many(values, header)
    if len(values) == 1 and ";" in values[0]:
        return what, "This row is parted by semicolons: write commas"
    return what, "Write a comma for each column that is left empty, or close a quote that is open"


def _too_many(values: list[str], header: list[str]) -> str:
    pairs = [
        (at, f"{whole}.{part}")
        for at, (whole, part) in enumerate(pairwise(value.strip() for value in values))
        if re.fullmatch(r"-?\d+", whole) and re.fullmatch(r"\d+", part)
    ]
    if not pairs:
        return 'A comma in a note splits it in two: write it in quotes, "so, then", or take commas at the end away'
    at, number = pairs[0]
    written = f"{number} in {header[at]}" if len(pairs) == 1 and at < len(header) else "1.42"
    return f"A decimal comma splits a value in two: write {written}, and leave blanks empty"
