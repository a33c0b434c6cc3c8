"""Houses drawn at random: whichever the facts themselves allow, the pages of the manual run clean in."""

from __future__ import annotations

import random
from copy import deepcopy
from pathlib import Path
from typing import Any

from macros.ground.problems import DataProblems, Problem, errors_in
from tests.facts import source_of
from tests.fuzz.mutations import as_yaml
from tests.making import made_site

WANTED, MOST_DRAWN = 3, 60


def drawn(draw: random.Random) -> dict[str, Any]:
    """The house in round numbers with other tanks, trays, tubes, gear and strength of its stock."""
    house = deepcopy(source_of("fourth").data)
    for system in house["systems"]:
        height = draw.uniform(0.30, 0.60)
        mark = height * draw.uniform(0.60, 0.85)
        system["reservoir"] |= {
            "inside_length": f"{draw.uniform(0.40, 0.90):.2f} m",
            "inside_width": f"{draw.uniform(0.35, 0.60):.2f} m",
            "inside_height": f"{height:.2f} m",
            "fill_mark_height": f"{mark:.2f} m",
            "refill_mark_height": f"{mark * draw.uniform(0.5, 0.75):.2f} m",
            "pump_minimum_height": f"{draw.uniform(0.03, 0.07):.2f} m",
            "left_after_draining": f"{draw.uniform(0.2, 3.0):.1f} L",
            "drain_valve": draw.choice([True, False]),
        }
        if draw.random() < 0.3:
            del system["reservoir"]["air_stones"]
        if draw.random() < 0.2:
            del system["lights"]
        system["plumbing"]["supply_tube_volume"] = f"{draw.uniform(0.1, 1.5):.1f} L"
        system["trays"] |= {
            "count": draw.choice([2, 2, 3, 4]),
            "inside_length": f"{draw.uniform(0.75, 1.20):.2f} m",
            "flood_depth": f"{draw.uniform(0.02, 0.04):.3f} m",
            "left_in_tray_after_drain": f"{draw.uniform(0.1, 0.6):.1f} L",
        }
    stock = house["chemicals"][0]
    stock["strength"], stock["density"] = draw.choice([("6 % w/w", "1.02 g/mL"), ("10 % w/w", "1.035 g/mL")])
    stock["containers_in_stock"] = 40
    return house


def problems_of(folder: Path, house: dict[str, Any]) -> list[Problem]:
    """What the manual of this house is refused for."""
    (folder / "site_data").mkdir(parents=True)
    (folder / "site_data" / "house.yml").write_text(as_yaml(house), encoding="utf-8")
    try:
        made_site(folder)
    except DataProblems as refused:
        return errors_in(refused.problems)
    return []


def test_three_houses_drawn_at_random_run_clean(tmp_path: Path) -> None:
    draw, allowed = random.Random(17), 0
    for number in range(MOST_DRAWN):
        found = problems_of(tmp_path / str(number), drawn(draw))
        rehearsed = [str(one) for one in found if one.code.startswith("R-")]
        assert rehearsed == [], f"house {number}: {rehearsed[:3]}"
        allowed += not found
        if allowed == WANTED:
            return
    raise AssertionError(f"{allowed} of {MOST_DRAWN} houses are allowed by their facts")
