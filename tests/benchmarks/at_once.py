"""Every writing command twice at once, killed, and on a full disk: `python -m tests.benchmarks.at_once [--runs 50] [--seconds 100]`.

After each the house and what the command makes must be the old or the new, the next run must end with the new and leave nothing
behind, and whoever was told of no mistake must find it done. `--seconds` bounds the time of a command; how often it ran is told.
"""

from __future__ import annotations

import argparse
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from macros.control.changes.baseline import FILE as BASELINE
from macros.house import load_house
from tests.making import ROOT, bytes_below, made_house, quiet_environment
from tests.stopped_builds import BLOCK, on_small_disk, taken

LATE = 0.8
"""Every second kill falls into the last part of a run, where files are written."""

READINGS = "date,time,system,ph,by\n2031-03-01,08:30,K,6.2,QM\n2031-03-02,08:30,K,6.1,QM\n"


@dataclass(frozen=True)
class Command:
    """A command that writes.

    Parameters
    ----------
    words : its arguments; {house} and {beside} are filled in
    typed : what a person answers; the second of two types `other`
    not_done : how the words of one that did not do it end, where it says so
    many : it writes several files of the house one after another, so that a kill may leave some of them
    """

    words: str
    typed: str = ""
    other: str = ""
    not_done: str = ""
    many: bool = False


COMMANDS = {
    "issue": Command("issue SOP-01 --by owner --why first --house {house}", not_done="Nothing was issued.\n", many=True),
    "changes --seen": Command("changes --seen --house {house}"),
    "log": Command("log {beside}/phone.csv --date 2031-04-30 --house {house}"),
    "measure": Command("measure --all --house {house}", typed="Cellar\nq\n", other="Attic\nq\n"),
    "build": Command("build --house {house}", not_done="house/site"),
    "build --served": Command("build --served --house {house}", not_done="house/site"),
    "build --one-file": Command("build --one-file --house {house}"),
    "pack": Command("pack cards -o {house}/cards.pdf --house {house}"),
    "new": Command("new {house}"),
}  # fmt: skip
"""Commands that write; those that come later are added here."""


@dataclass(frozen=True)
class Known:
    """What a house holds before and after the whole command, and how long that takes [s]."""

    command: Command
    old: dict[str, bytes]
    new: dict[str, bytes]
    hidden: frozenset[str]
    seconds: float
    room: int
    """[bytes] that what it writes takes on a disk."""


@dataclass(frozen=True)
class Trial:
    """What is wrong after a trial, and whether a run was stopped in it."""

    wrong: list[str]
    stopped: bool


@dataclass(frozen=True)
class Ended:
    """How a run ended: its status, what it said."""

    status: int
    out: str
    error: str


def laid(name: str, folder: Path) -> Path:
    """The house before the command, in a folder of its own."""
    (folder / "phone.csv").write_text(READINGS, encoding="utf-8")
    return folder / "house" if name == "new" else made_house(folder, name="fifth")


def words_of(command: Command, house: Path) -> list[str]:
    filled = (word.format(house=house, beside=house.parent) for word in command.words.split())
    return [sys.executable, "-m", "macros", *filled]


def started(command: Command, house: Path, typed: str = "") -> subprocess.Popen[str]:
    run = subprocess.Popen(
        words_of(command, house), cwd=ROOT, env=quiet_environment(), text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert run.stdin is not None
    run.stdin.write(typed or command.typed)
    run.stdin.close()
    run.stdin = None
    return run


def ended(run: subprocess.Popen[str]) -> Ended:
    out, error = run.communicate()
    return Ended(run.returncode, out, error)


def below(house: Path) -> dict[str, bytes]:
    return bytes_below(house) if house.exists() and any(house.iterdir()) else {}


def seen(house: Path) -> dict[str, bytes]:
    """Files by name with their bytes, hidden ones left out. No two runs print a PDF alike: it counts by its end."""
    found = {name: data for name, data in below(house).items() if not _hidden(name)}
    return {name: _whole_pdf(data) if name.endswith(".pdf") else data for name, data in found.items()}


def _hidden(name: str) -> bool:
    return any(part.startswith(".") for part in Path(name).parts)


def _whole_pdf(data: bytes) -> bytes:
    return b"whole" if data.startswith(b"%PDF") and data.rstrip().endswith(b"%%EOF") else data


def known_of(name: str) -> Known:
    """The command run once to its end with nothing in its way."""
    command = COMMANDS[name]
    with tempfile.TemporaryDirectory() as folder:
        house = laid(name, Path(folder))
        old, before = seen(house), taken(house)
        began = time.monotonic()
        end = ended(started(command, house))
        seconds = time.monotonic() - began
        assert done(command, end), end.error
        hidden = frozenset(filter(_hidden, below(house)))
        return Known(command, old, seen(house), hidden, seconds, taken(house) - before)


def done(command: Command, end: Ended) -> bool:
    """Whether a run says that it did what it was asked to."""
    return end.status == 0 and (not command.typed or "Saved in " in end.out)


def stands(known: Known, house: Path) -> str:
    """`old` or `new`; else what is half."""
    found = seen(house)
    others = _with_the_other(known)
    for name, whole in (("old", known.old), ("new", known.new), ("other", others)):
        if found == whole:
            return name
    odd = sorted(name for name in found.keys() | known.new.keys() if found.get(name) != known.new.get(name))
    return f"{len(odd)} files are those of no whole run: {', '.join(odd[:3])}"


def _with_the_other(known: Known) -> dict[str, bytes]:
    """What it makes of the answer of the second person."""
    mine, theirs = (text.split("\n")[0].encode() for text in (known.command.typed, known.command.other))
    return {name: data.replace(mine, theirs) for name, data in known.new.items()} if mine else known.new


def misread(house: Path) -> list[str]:
    """Mistakes of the facts, and entries of issues that stand twice or without their copy."""
    if not (house / "site_data").exists():
        return []
    found, problems = load_house(house)
    if found is None:
        return [str(problem) for problem in problems]
    entries = [(one.page, one.revision, one.noted) for one in found.issued]
    wrong = ["an entry stands twice"] if len(entries) != len(set(entries)) else []
    copies = {path.stem for path in (house / "site_data" / "issued").glob("SOP-*.json")}
    return wrong + [
        f"{page} has no copy" for page, revision, _ in entries if f"{page}-{revision}" not in copies
    ]


def false_sentences(known: Known, ends: list[Ended], state: str) -> list[str]:
    """What was said and is not so."""
    command = known.command
    wrong = ["a traceback"] if any("Traceback" in end.out + end.error for end in ends) else []
    if any(done(command, end) for end in ends) != (state in ("new", "other")):
        wrong.append(f"told {[end.status for end in ends]}, and there stands {state}: {ends[-1].error!r}")
    return wrong + [
        f"one that did not do it says {end.error!r}"
        for end in ends
        if end.status > 0 and (not end.error or command.not_done not in end.error)
    ]


def at_once(name: str, known: Known, folder: Path) -> Trial:
    """Two runs at once; stopped is the one that gave way."""
    house = laid(name, folder)
    runs = [started(known.command, house), started(known.command, house, known.command.other)]
    ends = [ended(run) for run in runs]
    state = stands(known, house)
    wrong = false_sentences(known, ends, state) + misread(house)
    if not any(done(known.command, end) for end in ends):
        wrong.append("neither was done")
    return Trial(wrong + _left(known, house), any(not done(known.command, end) for end in ends))


def killed(name: str, known: Known, folder: Path) -> Trial:
    """A run killed at a random moment, and the same again to its end."""
    house = laid(name, folder)
    run = started(known.command, house)
    time.sleep(random.uniform(random.choice((0, LATE)), 1.02) * known.seconds)
    run.kill()
    end = ended(run)
    wrong = misread(house) + _half(known, house) + _again(known, house)
    return Trial(wrong, end.status < 0)


def on_full_disk(name: str, known: Known, folder: Path) -> Trial:
    """A run on a disk with room for a part of what it writes, and the same again with room."""
    house = laid(name, folder)
    room = random.randint(0, max(0, known.room // BLOCK - 1)) * BLOCK if random.random() < 0.7 else BLOCK
    run, after = on_small_disk(
        house, folder, room, lambda there: words_of(known.command, there), known.command.typed
    )
    end = Ended(run.returncode, run.stdout, run.stderr)
    state = stands(known, after)
    # Where what follows an entry has no room, the entry stands and is told.
    if known.command.many and "What was issued before that stands:" in end.error:
        return Trial(misread(after), True)
    wrong = false_sentences(known, [end], state) + misread(after) + _half(known, after)
    return Trial(wrong + _again(known, after), end.status > 0)


def _half(known: Known, house: Path) -> list[str]:
    state = stands(known, house)
    return [] if known.command.many or state in ("old", "new", "other") else [state]


def _again(known: Known, house: Path) -> list[str]:
    """The same command once more ends with the new, whatever stopped the one before."""
    before, end = stands(known, house), ended(started(known.command, house))
    if (
        known.command.many and before != "old"
    ):  # killed behind its entry: `changes` lists more until it is seen, never less
        (house / BASELINE).write_bytes(known.new[BASELINE])
    after = stands(known, house)
    wrong = [] if after == "new" else [f"after the next run there stands {after}: {end.error!r}"]
    if end.status and before != "new" and "nothing changed" not in end.error:
        wrong.append(f"the next run says {end.error!r}")
    return wrong + misread(house) + _left(known, house)


def _left(known: Known, house: Path) -> list[str]:
    return [f"{name} is left" for name in below(house) if _hidden(name) and name not in known.hidden]


TRIALS: dict[str, Callable[[str, Known, Path], Trial]] = {
    "two at once": at_once,
    "killed": killed,
    "full disk": on_full_disk,
}


def main() -> int:
    """Runs them all; what is wrong decides the status."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--runs", type=int, default=50)
    asked.add_argument("--seconds", type=float, default=100.0)
    asked.add_argument("--only", choices=COMMANDS)
    wanted = asked.parse_args()
    bad = 0
    for name in [wanted.only] if wanted.only else COMMANDS:
        known, began = known_of(name), time.monotonic()
        counts, stopped = dict.fromkeys(TRIALS, 0), dict.fromkeys(TRIALS, 0)
        while min(counts.values()) < wanted.runs and time.monotonic() - began < wanted.seconds:
            for trial, run in TRIALS.items():
                with tempfile.TemporaryDirectory() as folder:
                    found = run(name, known, Path(folder))
                counts[trial] += 1
                stopped[trial] += found.stopped
                bad += bool(found.wrong)
                if found.wrong:
                    print(f"{name}, {trial}, run {counts[trial]}: {'; '.join(found.wrong)}", flush=True)
        told = ", ".join(f"{counts[trial]} times {trial} ({stopped[trial]} stopped)" for trial in TRIALS)
        print(f"{name}: {told}; {known.seconds:.1f} s a run", flush=True)
    print(f"{bad} wrong")
    return int(bad > 0)


if __name__ == "__main__":
    sys.exit(main())
