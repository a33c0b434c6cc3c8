"""Inputs that once ended in a crash or a hang, found by damaging houses and pages at random (`tests/fuzz`)."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest

from macros.ground.problems import DataProblems, Place, Problem
from macros.house import load_house
from macros.house.records.day import resolve_day
from tests.making import HOUSES, OWN_PAGE, made_house, made_site

TEXT = OWN_PAGE.read_text(encoding="utf-8")
FIFTH = (HOUSES / "fifth" / "site_data" / "house.yml").read_text(encoding="utf-8")


def told(folder: Path, *changes: tuple[str, str]) -> list[str]:
    """What is said of the fifth house with these changes."""
    _, problems = load_house(made_house(folder, *changes, name="fifth"))
    return [str(problem) for problem in problems]


def told_of_page(folder: Path, content: bytes) -> list[str]:
    (folder / OWN_PAGE.name).write_bytes(content)
    with pytest.raises(DataProblems) as refused:
        made_site(HOUSES / "third", folder)
    return [str(problem) for problem in refused.value.problems]


def line_of(text: str, part: str) -> int:
    return 1 + text[: text.index(part)].count("\n")


# ------------------------------------------------------------------ crashes


def test_a_tool_for_liquids_marked_in_lengths(tmp_path: Path) -> None:
    """Its capacity could not be turned into litres."""
    old = '{name: "bucket 10 L", capacity: "10 L", mark: "0.5 L", smallest_use: "2 L", tare: "0.6 kg", for: [water]}'
    lines = told(
        tmp_path,
        (old, '{name: "bucket", capacity: "40 cm", mark: "1 cm", smallest_use: "4 cm", for: [water]}'),
    )
    assert lines == [
        f"site_data/house.yml:{line_of(FIFTH, old)}: measuring_tools[bucket].for: 'bucket' is marked in lengths and serves water. "
        "What is marked in lengths serves level alone. Write its marks as volumes, or for: [level]."
    ]


def test_a_tool_marked_in_lengths_for_nothing(tmp_path: Path) -> None:
    old = '{name: "stick", capacity: "40 cm", mark: "0.5 cm", smallest_use: "2 cm", for: [level]}'
    lines = told(tmp_path, (old, old.replace("[level]", "[]")))
    assert any("'stick' is marked in lengths and serves nothing." in line for line in lines), lines


def test_a_feed_without_stages(tmp_path: Path) -> None:
    """The steps that mix the feed asked for the stage of the tank."""
    stages = FIFTH[FIFTH.index("  stages:\n") : FIFTH.index("measuring_tools:\n")]
    old = next(line for line in FIFTH.splitlines() if line.lstrip().startswith("fill_stage:"))
    lines = told(tmp_path, (stages, "  stages: {}\n"))
    at = FIFTH.replace(stages, "  stages: {}\n")
    assert lines == [
        f"site_data/house.yml:{line_of(at, old)}: systems[K].fill_stage: leafy is no stage of the feed. "
        "There are none: nutrients.stages is empty. Name one of them."
    ]


def test_a_yield_of_leaves_by_volume(tmp_path: Path) -> None:
    """Its bounds are in grams, and a volume has none."""
    lines = told(tmp_path, ('yield_per_plant: "60 g"', 'yield_per_plant: "60 mL"'))
    assert lines[0] == (
        f"site_data/house.yml:{line_of(FIFTH, '{id: rocket,')}: varieties[rocket].yield_per_plant: "
        '"60 mL" is a volume, not a mass. Allowed is a mass in kg, g, lb or oz_wt. Write it as for example "15 kg". [E01]'
    )


def test_a_part_twice_in_the_mixing_order(tmp_path: Path) -> None:
    """Its dose was entered twice."""
    lines = told(tmp_path, ("mixing_order: [part_1, part_2]", "mixing_order: [part_1, part_2, part_1]"))
    assert lines == [
        f"site_data/house.yml:{line_of(FIFTH, 'mixing_order')}: nutrients.mixing_order: part_1 stands in mixing_order more than once. "
        "Each part is mixed in once. Keep one of the two. [E32]"
    ]


@pytest.mark.parametrize("text", ["9999-12-31", "0001-01-01", "2200-01-01"])
def test_days_at_the_ends_of_the_calendar(tmp_path: Path, text: str) -> None:
    """A day reckoned from them lay past what a calendar holds."""
    lines = told(tmp_path, ("last: 2031-04-28", f"last: {text}"))
    assert lines == [
        f'site_data/house.yml:{line_of(FIFTH, "last: 2031-04-28")}: meters[pH meter].last: "{text}" is no day of this work. '
        "From 1970-01-01 to 2199-12-31. Look at the year. [E01]"
    ]


@pytest.mark.parametrize(
    ("option", "environment", "where"),
    [("9999-12-31", {}, "--date"), (None, {"SOURCE_DATE_EPOCH": "253402300799"}, "SOURCE_DATE_EPOCH")],
)
def test_a_day_asked_for_at_the_end_of_the_calendar(
    option: str | None, environment: dict[str, str], where: str
) -> None:
    house, _ = load_house(HOUSES / "fifth")
    assert house is not None
    assert str(resolve_day(option, environment, house)).startswith(
        f"{where}:1: date: 9999-12-31 is no day of this work. From 1970-01-01 to 2199-12-31."
    )


def test_a_time_of_a_billion_years(tmp_path: Path) -> None:
    """A date that far ahead cannot be reckoned."""
    lines = told(tmp_path, ('calibrate_every: "7 day"', 'calibrate_every: "999999999 year"'))
    assert lines == [
        f"site_data/house.yml:{line_of(FIFTH, 'calibrate_every: ')}: meters[pH meter].calibrate_every: "
        '"999999999 year" is over 100 years. Allowed is a time in s, min, h, day, week, month or year. '
        "Look at the unit and the decimal point. [E01]"
    ]


def test_a_number_of_many_digits(tmp_path: Path) -> None:
    """It was read as infinity."""
    lines = told(
        tmp_path, ('container: "2 L"', f'container: "{"9" * 400} L"'), ("ph: 7.4", f"ph: {'9' * 400}")
    )
    assert any(
        'L" has over 9 digits before the decimal point. Allowed is a volume' in line for line in lines
    ), lines
    assert any(
        "is not a plain number. A number with a decimal point and no unit, of 9 digits at most" in line
        for line in lines
    ), lines


@pytest.mark.parametrize("minutes", ["nan", "inf", "1e400", "-5", "1_0"])
def test_minutes_that_are_no_number(tmp_path: Path, minutes: str) -> None:
    lines = told_of_page(tmp_path, TEXT.replace("    minutes: 1\n", f"    minutes: {minutes}\n", 1).encode())
    wanted = f'procedures/{OWN_PAGE.name}:{line_of(TEXT, "    minutes: 1")}: steps[unplug].minutes: "{minutes}" is not a number of minutes.'
    assert any(line.startswith(wanted) for line in lines), lines


@pytest.mark.parametrize(
    "content",
    [TEXT.encode("utf-16"), TEXT.encode() + b"\xff", TEXT.encode()[:500] + b"\x85" + TEXT.encode()[500:]],
)
def test_a_page_that_is_not_utf_8(tmp_path: Path, content: bytes) -> None:
    assert told_of_page(tmp_path, content) == [
        f"procedures/{OWN_PAGE.name}:1: file: the file is not UTF-8 text. Save it as UTF-8."
    ]


def test_a_page_with_a_byte_order_mark(tmp_path: Path) -> None:
    """It seemed to have no front matter; the mark is no mistake."""
    (tmp_path / OWN_PAGE.name).write_bytes(b"\xef\xbb\xbf" + TEXT.encode())
    assert {view.document for view in made_site(HOUSES / "third", tmp_path).views} == {"SOP-90"}


def test_half_a_letter_in_a_text(tmp_path: Path) -> None:
    """It cannot be written to any file."""
    broken = TEXT.replace('do: "Unplug the pump."', "do: \"Unplug the pump. {{ '\\\\ud800' }}\"")
    lines = told_of_page(tmp_path, broken.encode())
    wanted = f"procedures/{OWN_PAGE.name}:{line_of(TEXT, 'Unplug the pump')}: text: the text holds U+D800 (a control character), which is not seen"
    assert any(line.startswith(wanted) for line in lines), lines


# ------------------------------------------------------------------ messages nobody could read


def test_a_long_value_is_quoted_by_its_ends() -> None:
    message = str(
        Problem(Place("a.yml", 1), "key" * 500, f'"{"w" * 50_000}" is no number', "A number", "Write one")
    )
    assert len(message) < 1_100
    assert re.fullmatch(
        r'a\.yml:1: (?:key){50} \.\.\. (?:key){50}: "w+ \.\.\. w+" is no number\. A number\. Write one\.',
        message,
    )


def test_a_message_stays_on_its_line(tmp_path: Path) -> None:
    lines = told(tmp_path, ('ec: "0.30 mS/cm"', 'ec: "a\\nb"'))
    assert lines[0].startswith(
        f'site_data/house.yml:{line_of(FIFTH, "ec: ")}: water_source.ec: "a b" is not a number with a unit.'
    )
    assert len(lines) == 1


# ------------------------------------------------------------------ hangs


def test_sixty_thousand_entries_of_an_unknown_list(tmp_path: Path) -> None:
    house = made_house(tmp_path, name="fifth")
    _within_ten_seconds(
        house, "extra: [" + "1," * 60_000 + "1]\n", "extra is not a known section. Did you mean meters?"
    )


def test_ten_thousand_sections(tmp_path: Path) -> None:
    house = made_house(tmp_path, name="fifth")
    _within_ten_seconds(
        house, "".join(f"k{number}: [1]\n" for number in range(10_000)), "k0 is not a known section."
    )


def test_thousands_of_tools(tmp_path: Path) -> None:
    tool = '  - {{name: "t{}", capacity: "3 mL", mark: "0.1 mL", smallest_use: "0.5 mL", for: [sanitizer]}}\n'
    many = "measuring_tools:\n" + "".join(tool.format(number) for number in range(5_000))
    house = made_house(tmp_path, ("measuring_tools:\n", many), name="fifth")
    _within_ten_seconds(
        house, "", "measuring_tools: there are 5009 entries. At most 500. Look for entries written twice."
    )


def _within_ten_seconds(house: Path, more: str, message: str) -> None:
    file = house / "site_data" / "house.yml"
    file.write_text(file.read_text(encoding="utf-8") + more, encoding="utf-8")
    began = time.process_time()
    _, problems = load_house(house)
    assert time.process_time() - began < 10
    assert any(message in str(problem) for problem in problems)
