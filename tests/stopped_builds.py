"""Builds that are stopped, by a signal or by a disk that is full, and what stands where the site was."""

from __future__ import annotations

import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tests.making import ROOT, bytes_below, quiet_environment

BLOCK = 4096
"""Bytes a disk in memory gives out at a time."""

_LINK = re.compile(r"""(?:href|src)="?(?!https?:|data:|mailto:|tel:|#)([^"#>\s]+)""")


@dataclass(frozen=True)
class Known:
    """A house folder with its old site, and the bytes its site has before and after a whole build."""

    house: Path
    old: dict[str, bytes]
    new: dict[str, bytes]

    def standing(self, house: Path) -> str:
        """`old` or `new`, byte for byte; else what is broken."""
        site = house / "site"
        if not site.is_dir():
            return "there is no site"
        found = bytes_below(site)
        for name, whole in (("old", self.old), ("new", self.new)):
            if found == whole:
                return name
        odd = sorted(name for name in found.keys() | self.new.keys() if found.get(name) != self.new.get(name))
        return f"{len(odd)} files are those of no whole build: {', '.join(odd[:3])}"


@dataclass(frozen=True)
class Stopped:
    """How a stopped build ended, and what stands in the house now."""

    status: int
    said: str
    stands: str


def build_command(house: Path) -> list[str]:
    """The command that builds a house."""
    return [sys.executable, "-m", "macros", "build", "--house", str(house)]


def built(house: Path) -> tuple[dict[str, bytes], float]:
    """Build a house to the end: the bytes of its site, and the seconds that took."""
    began = time.monotonic()
    subprocess.run(build_command(house), cwd=ROOT, env=quiet_environment(), check=True, capture_output=True)
    return bytes_below(house / "site"), time.monotonic() - began


def missing_links(site: Path) -> list[str]:
    """Links of the start page to files of the site that are not there."""
    text = (site / "index.html").read_text(encoding="utf-8")
    links = set(_LINK.findall(text))
    assert len(links) > 20, "the start page links to the pages, styles and scripts"
    return sorted(link for link in links if not (site / link).is_file())


def stopped_by(number: int, known: Known, folder: Path, moment: Callable[[Path], bool]) -> Stopped:
    """Build a copy of the known house and send the signal when the moment has come, if it still runs."""
    house = Path(shutil.copytree(known.house, folder / "house"))
    build = subprocess.Popen(
        build_command(house),
        cwd=ROOT,
        env=quiet_environment(),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
    )
    while build.poll() is None and not moment(house):
        time.sleep(0.005)
    if build.poll() is None:
        build.send_signal(number)
    _, said = build.communicate(timeout=60)
    return Stopped(build.returncode, said, known.standing(house))


def killed(known: Known, folder: Path, seconds: float) -> Stopped:
    """`stopped_by` the signal no program can catch, after so many seconds."""
    end = time.monotonic() + seconds
    return stopped_by(signal.SIGKILL, known, folder, lambda house: time.monotonic() >= end)


def real_disks() -> bool:
    """Whether this machine lets us mount a small disk of our own, in a namespace nobody else sees."""
    if shutil.which("unshare") is None:
        return False
    probe = ["unshare", "-rm", "sh", "-c", "mount -t tmpfs none /mnt"]
    return subprocess.run(probe, capture_output=True, check=False).returncode == 0


def filled_disk(known: Known, folder: Path, room: float) -> Stopped:
    """Build a copy of the known house on a disk with room for a part (0 to 1) of the new site."""
    if real_disks():
        space = int(room * sum(_blocks(len(content)) for content in known.new.values()))
    else:
        space = int(room * max(map(len, known.new.values())))
    run, house = on_small_disk(known.house, folder, space, build_command)
    return Stopped(run.returncode, run.stderr, known.standing(house))


def on_small_disk(
    house: Path, folder: Path, room: int, command: Callable[[Path], list[str]], typed: str = ""
) -> tuple[subprocess.CompletedProcess[str], Path]:
    """Run a command on a copy of a house, on a disk with so much room beside it [bytes]; how it ended, and the house as it left it.

    The disk is one in memory, filled up to that room, where the machine lets us mount it; else no file may grow over it.
    """
    if real_disks():
        there = folder / "disk"
        there.mkdir()
        size = taken(house) + BLOCK * 64 + room
        script = (
            'size="$1" place="$2" house="$3" room="$4"; shift 4; mount -t tmpfs -o size="$size" none "$place" || exit 99; '
            'if [ -e "$house" ]; then cp -r "$house" "$place/house" || exit 99; fi; '
            'free=$(df --output=avail -B1 "$place" | tail -n 1); head -c $((free - room)) /dev/zero > "$place/filled"; '
            '"$@"; status=$?; if [ -e "$place/house" ]; then cp -r "$place/house" "$place.after"; fi; exit $status'
        )
        words = ["unshare", "-rm", "sh", "-c", script, "sh", str(size), str(there), str(house), str(room)]
        words += command(there / "house")
        after = folder / "disk.after"
    else:
        after = folder / "small"
        if house.exists():
            shutil.copytree(house, after)
        words = ["bash", "-c", f'ulimit -f {room // 1024}; exec "$@"', "bash", *command(after)]
    run = subprocess.run(
        words, cwd=ROOT, env=quiet_environment(), capture_output=True, text=True, check=False, input=typed
    )
    assert run.returncode != 99, run.stderr
    return run, after


def taken(folder: Path) -> int:
    """What a folder and all below it take on such a disk [bytes]; nothing where it is not there."""
    paths = [folder, *folder.rglob("*")] if folder.exists() else []
    return sum(BLOCK if path.is_dir() else _blocks(path.stat().st_size) for path in paths)


def _blocks(size: int) -> int:
    return -(-size // BLOCK) * BLOCK
