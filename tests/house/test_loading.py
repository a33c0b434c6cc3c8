"""Loading a house folder: several files, doubles, nothing there; the day; places and names of fields."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from macros.ground.problems import Problem, errors_in
from macros.house import load_house
from macros.house.files.new_house import start_house
from macros.house.records.day import resolve_day
from tests.making import made_house


@pytest.mark.quick
def test_sections_may_stand_in_several_files(tmp_path: Path) -> None:
    house = made_house(tmp_path)
    file = house / "site_data" / "house.yml"
    head, _, tail = file.read_text(encoding="utf-8").partition("measuring_tools:")
    file.write_text(head, encoding="utf-8")
    (house / "site_data" / "tools.yml").write_text("measuring_tools:" + tail, encoding="utf-8")
    loaded, problems = load_house(house)
    assert problems == []
    assert loaded is not None
    assert str(loaded.measuring_tools[0].place("mark")) == "site_data/tools.yml:2"
    assert loaded.measuring_tools[0].key("mark") == "measuring_tools[cylinder 100 mL].mark"


def test_section_in_two_files_is_told_with_both_places(tmp_path: Path) -> None:
    house = made_house(tmp_path)
    (house / "site_data" / "more.yml").write_text("margins: {reserve_volume: 5 L}\n", encoding="utf-8")
    _, problems = load_house(house)
    assert [str(p) for p in problems] == [
        "site_data/more.yml:1: margins: the section stands here and at site_data/house.yml:49. A section stands in one "
        "file, once. Keep one of the two. [E32]"
    ]


def test_what_is_switched_on_in_the_wrong_file_is_told_with_where_it_belongs(tmp_path: Path) -> None:
    """In a new house the optional facts stand together; one switched on there without its names is no section."""
    house = start_house(tmp_path / "house")
    file = house / "site_data" / "optional.yml"
    lines = file.read_text(encoding="utf-8").splitlines()
    stone = lines.index('      #water_temperature: "20 degC"')
    source = lines.index("#water_source:")
    lines[stone] = '      water_temperature: "20 degC"'
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    assert [str(one) for one in errors_in(load_house(house)[1])] == [
        f"site_data/optional.yml:{stone + 1}: water_temperature: water_temperature is not a known section. It belongs "
        "under systems.reservoir: write it there. [E31]"
    ]
    lines[stone] = "      #"
    lines[source : source + 3] = ["water_source:", "  # Its day.", "  tested: 2025-11-20"]
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    water = (house / "site_data" / "water.yml").read_text(encoding="utf-8").splitlines()
    assert [str(one) for one in errors_in(load_house(house)[1])] == [
        f"site_data/water.yml:{water.index('water_source:') + 1}: water_source: the section stands here and at "
        f"site_data/optional.yml:{source + 1}. A section stands in one file, once. Keep one of the two. [E32]"
    ]


def test_folder_without_facts(tmp_path: Path) -> None:
    house, problems = load_house(tmp_path)
    assert house is None
    assert str(problems[0]).startswith("site_data/:1: house: there is no *.yml file in ")


def test_sections_that_are_not_there_are_not_missed(tmp_path: Path) -> None:
    house = made_house(tmp_path)
    file = house / "site_data" / "house.yml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text[: text.index("policies:")], encoding="utf-8")
    loaded, problems = load_house(house)
    assert problems == []
    assert loaded is not None
    assert loaded.policies is None


def test_day_is_asked_for_then_from_the_environment_then_from_the_house(tmp_path: Path) -> None:
    house, _ = load_house(made_house(tmp_path))
    assert house is not None
    answers = [
        resolve_day("2031-07-01", {"SOURCE_DATE_EPOCH": "0"}, house),
        resolve_day(None, {"SOURCE_DATE_EPOCH": "86400"}, house),
        resolve_day(None, {}, house),
    ]
    assert [answer[0] for answer in answers if not isinstance(answer, Problem)] == [
        date(2031, 7, 1),
        date(1970, 1, 2),
        date(2031, 5, 1),
    ]


def test_no_day_at_all_is_a_problem(tmp_path: Path) -> None:
    house, _ = load_house(made_house(tmp_path, ("  as_of: 2031-05-01\n", "")))
    assert house is not None
    assert str(resolve_day(None, {}, house)) == (
        "site_data/house.yml:2: house.as_of: no day is given. The manual is built for a day. Give --date 2026-03-10, or "
        "write house.as_of."
    )
    assert str(resolve_day("1.7.2031", {}, house)).startswith('--date:1: date: "1.7.2031" is not a date.')
