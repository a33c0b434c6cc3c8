"""Two runs on one input give the same bytes: another day, clock, time zone, language, folder, order of hashes and cache."""

from __future__ import annotations

import os
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from tests.making import ROOT, bytes_below, made_house, quiet_environment

RUN = textwrap.dedent(
    """
    import datetime, sys, time
    offset = float(sys.argv[2])
    real_time, real = time.time, datetime.datetime
    class Shifted(real):
        @classmethod
        def now(cls, tz=None):
            return real.fromtimestamp(real_time() + offset, tz)
        @classmethod
        def utcnow(cls):
            return real.fromtimestamp(real_time() + offset, datetime.timezone.utc).replace(tzinfo=None)
        @classmethod
        def today(cls):
            return cls.now()
    time.time = lambda: real_time() + offset
    datetime.datetime = Shifted
    from macros.doors.cli import commands
    from macros.doors.print_pack import NotPrinted
    house = sys.argv[1] + "/house"
    for words in (["build"], ["export", sys.argv[1] + "/export"], ["pack", "week", "-o", sys.argv[1] + "/week.pdf"]):
        try:
            commands([*words, "--house", house], standalone_mode=False)
        except NotPrinted:
            assert words[0] == "pack", "a pack lies there as HTML"
    """
)
"""Everything the program writes, with a clock that is off by so many seconds, and no browser."""

DAY = 86_400.0


def made(folder: Path, offset: float, **changed: str) -> Path:
    """What the run makes of the house `fifth` in `folder`; the environment is changed."""
    folder.mkdir(parents=True)
    house = made_house(folder, name="fifth")
    environment = {**quiet_environment(), "TRAYSIDE_CHROMIUM": "no such browser", **changed}
    command = [sys.executable, "-c", RUN, str(folder), str(offset)]
    run = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    for path in (house / "site_data").iterdir():
        path.unlink()
    return folder


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Two runs apart by 400 days and everything else the program could lean on; the second finds warm caches."""
    folder = tmp_path_factory.mktemp("bytes")
    caches = folder / "caches"
    caches.mkdir()
    east = {"TZ": "Pacific/Kiritimati", "LC_ALL": "C", "PYTHONHASHSEED": "1", "COLUMNS": "60"}
    west = {"TZ": "Pacific/Pago_Pago", "LC_ALL": "de_DE.UTF-8", "PYTHONHASHSEED": "2", "COLUMNS": "200"}
    first = made(folder / "one", 0, TMPDIR=str(caches), **east)
    assert any(caches.iterdir()), "the first run left compiled templates there"
    second = made(folder / "another house, längs", 400 * DAY, TMPDIR=str(caches), **west)
    return first, second


def test_every_file_is_the_same(both: tuple[Path, Path]) -> None:
    one, other = (bytes_below(folder) for folder in both)
    assert sorted(one) == sorted(other)
    assert [name for name in one if one[name] != other[name]] == []


def test_what_was_compared_is_all_the_program_writes(both: tuple[Path, Path]) -> None:
    names = bytes_below(both[0])
    wanted = (
        "site/index.html",
        "site/amounts.json",
        "site/reckoners.json",
        "site/calendar.ics",
        "site/404.html",
    )
    assert {f"house/{name}" for name in wanted} <= set(names)
    assert any("search_index" in name for name in names)
    assert any(name.endswith("objects.inv") or "sheets/" in name for name in names)
    assert {"export/index.md", "export/amounts.json", "week.html"} <= set(names)


def test_no_file_of_the_site_is_dated_by_the_clock(both: tuple[Path, Path]) -> None:
    """A sitemap is: it is for search engines, which have no business in a house manual."""
    assert [name for name in bytes_below(both[0]) if "sitemap" in name] == []


def test_the_place_of_the_house_is_in_no_file(both: tuple[Path, Path]) -> None:
    for folder in both:
        place = os.fsencode(folder)
        assert [name for name, content in bytes_below(folder).items() if place in content] == []
