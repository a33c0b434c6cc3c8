"""Facts that would print a wrong figure, a blank or two things of one name are refused, each in words."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from macros.house import load_house
from macros.house.files.facts_as_written import written_facts
from tests.making import made_house

NOTHING = "nothing that can be read is written here. What stands here is printed, and somebody looks for it. Write it, or remove the line. [E01]"


def told(folder: Path, *changes: tuple[str, str], name: str = "first") -> list[str]:
    house, problems = load_house(made_house(folder, *changes, name=name))
    assert house is None
    return [str(problem).partition(": ")[2] for problem in problems if problem.severity == "error"]


@pytest.mark.parametrize("empty", ["", " ", "\u3164", "\u200d"])
@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("house.places.eyewash", "tap with two jets at the sink, 5 steps"),
        ("house.places.breaker_panel", "hall, breaker 3"),
        ("house.places.water_shutoff", "under the sink"),
        ("house.places.first_aid", "shelf"),
        ("house.emergency.ambulance_fire", "112"),
        ("house.emergency.owner_phone", "555-0102 (fictional)"),
        ("chemicals[down].name", "pH-down, nitric acid"),
    ],
)
def test_a_safety_text_is_never_empty(tmp_path: Path, field: str, text: str, empty: str) -> None:
    assert told(tmp_path, (f'"{text}"', f'"{empty}"')) == [f"{field}: {NOTHING}"]


@pytest.mark.parametrize("unseen", ["\u200b", "\u200e", "\u200f", "\u061c"])
def test_no_name_holds_what_nobody_sees(tmp_path: Path, unseen: str) -> None:
    lines = told(tmp_path, ("pH-down, nitric acid", unseen))
    assert any(f"the text holds U+{ord(unseen):04X}" in line for line in lines)


@pytest.mark.parametrize(
    "name", ["pH-up, potassium hydroxide", "PH-UP,  potassium hydroxide", "pH-up, potassium\u00a0hydroxide"]
)
def test_two_bottles_never_share_a_name(tmp_path: Path, name: str) -> None:
    (line,) = told(tmp_path, ("pH-down, nitric acid", name))
    assert line == (
        "chemicals[up].name: chemicals and nutrients.parts: two entries named pH-up, potassium hydroxide (the first at "
        "site_data/house.yml:28). Each name stands for one thing. Rename one. [E32]"
    )


def test_a_price_in_another_currency_than_the_house(tmp_path: Path) -> None:
    priced = ('container: "1 L", containers_in_stock: 1, opened: 2031-01-10, expires: 2033-01-01, ppe: [goggles, gloves_chem]}\nnutrients', 'container: "1 L", containers_in_stock: 1, price_per_container: "9.60 USD"}\nnutrients')  # fmt: skip
    (line,) = told(tmp_path, priced)
    assert line == (
        'chemicals[up].price_per_container: "9.60 USD" is in USD, and site_data/house.yml:6 counts in EUR. Costs are added, so '
        "all prices of a house are in one currency. Write this price in it, or mend house.currency."
    )


def test_without_a_currency_of_the_house_the_first_price_counts(tmp_path: Path) -> None:
    text = "containers_in_stock: 1, opened: 2031-01-10, expires: 2033-01-01, ppe: [goggles, gloves_chem]}\n"
    house = made_house(tmp_path)
    file = house / "site_data" / "house.yml"
    facts = file.read_text().replace("  currency: EUR\n", "")
    first, second, rest = facts.split(text)
    file.write_text(f'{first}containers_in_stock: 1, price_per_container: "9.60 EUR"}}\n{second}containers_in_stock: 1, price_per_container: "9.60 USD"}}\n{rest}')  # fmt: skip
    problems = [str(one) for one in load_house(house)[1] if one.severity == "error"]
    assert len(problems) == 1
    assert (
        'chemicals[up].price_per_container: "9.60 USD" is in USD, and site_data/house.yml:28 counts in EUR.'
        in problems[0]
    )


def test_a_sheet_of_an_unknown_variety(tmp_path: Path) -> None:
    assert told(tmp_path, ("  sheet_2: [rocket]", "  sheet_2: [rockett]"), name="fifth") == [
        "sow_layout.sheet_2: rockett is no variety of the house. There are viola, rocket, lettuce. Did you mean rocket?"
    ]


LOG = "date,system,{}\n2031-04-02,K,{}\n"


@pytest.mark.parametrize(
    ("columns", "values", "what"),
    [
        ("level_cm,level_in", "10,4", "the columns level_cm and level_in say the same, and one of the two would be lost."),
        ("ph,ph", "6.0,6.1", "ph stands there twice."),
        ("temperature_C,temperature_F", ",", "the columns temperature_C and temperature_F say the same, and one of the two would be lost."),
    ],
)  # fmt: skip
def test_a_log_says_nothing_twice(tmp_path: Path, columns: str, values: str, what: str) -> None:
    house = made_house(tmp_path)
    (house / "site_data" / "log").mkdir(exist_ok=True)
    (house / "site_data" / "log" / "a.csv").write_text(LOG.format(columns, values))
    found, problems = load_house(house)
    assert found is None
    assert str(problems[0]).startswith(f"site_data/log/a.csv:1: log.header: {what} Keep one.")


def test_a_value_of_a_log_too_long_to_be_one(tmp_path: Path) -> None:
    house = made_house(tmp_path)
    (house / "site_data" / "log").mkdir(exist_ok=True)
    (house / "site_data" / "log" / "a.csv").write_text(LOG.format("note", '"' + "x" * 140_000))
    found, problems = load_house(house)
    assert found is None
    assert [str(one) for one in problems] == [
        "site_data/log/a.csv:1: log.row: a value has over 131072 characters. Look for a quotation mark that nothing closes: it "
        "makes one value of many lines."
    ]


def test_a_line_end_only_a_program_sees_parts_no_row(tmp_path: Path) -> None:
    house = made_house(tmp_path)
    (house / "site_data" / "log").mkdir(exist_ok=True)
    (house / "site_data" / "log" / "a.csv").write_text(LOG.format("note", "calm\u20282031-04-03 K made up"))
    found, problems = load_house(house)
    assert found is None
    assert "the text holds U+2028 (line separator)" in str(problems[0])


def test_a_unit_of_the_right_kind_is_not_told_to_be_of_another(tmp_path: Path) -> None:
    lines = told(tmp_path, ('name: "stick", capacity: "40 cm"', 'name: "stick", capacity: "0.4 m"'))
    said = (
        'measuring_tools[stick].capacity: "0.4 m" has the unit "m", which is not used for this. Allowed is '
    )
    assert [line for line in lines if line.startswith(said)] == lines[:1]


def test_facts_of_one_name_are_all_kept_and_told_apart_in_a_line(tmp_path: Path) -> None:
    """5,000 seed lots of one variety took a quarter of a minute."""
    house = made_house(tmp_path, name="fifth")
    lot = "  - {id: L1, variety: viola, treatment: untreated, germination: 0.80, seeds_tested: 10, tested: 2031-02-01}\n"
    file = house / "site_data" / "house.yml"
    text = file.read_text()
    assert text.count("\nseed_lots:\n") == 1
    file.write_text(text.replace("\nseed_lots:\n", "\nseed_lots:\n" + lot * 3000))
    found, problems = load_house(house)
    assert found is not None, [str(one) for one in problems][:3]
    began = time.process_time()
    facts = written_facts(found)
    assert time.process_time() - began < 5
    assert sum(name.startswith("seed_lots[") and "].tested" in name for name in facts) >= 3000
