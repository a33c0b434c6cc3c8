"""Starts a new house: a folder that builds at once, every fact explained where it stands."""

from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path

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
    if target.exists() and not target.is_dir():
        raise NotStarted(f"{folder} is a file. A new house needs a folder of its own: name another.")
    if target.is_dir() and any(target.iterdir()):
        raise NotStarted(
            f"{folder} is not empty. A new house needs an empty folder: name another, or clear this one."
        )
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(prefix=f".{target.name}-new-", dir=target.parent))
    except OSError as error:
        raise NotStarted(_not_written(folder, error)) from error
    try:
        _write(beside, us)
        _move(beside, target)
    except OSError as error:
        raise NotStarted(_not_written(folder, error)) from error
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    return target


def _write(folder: Path, us: bool) -> None:
    facts = folder / FOLDER
    facts.mkdir()
    for name, text in starter_facts(us).items():
        (facts / name).write_text(text, encoding="utf-8")
    readme = (STARTER / README).read_text(encoding="utf-8")
    (folder / README).write_text(in_units(readme, us), encoding="utf-8")


def _move(beside: Path, target: Path) -> None:
    """One rename where there is no folder yet. Into an empty one, which somebody may stand in, two: the facts last."""
    if not target.exists():
        beside.chmod(0o777 & ~_umask())
        beside.rename(target)
        return
    (beside / README).rename(target / README)
    try:
        (beside / FOLDER).rename(target / FOLDER)
    except OSError:
        (target / README).unlink()
        raise


def _umask() -> int:
    """The rights this user's new files lack; a temporary folder is made without any for others."""
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _not_written(folder: Path, error: OSError) -> str:
    return f"No house was written to {folder}: {(error.strerror or str(error)).lower()}. Look at the disk and its rights."
