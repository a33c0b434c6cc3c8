"""Which files of a folder this program wrote: a list in the folder itself. What is not on it is somebody's, and stays.

A folder being filled carries an empty list, so that the next run knows what a killed one left. Version 1.0.0 kept no list: its
sites are known by two files, and what lies in a folder that the new site has too is taken to be of it.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Collection, Iterator
from contextlib import suppress
from pathlib import Path, PurePosixPath

from macros.ground.disk.safe_write import NotWritten

LIST = ".trayside-files"
MOST_BYTES = 10_000_000
SITE_OF_OLD = ("index.html", "amounts.json")
"""Both stand in every site of version 1.0.0."""


def begin_list(folder: Path) -> None:
    """Mark a folder as being filled by this program."""
    (folder / LIST).touch()


def write_list(folder: Path, names: Collection[str]) -> None:
    """Say which files of a finished folder this program wrote, by their paths in it."""
    (folder / LIST).write_text("".join(f"{name}\n" for name in sorted(names)), encoding="utf-8", newline="")


def own_files(folder: Path) -> set[str] | None:
    """The files this program wrote into a folder; None where there is no list that can be read."""
    path = folder / LIST
    if path.is_symlink() or not path.is_file():
        return None
    try:
        with path.open("rb") as file:
            return set(file.read(MOST_BYTES).decode("utf-8").split("\n")) - {""}
    except (OSError, UnicodeDecodeError):
        return None


def made_here(folder: Path) -> bool:
    """Whether a folder is empty or was made by this program, in whatever state a killed run left it."""
    there = {path.name for path in folder.iterdir()}
    return not there or LIST in there or there.issuperset(SITE_OF_OLD)


def files_below(folder: Path) -> Iterator[str]:
    """Every file and link below a folder by its path in it; what begins with a dot at its top is left out."""
    for here, folders, names in os.walk(folder):
        inner = Path(here).relative_to(folder)
        if not inner.parts:
            folders[:], names = (
                [one for one in folders if one[0] != "."],
                [one for one in names if one[0] != "."],
            )
        links = [one for one in folders if Path(here, one).is_symlink()]
        yield from ((inner / name).as_posix() for name in (*names, *links))


def carry_strange(old: Path, new: Path) -> list[str]:
    """Copy into the new folder what lies in the old one and is not of this program; their paths, in order.

    Raises
    ------
    NotWritten
        the new folder has a file of that name.
    """
    now = set(files_below(new))
    listed, tops = own_files(old), {PurePosixPath(name).parts[0] for name in now}
    strange = [
        name
        for name in sorted(files_below(old))
        if (name not in listed if listed is not None else PurePosixPath(name).parts[0] not in tops)
    ]
    taken = now | {str(part) for name in now for part in PurePosixPath(name).parents}
    for name in strange:
        if name in taken or now & {str(part) for part in PurePosixPath(name).parents}:
            raise NotWritten(
                f"{old / name} was not made by this program, and the new one has a file of that name. Move it away, then run "
                "this again."
            )
        (new / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(old / name, new / name, follow_symlinks=False)
    return strange


def remove_own(folder: Path) -> None:
    """Remove a folder that was made here. Killed meanwhile, it still says that it was: its list goes last."""
    with suppress(OSError):  # a full disk; a folder with files is known by them as long as they are there
        begin_list(folder)
    for path in folder.iterdir():
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        elif path.name != LIST:
            path.unlink()
    (folder / LIST).unlink(missing_ok=True)
    folder.rmdir()


def refuse_strange(folder: Path) -> None:
    """Raise NotWritten for a folder that stands where this program fills one, and is somebody's."""
    if folder.is_dir() and not made_here(folder):
        raise NotWritten(
            f"{folder} was not made by this program, which needs that name. Move it away, then run this again."
        )
