"""Rules that need cup plates, rinses or peroxide: told by their words, on the third house."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.ground.problems import Problem
from macros.house import load_house
from tests.making import made_house, made_site


def told(folder: Path, *changes: tuple[str, str]) -> list[Problem]:
    return load_house(made_house(folder, *changes, name="third"))[1]


def test_a_rinse_too_small_to_flood_the_trays_is_raised_and_not_refused(tmp_path: Path) -> None:
    assert told(tmp_path, ('reservoir_rinse_volume: "15 L"', 'reservoir_rinse_volume: "9 L"')) == []


def test_rinse_that_stands_over_the_fill_mark(tmp_path: Path) -> None:
    """0.50 x 0.40 x 0.30 m is 60 L: 60 L pass, 61 L do not, in both systems."""
    assert told(tmp_path, ('reservoir_rinse_volume: "15 L"', 'reservoir_rinse_volume: "60 L"')) == []
    lines = [
        str(p) for p in told(tmp_path, ('reservoir_rinse_volume: "15 L"', 'reservoir_rinse_volume: "61 L"'))
    ]
    assert len(lines) == 2
    assert (
        "sanitizing.rinse.reservoir_rinse_volume: reservoir_rinse_volume 61 L stands over the fill mark of system K. 60 L "
        "reach it. Rinse with less water at a time. [E10]"
    ) in lines[0]
    assert "fill mark of system M" in lines[1]


def test_plates_that_do_not_fit(tmp_path: Path) -> None:
    house = made_house(tmp_path, name="third")
    file = house / "site_data" / "house.yml"
    file.write_text(
        file.read_text(encoding="utf-8").replace(
            'columns: 4, hole_pitch: "90 mm"', 'columns: 5, hole_pitch: "90 mm"'
        ),
        encoding="utf-8",
    )
    lines = [str(p) for p in load_house(house)[1]]
    assert (
        "2 cup plates of 0.45 m do not fit in 0.80 m. Plates stand side by side along the tray." in lines[0]
    )


def test_cup_plate_used_twice(tmp_path: Path) -> None:
    problems = told(tmp_path, ("cup_plates: [M-2-L], plants: 4", "cup_plates: [M-1-L], plants: 4"))
    assert (
        "the cup plate M-1-L is used twice (by rocket already). A plate holds one block. Move one of them. [E32]"
        in str(problems[0])
    )


def test_peroxide_without_a_density_takes_the_published_one_and_says_so(tmp_path: Path) -> None:
    """10 % w/w at 20 degC weighs 1.0353 g/mL (Laliberte 2009), so a litre holds 103.53 g."""
    site = made_site(made_house(tmp_path, (', density: "1.035 g/mL"', ""), name="third"))
    amount = site.register.get("stock_strength", chemical="perox")
    assert amount.exact == pytest.approx(103.53, rel=0.003)
    assert any("the label gives no density" in text for text in amount.assumed)
