"""The one door to the files of a house, which may be anybody's: regular, inside the house, bounded, or told why not."""

from __future__ import annotations

import errno
import json
import os
import stat
from dataclasses import replace
from pathlib import Path
from typing import Any

from macros.ground.problems import Place, Problem
from macros.ground.seen import UNSEEN

MAX_BYTES = 1_000_000
MOST_FILES = 2_000
"""Files of one ending in one folder of a house; a manual has a fiftieth."""
MOST_FOLDERS = 10
"""Folders inside each other that are looked into."""

_Words = tuple[str, str, str]
"""What was found, what is allowed, what to do."""


def files_of(
    folder: Path, ending: str, shown: str, house: Path, deep: bool = False, most: int = MOST_FILES
) -> tuple[list[Path], list[Problem]]:
    """What a folder holds by that ending, in order of name, and why it cannot be told. A folder that is not there is empty.

    Names that begin with a dot are not the house's own: editors and file managers keep their things there.

    Parameters
    ----------
    shown : the folder's name in messages
    house : folder it must really lie in, links followed
    deep : also in the folders below; links are no folders then
    most : files that are told at most; of more it is said that there are more
    """
    said = _leads_out(folder, house)
    if said is not None:
        return [], [_refusal(f"{shown}/", said)]
    problems: list[Problem] = []

    def unreadable(error: OSError) -> None:
        if not isinstance(error, FileNotFoundError):
            problems.append(
                _refusal(_shown_below(Path(error.filename), folder, shown), _unreadable("folder", error))
            )

    found: list[Path] = []
    for here, folders, names in os.walk(folder, onerror=unreadable):
        found += (Path(here, one) for one in (*names, *folders) if one.endswith(ending) and one[0] != ".")
        folders[:] = sorted(one for one in folders if one[0] != ".") if deep else []
        many = _too_many(len(found) > most, len(Path(here).relative_to(folder).parts), bool(folders), ending)
        if many is not None:
            problems.append(_refusal(_shown_below(Path(here), folder, shown), many))
            break
    return sorted(found[:most]), problems


def _too_many(many: bool, depth: int, deeper: bool, ending: str) -> _Words | None:
    if many:
        return f"more files end in {ending} than a house has", "", "Take away what is not of this house"
    if depth >= MOST_FOLDERS and deeper:
        return (
            f"folders lie over {MOST_FOLDERS} deep in each other",
            "",
            "Move the pages up, or take them away",
        )
    return None


def _shown_below(path: Path, folder: Path, shown: str) -> str:
    return f"{shown}/{path.relative_to(folder).as_posix()}/".replace("/./", "/")


def is_there(path: Path) -> bool:
    """Whether something has this name, be it a link to nothing. What cannot be looked at counts as there."""
    try:
        path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    except (OSError, ValueError):
        return True
    return True


def read_bytes(
    path: Path, shown: str, house: Path, most: int = MAX_BYTES, remedy: str = ""
) -> tuple[bytes | None, list[Problem]]:
    """The bytes of a file of a house: never what lies outside of it, never without end.

    Parameters
    ----------
    path, shown : the file, and its name in messages
    house : folder the file must really lie in, links followed
    most : bytes that are read at most
    remedy : what to do about a larger file
    """
    said: _Words | None
    if UNSEEN.search(shown) or not shown.isprintable():
        said = "the file's name holds a character nobody sees", "Letters, digits and marks", "Rename it"
    else:
        said = _leads_out(path, house)
    if said is None:
        try:
            content = _content(path, most)
            if content is not None and len(content) <= most:
                return content, []
            said = (
                ("the file is too large", f"At most {most} bytes are read", remedy) if content else _NO_FILE
            )
        except OSError as error:
            said = _NO_FILE if error.errno in _ABSENT else _unreadable("file", error)
    return None, [_refusal(shown, said)]


def _content(path: Path, most: int) -> bytes | None:
    """At most one byte more than `most`; None where it is no plain file, which is asked of the open one: a pipe waits forever."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as file:
        return file.read(most + 1) if stat.S_ISREG(os.fstat(handle).st_mode) else None


def read_file(
    path: Path, shown: str, house: Path, most: int = MAX_BYTES, remedy: str = ""
) -> tuple[str | None, list[Problem]]:
    """The text of a file of a house, as `read_bytes`; its lines end with a plain line end."""
    content, problems = read_bytes(path, shown, house, most, remedy)
    if content is None:
        return None, problems
    try:
        return content.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n"), []
    except UnicodeDecodeError:
        return None, [_refusal(shown, ("the file is not UTF-8 text", "", "Save it as UTF-8"))]


def read_json(path: Path, shown: str, house: Path, most: int) -> tuple[Any, list[Problem]]:
    """What a JSON file of a house holds, as `read_bytes`; nothing where there is none. The program writes such files and goes
    on without one that is damaged, so that is a warning."""
    if not is_there(path):
        return None, []
    content, problems = read_bytes(path, shown, house, most)
    if content is None:
        return None, problems
    try:
        return json.loads(content.decode("utf-8")), []
    except (ValueError, RecursionError):
        return None, [damaged(shown)]


def damaged(shown: str) -> Problem:
    """The warning of a file of ours that does not hold what we write; it counts as not there."""
    words = (
        "the file is damaged and counts as not there",
        "This program writes it",
        "Take back a copy of it, or delete it",
    )
    return replace(_refusal(shown, words), severity="warning")


_ABSENT = (errno.ENOENT, errno.ENOTDIR, errno.EISDIR, errno.ELOOP, errno.ENXIO)
_NO_FILE: _Words = (
    "this is no file (a folder, a pipe, a device or a link to nothing)",
    "Every name with this ending is read",
    "Rename it or take it away",
)


def _leads_out(path: Path, house: Path) -> _Words | None:
    """Why a path is not even opened: a link could show what is not the house's."""
    really = os.path.realpath(path)
    if Path(really).is_relative_to(os.path.realpath(house)):
        return None
    return (
        f"this is a link that leads out of the house, to {_printable(really)}",
        "A house is read from its own folder alone",
        "Put the file itself here, or take the link away",
    )


def _unreadable(what: str, error: OSError) -> _Words:
    return f"the {what} cannot be read ({error.strerror})", "", "Check its permissions"


def _refusal(shown: str, words: _Words) -> Problem:
    return Problem(Place(_printable(shown), 1), "file", *words)


def _printable(name: str) -> str:
    """A name of a file as it may be printed: it can hold what turns a terminal or is no text at all."""
    return name if name.isprintable() and not UNSEEN.search(name) else ascii(name)
