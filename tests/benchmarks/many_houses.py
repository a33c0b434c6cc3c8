"""A house of many systems, for what must stay quick when a house grows."""

from __future__ import annotations

import re
from pathlib import Path

from tests.making import made_house

FIRST = 2
"""Systems the test house has of itself: crops stand in both."""


def house_of(folder: Path, systems: int) -> Path:
    """The fourth test house, its second system written out again under other ids until there are this many.

    Invented, and valid: every kind of procedure is worked in each system. Ids are `M003`, `M004` and so on.
    """
    assert systems >= FIRST, f"the house has {FIRST} systems of itself, {systems} were asked for"
    house = made_house(folder, name="fourth")
    file = house / "site_data" / "house.yml"
    text = file.read_text(encoding="utf-8")
    found = re.search(r'  - id: M\n    name: "Rack M"\n(?:    .*\n)+', text)
    assert found is not None
    numbers = range(FIRST + 1, systems + 1)
    copies = (
        found[0].replace("id: M\n", f"id: M{number:03d}\n").replace("Rack M", f"Rack M{number:03d}")
        for number in numbers
    )
    file.write_text(text[: found.end()] + "".join(copies) + text[found.end() :], encoding="utf-8")
    return house
