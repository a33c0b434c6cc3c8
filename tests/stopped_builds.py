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
    """Build a copy of the known house on a disk with room for a part (0 to 1) of the new site.

    The disk is one in memory where the machine lets us mount it; else no file may grow over that part of the largest.
    """
    house = folder / "house"
    if real_disks():
        there = folder / "disk"
        there.mkdir()
        size = _taken(known.house) + BLOCK * 16 + int(room * _taken_by(known.new))
        script = (
            'mount -t tmpfs -o size="$1" none "$2" && cp -r "$3" "$2/house" || exit 99; shift 3; '
            'place="$1"; shift; "$@"; status=$?; cp -r "$place/house" "$place.after" && exit $status'
        )
        inside = build_command(there / "house")
        command = ["unshare", "-rm", "sh", "-c", script, "sh", str(size), str(there), str(known.house)]
        command += [str(there), *inside]
        house = folder / "disk.after"
    else:
        shutil.copytree(known.house, house)
        most = int(room * max(map(len, known.new.values()))) // 1024
        command = ["bash", "-c", f'ulimit -f {most}; exec "$@"', "bash", *build_command(house)]
    run = subprocess.run(
        command, cwd=ROOT, env=quiet_environment(), capture_output=True, text=True, check=False
    )
    assert run.returncode != 99, run.stderr
    return Stopped(run.returncode, run.stderr, known.standing(house))


def _taken(folder: Path) -> int:
    paths = [folder, *folder.rglob("*")]
    return sum(BLOCK if path.is_dir() else _blocks(path.stat().st_size) for path in paths)


def _taken_by(site: dict[str, bytes]) -> int:
    return sum(_blocks(len(content)) for content in site.values())


def _blocks(size: int) -> int:
    return -(-size // BLOCK) * BLOCK
