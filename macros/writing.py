"""Writes a file whole or not at all: beside its place first, then renamed into it."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` in `path`. Killed at any moment, the file holds the old bytes or the new ones, never a part.

    Raises
    ------
    OSError
        the disk is full, the folder cannot be written: the old file is as it was.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    mode = path.stat().st_mode & 0o777 if path.exists() else 0o644
    handle, name = tempfile.mkstemp(prefix=f".{path.name}-", dir=path.parent)
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.chmod(mode)
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    _keep_name(path.parent)


def _keep_name(folder: Path) -> None:
    """The new name reaches the disk too, where the system can say so of a folder."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
