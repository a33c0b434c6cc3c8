"""In one tank more water never stands lower: every level an amount is read at, the printed gallons beside it, worked again here.

The volume below a level is taken in thin slices, not by the formula of the program.
"""

from __future__ import annotations

import copy
import random
import re
from itertools import pairwise
from math import pi

from macros.amounts import Register
from macros.ground.yaml_source import Source
from tests.facts import register_of, source_of

CUBIC_INCHES = 231.0
"""[in3] in a US gallon: its definition, NIST Handbook 44, appendix C."""
SLICES = 400


def tank_of(chance: random.Random) -> tuple[float, float]:
    """Diameter and fill mark [in], odd numbers as a tape gives them."""
    return round(chance.uniform(18, 26), 2), round(chance.uniform(12, 18), 2)


def with_tank(diameter: float, fill: float, mark: str) -> Register:
    source = source_of("second")
    data = copy.deepcopy(source.data)
    tank = data["systems"][0]["reservoir"]
    tank |= {"inside_diameter": f"{diameter} in", "inside_height": "24 in", "fill_mark_height": f"{fill} in"}
    data["measuring_tools"][-1]["mark"] = mark
    return register_of(Source(data, source.places, source.file))


def gallons(diameter: float, level: float) -> float:
    return sum(pi / 4 * diameter**2 * level / SLICES for _ in range(SLICES)) / CUBIC_INCHES


def test_more_water_stands_higher_and_each_level_is_that_of_its_gallons() -> None:
    chance, read = random.Random(11), 0
    for mark in ("0.25 in", "0.5 in", "1 cm", "0.25 in", "0.5 cm"):
        diameter, fill = tank_of(chance)
        register = with_tank(diameter, fill, mark)
        rows = []
        for amount in register.all():
            found = re.search(r" at ([\d.]+) (in|cm)$", amount.tool)
            if found and dict(amount.of).get("system") == "N" and amount.unit == "us_gal":
                level = float(found[1]) / (2.54 if found[2] == "cm" else 1)
                rows.append((amount.rounded, level, amount.key))
                # What is told finely: 0.01 in or 1 mm, rounded down, and a tenth of a gallon.
                off = amount.rounded - gallons(diameter, level)
                assert -0.11 <= off <= gallons(diameter, 0.04) + 0.11, (
                    amount.key,
                    amount.printed,
                    amount.tool,
                )
        # The rows of the level table beside them: no printed line stands lower than one that holds less.
        inch = 2.54 if "cm" in mark else 1
        rows += [
            (volume, level / inch, "level_table")
            for level, volume, *_ in register.get("level_table", system="N").exact["rows"]
        ]
        rows.sort()
        levels = [level for _, level, _ in rows]
        assert levels == sorted(levels), rows
        read += len(rows)
        table = register.get("level_table", system="N").value["rows"]
        assert all(
            low[0] < high[0] and low[1] <= high[1] and low[2] >= high[2] for low, high in pairwise(table)
        )
    assert read >= 35
