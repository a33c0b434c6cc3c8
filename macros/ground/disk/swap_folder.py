"""Fills a folder beside the old one and puts it in its place whole. The old one opens until the new one does.

Linux and macOS exchange two folders in one step, so there is always one. Windows, and disks that cannot (FAT, some
network disks), need two renames: a run killed between them leaves the old folder whole under another name, and the
next command puts it back (`put_back`).

    site         the site
    .site-new    being filled, or on its way out: whatever is in it may go
    .site-old    the whole old site, for as long as two renames take
    .site-lock   held by the run that writes
"""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from macros.ground.disk.own_files import (
    LIST,
    begin_list,
    carry_strange,
    files_below,
    made_here,
    refuse_strange,
    remove_own,
    write_list,
)
from macros.ground.disk.safe_write import NotWritten, exclusive_lock, flush_below, flush_folder
from macros.ground.seen import visible_line

_EXCHANGE = 2
"""RENAME_EXCHANGE of renameat2(2) on Linux; RENAME_SWAP of renamex_np(2) on macOS."""

_HERE = -100
"""AT_FDCWD on Linux: names are taken as they are."""

FIRST = 5
"""Names told of what was kept."""

_CANNOT = (errno.EINVAL, errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP)
"""What a disk answers that knows no exchange."""


@contextmanager
def replaced(
    target: Path, what: str, check: Callable[[Path], None], tell: Callable[[str], None] = lambda line: None
) -> Iterator[Path]:
    """A new folder to fill. When the block ends it stands in the place of `target`; when it raises, nothing moved.

    Parameters
    ----------
    target : an absolute path; what this program did not write there is carried over, hidden names in silence
    tell : called with a line for what is not hidden and was carried over
    what : the word for it in messages, as `site`
    check : called with a folder that stands there already; raises NotWritten where it must not be replaced

    Raises
    ------
    NotWritten
        another run is writing, or what stands there was not made by this program.
    OSError
        the disk refused. This, and whatever else stopped the block, carries a note on how the folder stands now.
    """
    made: os.stat_result | None = None
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with scratch_folder(target) as new:
            made = new.stat()
            _refuse_no_folder(target)
            if target.exists():
                check(target)
            yield new
            own = list(files_below(new))
            _carry_hidden(target, new)
            strange = carry_strange(target, new) if target.is_dir() else []
            write_list(new, own)
            flush_below(new)
            swap(new, target)
            if strange:
                tell(_kept(target, strange))
    except BaseException as stopped:
        stopped.add_note(_how_it_stands(target, what, made))
        raise


@contextmanager
def scratch_folder(target: Path) -> Iterator[Path]:
    """An empty folder beside `target`, gone when the block ends. What killed runs left there is removed first.

    Raises
    ------
    NotWritten
        another run holds the lock, or a link or file stands where a folder belongs.
    """
    new = _new(target)
    with exclusive_lock(target):
        for path in (new, _old(target)):
            _refuse_no_folder(path)
            refuse_strange(path)
        _clear(target)
        new.mkdir()
        begin_list(new)
        try:
            yield new
        finally:
            with suppress(OSError):  # what is left is cleared by the next run
                _clear(target)


def swap(new: Path, target: Path) -> None:
    """Put the folder `new` in the place of `target`; `new` is then the old one, or no more where there was none."""
    if not target.exists():
        new.rename(target)
    elif not _exchange(new, target):
        _rename_twice(new, target)
    flush_folder(target.parent)


def put_back(target: Path) -> bool:
    """Undo the first of two renames where the second never came. True if the old folder is back."""
    old = _old(target)
    if os.path.lexists(target) or old.is_symlink() or not old.is_dir() or not made_here(old):
        return False
    old.rename(target)
    return True


def put_back_left(target: Path) -> bool:
    """`put_back`, unless another run is at it or the disk refuses: a command that only reads goes on either way."""
    if os.path.lexists(target) or not _old(target).is_dir():
        return False
    try:
        with exclusive_lock(target):
            return put_back(target)
    except (NotWritten, OSError):
        return False


def _new(target: Path) -> Path:
    return target.with_name(f".{target.name}-new")


def _old(target: Path) -> Path:
    return target.with_name(f".{target.name}-old")


def _clear(target: Path) -> None:
    put_back(target)
    new, old = _new(target), _old(target)
    if new.exists():
        remove_own(new)
    if old.exists():
        old.rename(new)  # half removed, it must not be taken for the whole old one
        remove_own(new)


def _rename_twice(new: Path, target: Path) -> None:
    old = _old(target)
    try:
        target.rename(old)
        new.rename(target)
        old.rename(new)
    except BaseException:
        put_back(target)
        raise


def _exchange(one: Path, other: Path) -> bool:
    """Let two folders change names in one step; False where this system or disk cannot."""
    if sys.platform == "win32":
        return False
    library = ctypes.CDLL(None, use_errno=True)
    names = os.fsencode(one), os.fsencode(other)
    try:
        if sys.platform == "darwin":
            failed = library.renamex_np(*names, ctypes.c_uint(_EXCHANGE))
        else:
            failed = library.renameat2(_HERE, names[0], _HERE, names[1], ctypes.c_uint(_EXCHANGE))
    except AttributeError:  # a C library older than the call
        return False
    if not failed:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(other))


def _carry_hidden(target: Path, new: Path) -> None:
    """Copy what begins with a dot (`.git`, `.nojekyll`): the generator keeps it as well, it is not of its making."""
    for path in sorted(target.glob(".*")) if target.is_dir() else ():
        if path.name == LIST:
            continue
        if path.is_dir() and not path.is_symlink():
            shutil.copytree(path, new / path.name, symlinks=True)
        else:
            shutil.copy2(path, new / path.name, follow_symlinks=False)


def _kept(target: Path, strange: list[str]) -> str:
    named = ", ".join(visible_line(name, 100) for name in strange[:FIRST])
    more = f" and {len(strange) - FIRST} more" if len(strange) > FIRST else ""
    return f"Kept in {target}, though not of this program: {named}{more}."


def _refuse_no_folder(path: Path) -> None:
    if path.is_symlink():
        raise NotWritten(
            f"{path} is a link to {path.readlink()}. Only a real folder is replaced, so that nothing elsewhere is "
            "lost. Remove the link, or put the folder itself there."
        )
    if path.exists() and not path.is_dir():
        raise NotWritten(
            f"{path} is no folder. This program did not make it. Move it away, then run this again."
        )


def _how_it_stands(target: Path, what: str, made: os.stat_result | None) -> str:
    with suppress(OSError):
        if target.is_dir():
            if made is not None and os.path.samestat(made, target.stat()):
                return f"The new {what} stands whole in {target}."
            return f"The old {what} in {target} is as it was."
        if _old(target).is_dir():
            return f"The old {what} lies whole in {_old(target)}; any command of trayside puts it back."
    return f"No {what} was made in {target}."
