"""One slip gives one message, at its line: what follows from it is held back. And a fact pages lack is told in the house."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.amounts import compute_amounts
from macros.amounts.engine.explain import explain
from macros.ground.problems import DataProblems, errors_in
from macros.ground.yaml_source import read_yaml
from macros.house import load_house
from macros.manual.pages.build_page import build_pages
from macros.manual.procedures.write_text import TextWriter
from macros.site.site import read_house
from tests.facts import leaves
from tests.making import HOUSES, PROCEDURES, made_house

HOUSE = "site_data/house.yml"


@pytest.mark.parametrize("name", ["second", "fourth"])
@pytest.mark.parametrize("slip", ["decimal comma", "a word"])
def test_a_slip_in_any_value_is_told_once(tmp_path: Path, name: str, slip: str) -> None:
    source, _ = read_yaml(HOUSES / name / HOUSE, HOUSE)
    assert source is not None
    text = (HOUSES / name / HOUSE).read_text(encoding="utf-8").split("\n")
    (tmp_path / "site_data").mkdir()
    tried = 0
    every = 5 if name == "fourth" else 1  # the large house takes long
    for path, value in list(leaves(source.data))[::every]:
        at = source.place(path).line
        typed, bad = f'{path[-1]}: "{value}"', value.replace(".", ",") if slip == "decimal comma" else "x?"
        if path[-1] == "name":
            continue  # it may be any text: told is what asks for another
        if bad == value or text[at - 1].count(typed) != 1:
            continue
        changed = [*text[: at - 1], text[at - 1].replace(typed, f'{path[-1]}: "{bad}"'), *text[at:]]
        (tmp_path / HOUSE).write_text("\n".join(changed), encoding="utf-8")
        told = [str(problem) for problem in errors_in(load_house(tmp_path)[1])]
        tried += bool(told)
        assert len(told) <= 1, told
        assert all(one.startswith(f"{HOUSE}:{at}: ") for one in told), told
    assert tried > 10


def test_a_file_that_cannot_be_read_is_all_that_is_told(tmp_path: Path) -> None:
    """A colon in a telephone number once gave "gal in a metric house" nineteen times."""
    folder = made_house(
        tmp_path, ('owner_phone: "555-0111 (fictional)"', "owner_phone: office: 555-0111"), name="second"
    )
    told = [str(problem) for problem in load_house(folder)[1]]
    assert len(told) == 1
    assert "Put the text in quotes: owner_phone:" in told[0]


def test_a_name_that_leads_nowhere_is_told_once_with_its_lines(tmp_path: Path) -> None:
    folder = made_house(tmp_path, ("- {id: bleach,", "- {id: bleech,"), name="second")
    told = [str(problem) for problem in errors_in(load_house(folder)[1]) if "is no stock" in str(problem)]
    assert len(told) == 1
    assert told[0].startswith(
        f"{HOUSE}:51: sanitizing.tasks.tray_spray.chemical: bleach is no stock of the house, and so at"
    )
    assert told[0].endswith("There are bleech, acid. Did you mean bleech?")


@pytest.mark.parametrize(
    ("change", "fact"),
    [
        ((', wet_time: "5 min"', ""), "sanitizing.tasks.tray_spray.wet_time"),
        ((', coverage: "0.5 fl_oz/ft^2"', ""), "sanitizing.tasks.tray_spray.coverage"),
        (('rate_trays: "0.05 us_gal/ft^2", ', ""), "sanitizing.rinse.rate_trays"),
        ((', drain_for_waste: "utility sink to the sewer"', ""), "house.places.drain_for_waste"),
    ],
)
def test_what_pages_lack_is_told_in_the_house(tmp_path: Path, change: tuple[str, str], fact: str) -> None:
    folder = made_house(tmp_path, change, name="second")
    try:
        register, files, _ = read_house(folder, PROCEDURES, None, {})
        problems = build_pages(files, register, TextWriter())[1]
    except DataProblems as refused:
        problems = refused.problems
    told = {str(problem) for problem in errors_in(problems)}
    line = str(next(iter(told))).split(":")[1]
    assert told == {
        f"{HOUSE}:{line}: {fact}: this is missing, and pages of the manual ask for it. Write it here."
    }


def test_pads_of_a_strip_are_told_as_they_are_written() -> None:
    house, _ = load_house(HOUSES / "second")
    assert house is not None
    assert house.house.as_of is not None
    register = compute_amounts(house, house.house.as_of, house.house.place("as_of"))
    told = [explain(amount) for amount in register.all()]
    assert any("0 mg/L, 10 mg/L, 25 mg/L" in text for text in told)
    assert not any("Quantity(" in text for text in told)


def test_no_line_to_fill_to_lies_under_the_one_before(tmp_path: Path) -> None:
    """What goes in first stands at or under the whole, whatever the marks of the scale."""
    for number, (mark, height) in enumerate([("0.25 in", "15.3"), ("0.5 in", "16.84"), ("0.125 in", "14.9")]):
        changes = (
            ('fill_mark_height: "15 in"', f'fill_mark_height: "{height} in"'),
            ('mark: "0.25 in", smallest_use: "1 in"', f'mark: "{mark}", smallest_use: "1 in"'),
        )
        house, problems = load_house(made_house(tmp_path / str(number), *changes, name="second"))
        assert house is not None, problems
        assert house.house.as_of is not None
        register = compute_amounts(house, house.house.as_of, house.house.place("as_of"))
        marks = {
            one: float(register.get(one, system="N", **of).tool.split(" at ")[1].split()[0])
            for one, of in (
                ("fill_first", {}),
                ("res_fill", {}),
                ("water_for_batch", {"task": "loop_circulate"}),
                ("loop_volume", {"task": "loop_circulate"}),
            )
        }
        assert marks["fill_first"] <= marks["res_fill"]
        assert marks["water_for_batch"] <= marks["loop_volume"]
