"""Damaged house folders: one file of a test house damaged, its files parted and mixed, its log broken."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from macros.amounts import compute_amounts
from macros.doors.print_pack import pack_of
from macros.ground.problems import Problem
from macros.house import load_house
from macros.house.records.day import resolve_day
from macros.packs.makers import pack_parts
from macros.packs.pack import PackRequest
from macros.site.site import prepare_site
from tests.facts import source_of
from tests.fuzz.judging import Outcome, judged
from tests.fuzz.mutations import HOSTILE_TEXTS, as_yaml, damaged_bytes, damaged_data
from tests.making import HOUSES, PROCEDURES

NAMES = ("first", "second", "third", "fourth", "fifth")
WHOLE_EVERY = 5
"""Each fifth case goes through the whole manual, with two of its procedures, one of them for each system."""
PACKS = ("week", "cards", "labels", "naming", "roster", "measure")
TWO_PAGES = ("sop-08-reservoir-change.md", "sop-16-daily-check.md")
"""With which every test house, undamaged, is whole: those of a cleanout alone would leave blocks of its checklist out."""

_LOG = """date,time,system,level_cm,added_L,ec_mS_cm,ph,acid_mL,acid_chemical,ph_after,temperature_C,strip_mg_L,by,note
2031-04-20,08:00,{0},24,3.0,1.42,6.1,4,down,5.9,20.5,0.1,helper,clear
2031-04-21,08:00,{0},23.5,,1.44,6.2,,,,21,,helper,
2031-04-22,,{0},23,2.5,1.40,6.0,,,,,0,owner,"filled, then read"
2031-04-23,07:50,{0},24,3.1,1.43,6.1,3,down,5.8,20,,helper,
"""
_LOG_CELLS = (
    *HOSTILE_TEXTS,
    "1,42",
    '"',
    '""',
    "2031-04-19",
    "2035-01-01",
    "99",
    "-1",
    "14.1",
    "a,b,c",
    "\n",
    "NaN",
    "=1+1",
)


def house_case(
    seed: str, number: int, folder: Path, make: Callable[[Random, Path], Path] | None = None
) -> Outcome:
    """Makes the damaged house of this number in `folder`, runs it, and judges the run. `make` is another way of damage."""
    random = Random(f"{seed} house {number}")
    house = (make or make_house)(random, folder / "house")
    shipped = folder / "shipped"
    shipped.mkdir()
    for name in TWO_PAGES:
        (shipped / name).write_text(standing_alone()[name], encoding="utf-8")
    whole, pack = number % WHOLE_EVERY == 0, PACKS[number // WHOLE_EVERY % len(PACKS)]
    outcome = judged(lambda: run_house(house, shipped, pack) if whole else run_house(house))
    shutil.rmtree(house)
    shutil.rmtree(shipped)
    return outcome


def run_house(house: Path, shipped: Path | None = None, pack: str = "") -> list[Problem]:
    """Loads the house and works its amounts out; with procedures, the whole manual and the sheets of a pack."""
    if shipped is not None:
        site = prepare_site(house, shipped, None, {})
        if pack:
            pack_parts(pack_of(site, PackRequest(pack), day_given=False))
        return site.warnings
    found, problems = load_house(house)
    if found is None:
        return problems
    day = resolve_day(None, {}, found)
    if isinstance(day, Problem):
        return [*problems, day]
    return problems + compute_amounts(found, *day).problems


def make_house(random: Random, house: Path) -> Path:
    """A test house with one kind of damage."""
    name = random.choice(NAMES)
    facts = house / "site_data"
    (facts / "log").mkdir(parents=True)
    text = (HOUSES / name / "site_data" / "house.yml").read_text(encoding="utf-8")
    kind = random.choices(("bytes", "data", "parts", "log"), weights=(22, 62, 8, 8))[0]
    content = text.encode()
    if kind == "bytes":
        content = damaged_bytes(random, text)
    elif kind == "data":
        content = as_yaml(damaged_data(random, _data(name))).encode()
    elif kind == "parts":
        content = _parts(random, name, facts)
    else:
        _log(random, name, facts)
    (facts / "house.yml").write_bytes(content)
    return house


@cache
def standing_alone() -> dict[str, str]:
    """The pages of the manual by file, each leading to itself only."""
    found = {}
    for path in sorted(PROCEDURES.glob("sop-*.md")):
        text = path.read_text(encoding="utf-8")
        found[path.name] = re.sub(r"(?m)^see_also:.*$", f"see_also: [{path.name[:6].upper()}]", text)
    return found


@cache
def _data(name: str) -> Any:
    return source_of(name).data


def _parts(random: Random, name: str, facts: Path) -> bytes:
    """The sections in two files: some twice, some from another house, some in neither."""
    own, other = _data(name), _data(random.choice(NAMES))
    here: dict[str, Any] = {}
    there: dict[str, Any] = {}
    for section, value in own.items():
        kind = random.choices(("here", "there", "both", "neither", "foreign"), weights=(60, 30, 2, 2, 6))[0]
        if kind in ("here", "both"):
            here[section] = value
        if kind in ("there", "both"):
            there[section] = value
        if kind == "foreign":
            here[section] = other.get(section, value)
    (facts / random.choice(("more.yml", "MORE.yml", "a b.yml", "zz.yml"))).write_text(
        as_yaml(there), encoding="utf-8"
    )
    return as_yaml(here).encode()


def _log(random: Random, name: str, facts: Path) -> None:
    """A log with a cell, a column, a quote or its bytes broken."""
    text = _LOG.format(_data(name)["systems"][0]["id"])
    rows = [line.split(",") for line in text.splitlines()]
    kind = random.randrange(5)
    if kind == 0:
        row = random.choice(rows)
        row[random.randrange(len(row))] = random.choice(_LOG_CELLS)
    elif kind == 1:
        column = random.randrange(len(rows[0]))
        for row in rows:
            del row[column]
    elif kind == 2:
        rows = [rows[0], *(random.choice(rows[1:]) for _ in range(random.choice((0, 50, 2_000))))]
    elif kind == 3:
        random.shuffle(rows)
    content = "\n".join(",".join(row) for row in rows)
    (facts / "log" / "2031.csv").write_bytes(
        damaged_bytes(random, content) if kind == 4 else content.encode()
    )
