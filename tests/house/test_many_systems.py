"""A check grows with the house and no faster: 120 systems take about six times as long as 20."""

from __future__ import annotations

import gc
import re
import time
from pathlib import Path

from macros.doors.mkdocs_plugin import keep_what_is_made
from tests.making import PROCEDURES, made_house, made_site

FEW, MANY = 20, 120
SLACK = 1.5
"""Other work on the machine and the collector of memory are not the program's: our own figure."""


def house_of(folder: Path, systems: int, first: int = 0) -> Path:
    """The first test house with its one system, tank, trays and timer written out this often under other ids."""
    house = made_house(folder)
    file = house / "site_data" / "house.yml"
    before, head, rest = file.read_text(encoding="utf-8").partition("systems:\n")
    end = re.search(r"^\w", rest, re.MULTILINE)
    assert end is not None
    one, after = rest[: end.start()], rest[end.start() :]
    assert one.count("- id: K\n") == 1
    copies = (one.replace("- id: K\n", f"- id: K{number:03d}\n") for number in range(first, first + systems))
    file.write_text(before + head + "".join(copies) + after, encoding="utf-8")
    return house


def seconds(house: Path, systems: int, procedures: Path) -> float:
    """Processor time of one whole check of facts, amounts, pages and links, a page for each system, set up as a command is."""
    usual = gc.get_threshold()
    keep_what_is_made()
    start = time.process_time()
    site = made_site(house, procedures)
    spent = time.process_time() - start
    gc.set_threshold(*usual)
    assert len({dict(a.of)["system"] for a in site.register.all() if a.id == "res_fill"}) == systems
    assert len([address for address in site.pages if address.startswith("p/")]) >= systems
    return spent


def test_a_check_grows_in_a_straight_line(tmp_path: Path) -> None:
    procedures = tmp_path / "procedures"
    procedures.mkdir()
    page = (PROCEDURES / "sop-08-reservoir-change.md").read_text(encoding="utf-8")
    (procedures / "page.md").write_text(re.sub(r"see_also: .*", "see_also: []", page), encoding="utf-8")
    # Two small houses of other ids: one worked out twice would find its texts made already.
    few = [house_of(tmp_path / f"few {first}", FEW, first) for first in (300, 400)]
    many = house_of(tmp_path / "many", MANY)
    seconds(house_of(tmp_path / "first", 2), 2, procedures)  # what is read and compiled once is not counted
    least = min(seconds(one, FEW, procedures) for one in few)
    ratio = seconds(many, MANY, procedures) / least
    assert ratio <= MANY / FEW * SLACK, f"{MANY} systems take {ratio:.1f} times as long as {FEW}"
