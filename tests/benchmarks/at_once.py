"""Two of every writing command at once on one house, many times; and kills of each: `python -m tests.benchmarks.at_once [runs]`.

Counts entries lost or doubled, halves of files, and sentences that say what did not happen. All three must be 0.
"""

from __future__ import annotations

import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from macros.house import load_house
from tests.making import ROOT, made_house, quiet_environment

ISSUE = ["issue", "SOP-01", "--by", "owner", "--why", "first issue"]
COMMANDS = {"issue": ISSUE, "changes --seen": ["changes", "--seen"]}
"""Commands that write into the folder of a house; those that come later are added here."""


def started(command: list[str], house: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "macros", *command, "--house", str(house)],
        cwd=ROOT, env=quiet_environment(), text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


def wrong_after(house: Path) -> list[str]:
    """What is wrong with the folder once no command runs any more."""
    found, problems = load_house(house)
    if found is None:
        return [str(problem) for problem in problems]
    entries = [(one.page, one.revision, one.noted) for one in found.issued]
    wrong = ["an entry stands twice"] if len(entries) != len(set(entries)) else []
    copies = {path.stem for path in (house / "site_data" / "issued").glob("SOP-*.json")}
    return wrong + [
        f"{page} has no copy" for page, revision, _ in entries if f"{page}-{revision}" not in copies
    ]


def at_once(name: str, house: Path) -> list[str]:
    runs = [started(COMMANDS[name], house) for _ in range(2)]
    told = [(*run.communicate(), run.returncode) for run in runs]
    wrong = wrong_after(house)
    if not any(status == 0 for *_, status in told):
        wrong.append("neither was done")
    for out, error, status in told:
        if "Traceback" in out + error:
            wrong.append("a traceback")
        if status and name == "issue" and not error.endswith("Nothing was issued.\n"):
            wrong.append(f"a loser says {error!r}")
    if name == "issue":
        won = sum(status == 0 for *_, status in told)
        found, _ = load_house(house)
        if found is None or len(found.issued) != won:
            wrong.append(f"{won} say that they issued")
    return wrong


def killed(name: str, house: Path, seconds: float) -> list[str]:
    """A command killed at a random moment, and the same again to its end."""
    run = started(COMMANDS[name], house)
    time.sleep(random.uniform(0, seconds))
    run.kill()
    run.communicate()
    wrong = wrong_after(house)
    again = started(COMMANDS[name], house)
    _, error = again.communicate()
    if again.returncode and "nothing changed" not in error:
        wrong.append(f"the next run says {error!r}")
    left = [path.name for path in house.rglob(".*") if path.is_file()]
    return wrong + [f"{one} is left" for one in left] + wrong_after(house)


def main(runs: int) -> int:
    bad = 0
    for name in COMMANDS:
        began = time.monotonic()
        for number in range(runs):
            with tempfile.TemporaryDirectory() as folder:
                wrong = at_once(name, made_house(Path(folder), name="fifth"))
            bad += bool(wrong)
            if wrong:
                print(f"{name} at once, run {number}: {'; '.join(wrong)}")
        seconds = (time.monotonic() - began) / runs
        for number in range(runs):
            with tempfile.TemporaryDirectory() as folder:
                wrong = killed(name, made_house(Path(folder), name="fifth"), seconds)
            bad += bool(wrong)
            if wrong:
                print(f"{name} killed, run {number}: {'; '.join(wrong)}")
        print(f"{name}: {runs} pairs and {runs} kills, {seconds:.1f} s a pair")
    print(f"{bad} wrong")
    return int(bad > 0)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 50))
