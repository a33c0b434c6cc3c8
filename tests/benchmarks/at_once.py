"""Every writing command twice at once, killed, and on a full disk: `python -m tests.benchmarks.at_once [--runs 50] [--seconds 900]`.

After each the house and what the command makes must be the old or the new, the next run must end with the new and leave nothing
behind, and whoever was told of no mistake must find it done. `--seconds` bounds the time of a command; how often it ran is told.
The runs are copies of this process, `tests.benchmarks.forked`; every second kill falls before a change of a name on the disk.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from macros.control.changes.baseline import FILE as BASELINE
from macros.house import load_house
from tests.benchmarks.forked import Ended, Remembered, Run, few_pages, in_this_process, on_small_disk, started
from tests.making import bytes_below, made_house
from tests.stopped_builds import BLOCK, taken

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
    "export": Command("export {house}/exported --house {house}"),
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
    changes: int
    """How often it changes a name on the disk."""
    room: int
    """[bytes] that what it writes takes on a disk."""


@dataclass(frozen=True)
class Trial:
    """What is wrong after a trial, and whether a run was stopped in it."""

    wrong: list[str]
    stopped: bool


def laid(name: str, folder: Path) -> Path:
    """The house before the command, in a folder of its own."""
    (folder / "phone.csv").write_text(READINGS, encoding="utf-8")
    return folder / "house" if name == "new" else made_house(folder, name="fifth")


def words_of(command: Command, house: Path) -> list[str]:
    return [word.format(house=house, beside=house.parent) for word in command.words.split()]


def run(command: Command, house: Path, typed: str = "", kill_at: int = 0) -> Run:
    return started(words_of(command, house), typed or command.typed, kill_at)


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


@contextmanager
def one_place() -> Iterator[Path]:
    """A new folder, each time of the same name: what is remembered of a house is remembered with its place."""
    folder = Path(tempfile.gettempdir(), f"at-once-{os.getpid()}")
    folder.mkdir()
    try:
        yield folder
    finally:
        shutil.rmtree(folder)


def known_of(name: str) -> Known:
    """The command run once to its end with nothing in its way."""
    command = COMMANDS[name]
    with one_place() as folder:
        in_this_process(words_of(command, laid(name, folder)), command.typed)
    with one_place() as folder:
        house = laid(name, folder)
        old, before = seen(house), taken(house)
        began = time.monotonic()
        end = run(command, house).ended()
        seconds = time.monotonic() - began
        assert done(command, end), end.error
        hidden = frozenset(filter(_hidden, below(house)))
        return Known(command, old, seen(house), hidden, seconds, end.changes, taken(house) - before)


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
    first = run(known.command, house)
    # The second comes while the first reads, waits or writes.
    time.sleep(random.choice((0.0, random.uniform(0, known.seconds))))
    second = run(known.command, house, known.command.other)
    ends = [first.ended(), second.ended()]
    state = stands(known, house)
    wrong = false_sentences(known, ends, state) + misread(house)
    if not any(done(known.command, end) for end in ends):
        wrong.append("neither was done")
    return Trial(wrong + _left(known, house), any(not done(known.command, end) for end in ends))


def killed(name: str, known: Known, folder: Path) -> Trial:
    """A run killed at a random moment, and the same again to its end."""
    house = laid(name, folder)
    if random.random() < 0.5:
        end = run(known.command, house, kill_at=random.randint(1, known.changes)).ended()
    else:
        begun = run(known.command, house)
        time.sleep(random.uniform(0, 1.02) * known.seconds)
        begun.kill()
        end = begun.ended()
    wrong = misread(house) + _half(known, house) + _again(known, house)
    return Trial(wrong, end.status < 0)


def on_full_disk(name: str, known: Known, folder: Path) -> Trial:
    """A run on a disk with room for a part of what it writes, and the same again with room."""
    house = laid(name, folder)
    room = random.randint(0, max(0, known.room // BLOCK - 1)) * BLOCK if random.random() < 0.7 else BLOCK
    end = on_small_disk(house, room, words_of(known.command, house), known.command.typed)
    state = stands(known, house)
    # Where what follows an entry has no room, the entry stands and is told.
    if known.command.many and "What was issued before that stands:" in end.error:
        return Trial(misread(house), True)
    wrong = false_sentences(known, [end], state) + misread(house) + _half(known, house)
    return Trial(wrong + _again(known, house), end.status > 0)


def _half(known: Known, house: Path) -> list[str]:
    state = stands(known, house)
    return [] if known.command.many or state in ("old", "new", "other") else [state]


def _again(known: Known, house: Path) -> list[str]:
    """The same command once more ends with the new, whatever stopped the one before."""
    before, end = stands(known, house), run(known.command, house).ended()
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


def wrong_of(name: str, rounds: int, longest: float) -> int:
    """Runs the trials of a command in rounds, for at most `longest` seconds; how many went wrong, which is printed."""
    known, began, bad = known_of(name), time.monotonic(), 0
    counts, stopped = dict.fromkeys(TRIALS, 0), dict.fromkeys(TRIALS, 0)
    while min(counts.values()) < rounds and time.monotonic() - began < longest:
        for trial, made in TRIALS.items():
            with one_place() as folder:
                found = made(name, known, folder)
            counts[trial] += 1
            stopped[trial] += found.stopped
            bad += bool(found.wrong)
            if found.wrong:
                print(f"{name}, {trial}, run {counts[trial]}: {'; '.join(found.wrong)}", flush=True)
    told = ", ".join(f"{counts[trial]} times {trial} ({stopped[trial]} stopped)" for trial in TRIALS)
    took = time.monotonic() - began
    print(
        f"{name}: {told}; {known.seconds:.1f} s a run, {known.changes} changes of names, {took:.0f} s",
        flush=True,
    )
    return bad


def main() -> int:
    """Runs them all; what is wrong decides the status."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--runs", type=int, default=50)
    asked.add_argument("--seconds", type=float, default=900.0)
    asked.add_argument("--only", choices=COMMANDS, action="append")
    asked.add_argument("--seed", type=int, default=1)
    wanted = asked.parse_args()
    random.seed(wanted.seed)
    with tempfile.TemporaryDirectory() as folder:
        few_pages(Path(folder))
        Remembered()
        bad = sum(wrong_of(name, wanted.runs, wanted.seconds) for name in wanted.only or COMMANDS)
    print(f"{bad} wrong")
    return int(bad > 0)


if __name__ == "__main__":
    sys.exit(main())
