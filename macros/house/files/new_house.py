"""Starts a new house: a folder that builds at once, every fact explained where it stands."""

from __future__ import annotations

from pathlib import Path

from macros.ground.disk.safe_write import NotWritten
from macros.ground.disk.swap_folder import scratch_folder
from macros.ground.house_files import read_bytes
from macros.house.files.load_house import FOLDER
from macros.house.files.starter_explanations import STARTER, in_units, starter_facts

README = "README.md"


class NotStarted(Exception):  # noqa: N818 - told to whoever starts a house
    """No house was written; the message says why and what to do. What stood there is as it was."""


def start_house(folder: Path, us: bool = False) -> Path:
    """Write a new house into a folder that is empty or not there yet.

    All of it is written beside the folder and then moved: `site_data` last, so that a folder that holds it is whole.

    Parameters
    ----------
    us : values and explanations in US units, and `unit_style: us`

    Returns
    -------
    Path
        the folder, as an absolute path.

    Raises
    ------
    NotStarted
        something stands there already, or it cannot be written. The folder is as it was.
    """
    target = folder.resolve()
    _refuse_taken(folder, us)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with scratch_folder(target) as beside:
            _refuse_taken(folder, us)  # another run may have made it before this one held the lock
            made = (
                beside / "house"
            )  # the list of what is ours stays behind, so that a killed run is known by it
            made.mkdir()
            _write(made, us)
            _move(made, target)
    except NotWritten as reason:
        raise NotStarted(str(reason)) from reason
    except OSError as error:
        raise NotStarted(_not_written(folder, error)) from error
    return target


def _refuse_taken(folder: Path, us: bool) -> None:
    target = folder.resolve()
    if target.exists() and not target.is_dir():
        raise NotStarted(f"{folder} is a file. A new house needs a folder of its own: name another.")
    if target.is_dir() and not _is_empty(target, us):
        raise NotStarted(
            f"{folder} is not empty. A new house needs an empty folder: name another, or clear this one."
        )


def _is_empty(folder: Path, us: bool) -> bool:
    """Whether a folder holds nothing, or what a killed run of ours moved there first."""
    there = [path.name for path in folder.iterdir()]
    if there != [README]:
        return not there
    content, _ = read_bytes(folder / README, README, folder)
    return content == _readme(us).encode()


def _readme(us: bool) -> str:
    return in_units((STARTER / README).read_text(encoding="utf-8"), us)


def _write(folder: Path, us: bool) -> None:
    facts = folder / FOLDER
    facts.mkdir()
    for name, text in starter_facts(us).items():
        (facts / name).write_text(text, encoding="utf-8")
    (folder / README).write_text(_readme(us), encoding="utf-8")


def _move(made: Path, target: Path) -> None:
    """One rename where there is no folder yet. Into an empty one, which somebody may stand in, two: the facts last."""
    if not target.exists():
        made.rename(target)
        return
    (made / README).rename(target / README)
    try:
        (made / FOLDER).rename(target / FOLDER)
    except OSError:
        (target / README).unlink()
        raise


def _not_written(folder: Path, error: OSError) -> str:
    return f"No house was written to {folder}: {(error.strerror or str(error)).lower()}. Look at the disk and its rights."
