"""Builds killed at random moments and builds on full disks; after each, the old or the new site must be whole.

Run `python -m tests.benchmarks.kills --kills 50 --full-disks 10`. Each run prints its line; the last line counts the
broken sites, and the status is 1 where there is one. The moments come from `--seed`; a build that was over before its
moment counts as no kill, and another moment is drawn.
"""

from __future__ import annotations

import argparse
import random
import shutil
import signal
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.making import made_house
from tests.stopped_builds import Known, built, filled_disk, killed, missing_links, real_disks

LATE = 0.85
"""Every second kill falls into the last part of a build, where files are flushed and folders change places."""


def known_house(folder: Path) -> tuple[Known, float]:
    """The house `fifth` with a site, changed in one fact since; and the seconds of a build."""
    house = made_house(folder, name="fifth")
    old, _ = built(house)
    assert missing_links(house / "site") == []
    facts = house / "site_data" / "house.yml"
    text = facts.read_text(encoding="utf-8")
    facts.write_text(text.replace('flow_at_tap: "8 L/min"', 'flow_at_tap: "6 L/min"'), encoding="utf-8")
    after = Path(shutil.copytree(house, folder / "after"))
    new, seconds = built(after)
    assert missing_links(after / "site") == []
    assert new != old
    return Known(house, old, new), seconds


def main() -> int:
    """Runs them all; the number of broken sites decides the status."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--kills", type=int, default=50)
    asked.add_argument("--full-disks", type=int, default=10)
    asked.add_argument("--seed", type=int, default=9)
    wanted = asked.parse_args()
    dice = random.Random(wanted.seed)
    stands: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        known, seconds = known_house(Path(folder))
        print(f"a whole build takes {seconds:.1f} s and makes {len(known.new)} files", flush=True)
        kills = draws = 0
        while kills < wanted.kills:
            moment = dice.uniform(LATE if draws % 2 else 0, 1.02) * seconds
            draws += 1
            with tempfile.TemporaryDirectory(dir=folder) as place:
                end = killed(known, Path(place), moment)
            stands[end.stands] += 1
            if end.status == -signal.SIGKILL:
                kills += 1
                print(f"kill {kills} at {moment:.2f} s: {end.stands} site", flush=True)
            else:
                print(f"the build was over before {moment:.2f} s: {end.stands} site", flush=True)
        means = "a small disk in memory" if real_disks() else "a limit on the size of files"
        for number in range(wanted.full_disks):
            room = dice.uniform(0, 0.98)
            with tempfile.TemporaryDirectory(dir=folder) as place:
                end = filled_disk(known, Path(place), room)
            stands[end.stands] += 1
            told = " | ".join(end.said.splitlines())
            print(
                f"full disk {number + 1} ({means}, room for {room:.0%}): status {end.status}, {end.stands} site: {told}"
            )
    broken = sum(count for name, count in stands.items() if name not in ("old", "new"))
    print(f"{dict(stands)}: {broken} broken sites")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
