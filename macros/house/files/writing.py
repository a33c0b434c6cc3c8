"""One writer at a time: whatever writes into the folder of a house holds its lock, from before it reads to its last byte."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from macros.ground.disk.safe_write import BEGUN, NotWritten, exclusive_lock
from macros.ground.records import Record
from macros.house.files.load_house import FOLDER


@contextmanager
def house_lock(house: Path) -> Iterator[None]:
    """Hold the lock of a house: `.site_data-lock` beside its facts. Read the house inside, for what was read before the
    lock was held may be old. A folder without facts has none: whoever reads it says so.

    Raises
    ------
    NotWritten
        another command writes into this house.
    OSError
        the lock cannot be made there.
    """
    facts = house.absolute() / FOLDER
    if not facts.is_dir():
        yield
        return
    with exclusive_lock(facts):
        _clear_left(facts)
        yield


def _clear_left(facts: Path) -> None:
    """Take away what killed runs began to write: nobody else writes here while the lock is held."""
    for folder in (facts, facts / "issued", facts / "log", facts / "records"):
        if folder.is_dir() and not folder.is_symlink():
            for path in folder.iterdir():
                if BEGUN.fullmatch(path.name) and path.is_file() and not path.is_symlink():
                    path.unlink()


def file_of_section(record: Record, house: Path, section: str, otherwise: str) -> Path:
    """The file a section of a house was read from; where none has it, `site_data/<otherwise>`. Links are followed.

    Parameters
    ----------
    record : the house as it was read, under the lock

    Raises
    ------
    NotWritten
        the file lies outside the house folder.
    """
    read, path = record.read_from, (section,)
    there = isinstance(read.data, dict) and section in read.data
    shown = read.place(path).file if there else f"{FOLDER}/{otherwise}"
    return inside(house / shown, house)


def inside(path: Path, house: Path) -> Path:
    """The real path of a file or folder of a house.

    Raises
    ------
    NotWritten
        a link leads out of the house folder.
    """
    really = path.resolve()
    if not really.is_relative_to(house.resolve()):
        raise NotWritten(
            f"{really} is outside the house folder, where a link leads. Put the real file in its place."
        )
    return really
