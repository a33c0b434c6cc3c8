"""Writing to a disk that may refuse: one run at a time, flushed before it counts, and the refusal in plain words."""

from __future__ import annotations

import errno
import os
import re
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

FLUSHING = 8
"""Files flushed side by side: a disk joins the flushes that reach it together."""

_SPACE = "Free some space, then run this again"
_RIGHTS = (
    "this user may not write it, or another program holds it open",
    "Look at the permissions of its folder; on Windows close whatever shows it",
)
_WORDS = {
    errno.ENOSPC: ("the disk is full", _SPACE),
    getattr(errno, "EDQUOT", errno.ENOSPC): ("the disk is full, or your share of it is used up", _SPACE),
    errno.EFBIG: ("the file grew larger than this disk or account allows", _SPACE),
    errno.EROFS: ("this disk can only be read", "Copy the house to a disk that can be written"),
    errno.EACCES: _RIGHTS,
    errno.EPERM: _RIGHTS,
    errno.EIO: ("the disk does not answer as it should", "Copy the house to another disk before it fails"),
    errno.ENOENT: ("it is not there", "Look at the name; a folder may have been moved while this ran"),
    errno.EEXIST: ("it is in the way", "Look at it, and move it away"),
    errno.ELOOP: ("it is a link", "Put the real file or folder there"),
    errno.ENOLCK: (
        "this disk has no locks, so two runs could meet",
        "Copy the house to a disk of this machine",
    ),
}


BEGUN = re.compile(r"\..+\.(json|yml|csv)-[a-z0-9_]{8}")
"""The name of a file that `write_whole` began; a killed run leaves it."""


class NotWritten(Exception):  # noqa: N818 - told to whoever runs the command
    """Nothing was written over; the message says why and what to do."""


def describe_os_error(error: OSError) -> str:
    """What the disk said, as sentences: the file where it is known, what happened, what to do."""
    what, remedy = _WORDS.get(error.errno or 0, (error.strerror or str(error), ""))
    # A full disk is not the fault of one file; the name at hand can be that of a file that was only read.
    named = error.filename and remedy != _SPACE
    said = f"{error.filename}: {what}." if named else f"{what[:1].upper()}{what[1:]}."
    return f"{said} {remedy}." if remedy else said


@contextmanager
def exclusive_lock(target: Path) -> Iterator[None]:
    """Hold the lock of `target`, a file beside it. It is the system's own lock, so it ends with a killed run.

    Raises
    ------
    NotWritten
        another run holds it.
    OSError
        the lock cannot be made there.
    """
    lock = target.with_name(f".{target.name}-lock")
    handle = _locked(lock)
    while handle is None:
        handle = _locked(lock)
    try:
        yield
    finally:
        with suppress(OSError):  # Windows keeps the name of an open file; empty, it does no harm there
            lock.unlink()
        os.close(handle)


def _locked(lock: Path) -> int | None:
    """The lock's open file; None where the run before took its name away meanwhile, which calls for another try."""
    # Never through a link: the file would be made wherever a strange house points.
    handle = os.open(lock, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o644)
    try:
        if sys.platform == "win32":
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if _still_named(handle, lock):
            return handle
        os.close(handle)
        return None
    except OSError as error:
        os.close(handle)
        if error.errno in (errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES, errno.EDEADLK):
            target = lock.with_name(lock.name[1:].removesuffix("-lock"))
            raise NotWritten(
                f"Another run is writing {target}. Wait until it ends, then run this again."
            ) from error
        raise


def _still_named(handle: int, lock: Path) -> bool:
    if sys.platform == "win32":  # an open file keeps its name there
        return True
    try:
        return os.path.samestat(os.fstat(handle), lock.stat())
    except FileNotFoundError:
        return False


def flush_below(folder: Path) -> None:
    """Send every file and folder below `folder` to the disk, so that a power cut after a rename finds them whole."""
    files, folders = [], []
    for here, _, names in os.walk(folder):
        folders.append(Path(here))
        files += [path for path in (Path(here, name) for name in names) if not path.is_symlink()]
    with ThreadPoolExecutor(FLUSHING) as pool:
        for _ in pool.map(_flush_file, files):
            pass
    for here_too in folders:
        flush_folder(here_too)


def flush_folder(folder: Path) -> None:
    """Send the names in a folder to the disk. Windows and some network disks have no such call and need none."""
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in (errno.EINVAL, errno.ENOTSUP):
            raise
    finally:
        os.close(handle)


def replace_file(new: Path, target: Path) -> None:
    """Put a finished file in the place of another: flushed first, then one rename."""
    _flush_file(new)
    new.replace(target)
    flush_folder(target.parent)


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
        beside.chmod(mode)
        replace_file(beside, path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def clear_begun(path: Path) -> None:
    """Take away what killed runs of `write_whole` began of this file. Nobody else may write it now: its lock is held."""
    begun = re.compile(rf"\.{re.escape(path.name)}-[a-z0-9_]{{8}}")
    for beside in path.parent.iterdir():
        if begun.fullmatch(beside.name) and beside.is_file() and not beside.is_symlink():
            beside.unlink()


def _flush_file(path: Path) -> None:
    if (
        sys.platform != "win32"
    ):  # a file that may only be read, as git keeps its own, is flushed like any other
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
        return
    with (
        suppress(PermissionError),
        path.open("r+b") as file,
    ):  # Windows flushes only what was opened for writing
        os.fsync(file.fileno())
