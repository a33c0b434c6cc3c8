"""Adds the rows of a CSV file of readings to the house: checked as the house's own, none twice, none against another."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from macros.ground.disk.safe_write import NotWritten, write_whole
from macros.ground.house_files import MAX_BYTES
from macros.ground.problems import DataProblems, Problem, errors_in
from macros.ground.units import Quantity
from macros.house.files.load_house import FOLDER, load_house
from macros.house.files.writing import house_lock
from macros.house.records.house import House
from macros.house.records.log import LOG, TABLES, LogRow, RecordRow, shown_name, table_of
from macros.house.records.log_slips import Table, csv_lines, header_of
from macros.house.rules.report import problem_at, written

Row = LogRow | RecordRow

KEPT = 10
"""Digits by which two quantities are told apart; what lies behind them comes from changing units."""


@dataclass(frozen=True)
class Added:
    """What is to be written of one table: new rows, and those that are there already with what they equal."""

    table: Table
    new: tuple[Row, ...]
    known: tuple[tuple[Row, Row], ...]


def add_readings(folder: Path, files: Sequence[Path], today: date) -> list[str]:
    """Add files of readings to a house; what was done is returned as lines.

    Each kind of row is written in one stroke to a file of the log that this command alone writes, so that a run killed at any moment
    leaves the old files or the new ones, and running again goes on: what is there already is not added twice.

    Raises
    ------
    DataProblems
        a row has a mistake, lies ahead of `today`, or says otherwise than the house; nothing was written.
    NotWritten
        another run is adding, or a file lies in the house already.
    OSError
        the disk refuses; the house is as it was.
    """
    data = folder / FOLDER
    _not_of_the_house(files, data)
    if not data.is_dir():
        raise DataProblems(load_house(folder, today)[1])
    with house_lock(folder):
        house, problems = load_house(folder, today, files)
        if house is None or errors_in(problems):
            raise DataProblems(errors_in(problems))
        own = {shown_name(file) for file in files}
        parts = [_sorted_out(table, house, own, today) for table in TABLES]
        found = [problem for _, mistakes in parts for problem in mistakes]
        if found:
            raise DataProblems(found)
        return [line for part, _ in parts for line in _write(part, folder, files, today)]


def _not_of_the_house(files: Sequence[Path], data: Path) -> None:
    for file in files:
        if any(file.resolve().parent == (data / table.section).resolve() for table in TABLES):
            raise NotWritten(
                f"{file} lies in the house already: every row in it counts. Nothing is to be added."
            )


def _sorted_out(table: Table, house: House, files: Iterable[str], today: date) -> tuple[Added, list[Problem]]:
    """The rows of the files beside those of the house and one another."""
    rows: Sequence[Row] = house.log if table is LOG else house.records
    seen: dict[tuple[Any, ...], list[Row]] = {}
    new: list[Row] = []
    known: list[tuple[Row, Row]] = []
    problems: list[Problem] = []
    for row in rows:
        beside = seen.setdefault(tuple(getattr(row, field) for field in table.same), [])
        if row.place("date").file not in files:
            beside.append(row)
            continue
        there = [one for one in beside if _may_be_one(one, row)]
        same = next((one for one in there if _says(row, table).items() <= _says(one, table).items()), None)
        wrong = [*_ahead(row, today), *_against(row, there, table)] if same is None else []
        problems += wrong
        if same is not None:
            known.append((row, same))
        elif not wrong:
            new.append(row)
            beside.append(row)
    return Added(table, tuple(new), tuple(known)), problems


def _may_be_one(one: Row, other: Row) -> bool:
    """Whether two rows of a day can be of one time: a row without a time can be of any."""
    return one.time is None or other.time is None or one.time == other.time


def _ahead(row: Row, today: date) -> Iterator[Problem]:
    if row.date > today:
        what = f"{row.date} lies ahead: today is {today}"
        yield problem_at(row, "date", what, "Days up to today", "Look at the day, and at the phone's own")


def _says(row: Row, table: Table) -> dict[str, Any]:
    """What a row says beside whose it is and when, so that equal amounts in other units are equal."""
    apart = (*table.same, "time")
    values = {name: getattr(row, name) for name in type(row).model_fields if name not in apart}
    return {name: _plain(value) for name, value in values.items() if value is not None}


def _plain(value: Any) -> Any:
    if not isinstance(value, Quantity):
        return value
    base = {
        "L": "mL",
        "mL": "mL",
        "us_gal": "mL",
        "fl_oz": "mL",
        "cm": "m",
        "in": "m",
        "mm": "m",
        "degF": "degC",
    }
    return float(f"{value.to(base.get(value.unit, value.unit)):.{KEPT}g}")


def _against(row: Row, there: Iterable[Row], table: Table) -> Iterator[Problem]:
    """A row of the same time that says otherwise, or less: which of the two is right only a person knows."""
    mine = _says(row, table)
    for other in there:
        theirs = _says(other, table)
        shared = [name for name in mine if name in theirs]
        for name in shared:
            if mine[name] != theirs[name]:
                yield _conflict(row, other, name)
        if shared and all(mine[name] == theirs[name] for name in shared):
            more = ", ".join(name for name in mine if name not in theirs)
            what = f"{other.place('date')} says the same of this visit without {more}"
            remedy = "Take that line out of the log, then add this file again"
            yield problem_at(row, "date", what, "One line for one visit", remedy)


def _conflict(row: Row, other: Row, name: str) -> Problem:
    at = (
        "at the same time"
        if row.time is not None and other.time is not None
        else "on the same day, one without a time"
    )
    what = f'this line says "{written(row, name)}", and {other.place(name)} "{written(other, name)}" {at}'
    remedy = "Keep the one that is right: mend that line, or take this one out of the file. Were both read, give each its time"
    return problem_at(row, name, what, "One reading for one time", remedy)


def _write(part: Added, folder: Path, files: Sequence[Path], today: date) -> list[str]:
    name = "log" if part.table is LOG else "record"
    told = [f"{row.place('date')}: already there, at {same.place('date')}." for row, same in part.known]
    if not part.new:
        return [*told, *([f"No new line for the {name}."] if part.known else [])]
    header, lines = _lines(part, files)
    target, old, ends = _target(folder / FOLDER / part.table.section, header, lines, today)
    if not target.resolve().is_relative_to(folder.resolve()):
        raise NotWritten(
            f"{target} is outside the house folder, where a link leads. Put a real folder in its place."
        )
    columns = header_of(old.decode("utf-8-sig")) if old else header
    begun = old if old else (",".join(header) + ends).encode()
    gap = b"" if begun.endswith((b"\n", b"\r")) else ends.encode()
    write_whole(target, begun + gap + _csv(columns, lines, ends))
    count = f"{len(part.new)} {'line' if len(part.new) == 1 else 'lines'}"
    return [*told, f"{count} added to {target.relative_to(folder).as_posix()}."]


def _lines(part: Added, files: Sequence[Path]) -> tuple[list[str], list[dict[str, str]]]:
    """The columns that the files have for this table, in its order, and the new rows as they were typed."""
    wanted = {(row.place("date").file, row.place("date").line) for row in part.new}
    used: set[str] = set()
    lines = []
    for file in files:
        text = file.read_bytes().decode("utf-8-sig")
        if table_of(text) is not part.table:
            continue
        reader = csv.DictReader(csv_lines(text), fieldnames=header_of(text))
        used |= set(header_of(text))
        lines += [
            {name: value.strip() for name, value in row.items()}
            for row in reader
            if (shown_name(file), reader.line_num) in wanted
        ]
    return [column for column in part.table.columns if column in used], lines


def _target(
    folder: Path, header: Sequence[str], lines: Sequence[dict[str, str]], today: date
) -> tuple[Path, bytes, str]:
    """The file of this year that has the columns and the room, what it holds, and how its lines end."""
    number = 1
    while True:
        path = folder / f"added-{today.year}{'' if number == 1 else f'-{number}'}.csv"
        if not path.exists():
            return path, b"", "\n"
        old = path.read_bytes()
        ends = "\r\n" if b"\r\n" in old else "\n"
        columns = header_of(old.decode("utf-8-sig"))
        if set(header) <= set(columns) and len(old) + len(_csv(columns, lines, ends)) < MAX_BYTES:
            return path, old, ends
        number += 1


def _csv(columns: Sequence[str], lines: Iterable[dict[str, str]], ends: str) -> bytes:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator=ends)
    writer.writerows([line.get(column, "") for column in columns] for line in lines)
    return text.getvalue().encode()
