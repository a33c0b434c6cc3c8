"""Commands run in a copy of this process, which holds the whole program already: the same code to the last write, seconds less.

What costs time and writes nothing is done once: the manual has few pages, its published files are judged once, and a house that
has the very bytes of one before, in the very place, is not worked out again (`Remembered`).
"""

from __future__ import annotations

import ctypes
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import traceback
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from click.testing import CliRunner

from macros.doors.cli import commands, main
from macros.manual.procedures import shipped_folder
from macros.site import published_words
from macros.site.site import Site, prepare_site
from tests.making import PROCEDURES, bytes_below
from tests.stopped_builds import BLOCK, taken

PAGES = ("sop-01", "sop-08", "sop-10", "sop-16")
"""Once and for each system, with forms to write on, and the page that these wait for."""

_NEW_USER, _NEW_MOUNTS = 0x10000000, 0x00020000
_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
_CHANGES = frozenset(
    {"os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.link", "os.symlink", "os.chmod", "os.truncate"}
)


@dataclass(frozen=True)
class Ended:
    """How a run ended: its status, below 0 where a signal ended it, what it said, and how often it changed a name on the disk."""

    status: int
    out: str
    error: str
    changes: int


@dataclass(frozen=True)
class Run:
    """A command that runs."""

    process: int
    files: tuple[IO[bytes], ...]

    def kill(self) -> None:
        """As kill -9; one that is over is left alone, for nobody has asked how it ended."""
        os.kill(self.process, signal.SIGKILL)

    def ended(self) -> Ended:
        """Waits for it."""
        _, status = os.waitpid(self.process, 0)
        texts = []
        for file in self.files:
            file.seek(0)
            texts.append(file.read())
            file.close()
        _, out, error, changes = texts
        return Ended(os.waitstatus_to_exitcode(status), out.decode(), error.decode(), len(changes))


class Remembered:
    """`prepare_site` of this process, which keeps what it made of each house, by its place and its bytes."""

    def __init__(self) -> None:
        self.made: dict[object, Site] = {}
        for module in [one for name, one in sys.modules.items() if name.startswith("macros.")]:
            if getattr(module, "prepare_site", None) is prepare_site:
                vars(module)["prepare_site"] = self

    def __call__(self, house: Path, *others: Any, approving: bool = False) -> Site:
        """The site of a house as it stands; nobody changes it but a copy of this process that ends."""
        facts = tuple(sorted(bytes_below(house / "site_data").items()))
        key = (house, others[1], approving, facts)
        if key not in self.made:
            self.made[key] = prepare_site(house, *others, approving=approving)
        return self.made[key]


def in_this_process(words: Sequence[str], typed: str) -> None:
    """Runs a command here, so that what it works out is remembered for the copies."""
    CliRunner().invoke(commands, list(words), input=typed)


def few_pages(folder: Path) -> None:
    """From here on the manual of this process has `PAGES` alone, written to `folder`."""
    shipped = folder / "procedures"
    shipped.mkdir()
    known = ", ".join(name.upper() for name in PAGES)
    for path in PROCEDURES.glob("sop-*.md"):
        if path.name[:6] in PAGES:
            lines = path.read_text(encoding="utf-8").split("\n")
            lines = [f"see_also: [{known}]" if line.startswith("see_also:") else line for line in lines]
            (shipped / path.name).write_text("\n".join(lines), encoding="utf-8")
    others = shipped_folder.shipped
    shipped_folder.shipped = lambda name: shipped if name == "procedures" else others(name)
    mistakes = published_words.shipped_mistakes(PROCEDURES)
    published_words.shipped_mistakes = lambda *_: mistakes


def started(
    words: Sequence[str],
    typed: str = "",
    kill_at: int = 0,
    within: Callable[[], None] = lambda: None,
    behind: Callable[[], None] = lambda: None,
) -> Run:
    """Starts `trayside words`.

    Parameters
    ----------
    typed : what a person answers
    kill_at : the change of a name on the disk, counted from 1, before which it kills itself; 0 for none
    within, behind : done in the copy before the command and after it
    """
    files = tuple(tempfile.TemporaryFile() for _ in range(4))  # noqa: SIM115 - `ended` closes them
    files[0].write(typed.encode())
    files[0].seek(0)
    process = os.fork()
    if process:
        return Run(process, files)
    status = 1
    try:
        within()
        status = _run(words, files, kill_at)
        behind()
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(status)


def _run(words: Sequence[str], files: Sequence[IO[bytes]], kill_at: int) -> int:
    for number, file in enumerate(files[:3]):
        os.dup2(file.fileno(), number)
    sys.stdin, sys.stdout, sys.stderr = (
        os.fdopen(number, mode, encoding="utf-8", closefd=False) for number, mode in enumerate("rww")
    )
    os.environ.pop("SOURCE_DATE_EPOCH", None)
    sys.argv = ["trayside", *words]
    _count_changes(files[3].fileno(), kill_at)
    try:
        main()
        status = 0
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else 0
    except BaseException:
        traceback.print_exc()
        status = 1
    sys.stdout.flush()
    sys.stderr.flush()
    return status


def _count_changes(told_in: int, kill_at: int) -> None:
    seen = 0

    def look(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal seen
        writes = event == "open" and isinstance(arguments[2], int) and arguments[2] & _WRITES
        if not (event in _CHANGES or writes):
            return
        seen += 1
        os.write(told_in, b".")
        if seen == kill_at:
            os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(look)


def on_small_disk(house: Path, room: int, words: Sequence[str], typed: str) -> Ended:
    """Runs a command where the folder of a house lies on a disk of its own, with so much room beside it [bytes].

    The disk is one in memory that the copy alone sees, in the same place; as the run left it, the house is put back at the end.
    """
    place = house.parent
    size = taken(place) + BLOCK * 64 + room
    kept = Path(tempfile.mkdtemp())

    def within() -> None:
        _own_mounts()
        shutil.copytree(place, kept / "before")
        subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "none", str(place)], check=True)
        shutil.copytree(kept / "before", place, dirs_exist_ok=True)
        disk = os.statvfs(place)
        (place / "filled").write_bytes(bytes(disk.f_bavail * disk.f_frsize - room))

    def behind() -> None:
        if house.exists():
            shutil.copytree(house, kept / "after", symlinks=True)

    end = started(words, typed, within=within, behind=behind).ended()
    shutil.rmtree(house, ignore_errors=True)
    if (kept / "after").exists():
        shutil.copytree(kept / "after", house)
    shutil.rmtree(kept)
    return end


def _own_mounts() -> None:
    """Mounts of this process alone, as `unshare -rm` makes them."""
    user, group = os.getuid(), os.getgid()
    library = ctypes.CDLL(None, use_errno=True)
    if library.unshare(_NEW_USER | _NEW_MOUNTS):
        raise OSError(ctypes.get_errno(), "no mounts of its own")
    Path("/proc/self/setgroups").write_text("deny")
    Path("/proc/self/uid_map").write_text(f"0 {user} 1")
    Path("/proc/self/gid_map").write_text(f"0 {group} 1")
    subprocess.run(["mount", "--make-rprivate", "/"], check=True)
