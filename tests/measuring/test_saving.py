"""A run that is killed between or within its answers leaves each file as it was or as it was answered, never half."""

from __future__ import annotations

import multiprocessing
import os
import random
import signal
import time
from pathlib import Path

from macros.measuring.house_files import HouseFiles
from tests.measuring.sittings import new_house

KILLS = 50


def _types_for_ever(house: Path) -> None:
    """One fact after another, as fast as the disk takes them."""
    files = HouseFiles(house)
    for number in range(1_000_000):
        files.write(files.with_stroke({("systems", 0, "name"): f"Rack {number}"}))


def test_killed_at_fifty_moments_a_file_is_old_or_new(tmp_path: Path) -> None:
    house = new_house(tmp_path)
    file = house / "site_data" / "systems.yml"
    before, _, after = file.read_text(encoding="utf-8").partition('name: "Rack A"')
    assert after
    others = {path: path.read_bytes() for path in (house / "site_data").glob("*.yml") if path != file}
    draw = random.Random(5)
    context = multiprocessing.get_context("fork")
    changed = 0
    for _ in range(KILLS):
        writer = context.Process(target=_types_for_ever, args=(house,))
        writer.start()
        time.sleep(draw.uniform(0.01, 0.08))
        assert writer.pid is not None
        os.kill(writer.pid, signal.SIGKILL)
        writer.join()
        text = file.read_text(encoding="utf-8")
        assert text.startswith(before)
        assert text.endswith(after)
        middle = text[len(before) : len(text) - len(after)]
        changed += middle != 'name: "Rack A"'
        assert middle.removeprefix('name: "Rack ').removesuffix('"').isalnum()
        assert {path: path.read_bytes() for path in others} == others
    assert changed > KILLS / 2, "most of the runs wrote something"
    HouseFiles(house).write({"systems.yml": before + 'name: "Rack A"' + after})  # no lock is left behind
