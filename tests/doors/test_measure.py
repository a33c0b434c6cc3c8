"""`trayside measure` as a command: its prompts, its end, what it refuses."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from macros.doors.cli import commands
from macros.ground.problems import DataProblems
from tests.measuring.sittings import new_house


def measured(house: Path, typed: str, *options: str) -> tuple[int, str]:
    result = CliRunner().invoke(commands, ["measure", "--house", str(house), *options], input=typed)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.output


def test_answers_are_typed_saved_and_the_next_run_goes_on(tmp_path: Path) -> None:
    house = new_house(tmp_path)
    status, said = measured(house, "Cellar\n\n112\n")  # what is typed ends there, as by Ctrl-D
    assert status == 0
    assert "25 pages rest on it." in said
    assert said.count("Saved in site_data/house.yml.") == 2
    assert "Stopped. Every answer is saved; the next run goes on from here." in said
    text = (house / "site_data" / "house.yml").read_text(encoding="utf-8")
    assert "  name: Cellar\n" in text
    assert '    ambulance_fire: "fill in before printing"\n    # The poison line' in text
    assert "    poison_line: 112\n" in text
    _, said = measured(house, "q\n")
    assert "house, emergency: ambulance fire" in said
    assert "house: name" not in said


def test_a_section_that_nothing_has_is_told_with_those_there_are(tmp_path: Path) -> None:
    status, said = measured(new_house(tmp_path), "", "--section", "boiler")
    assert status == 0
    assert 'No fact has a name that begins with "boiler". Sections: house, water_source, systems,' in said
    assert "sign_offs" not in said


def test_a_house_with_mistakes_is_mended_first(tmp_path: Path) -> None:
    house = new_house(tmp_path)
    file = house / "site_data" / "water.yml"
    file.write_text(file.read_text(encoding="utf-8").replace("ph: 7.5", "ph: sour"), encoding="utf-8")
    with pytest.raises(DataProblems, match=r"water_source\.ph"):
        measured(house, "q\n")
