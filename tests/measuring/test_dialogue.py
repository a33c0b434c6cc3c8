"""Answers to the questions: checked, saved where an owner would write them, taken back."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from macros.ground.yaml_source import Path_, read_yaml
from macros.house.files.load_house import load_house, sections_of
from macros.house.files.write_fact import Value
from macros.measuring.agenda import Asked
from macros.measuring.facts import Fact, facts_of
from macros.measuring.house_files import ChangedMeanwhile, HouseFiles
from tests.house.test_write_fact import lines_changed
from tests.making import bytes_below
from tests.measuring.sittings import Sitting, new_house
from tests.starting import OPTIONAL, Block, data_of, facts_with, switched_off_blocks


def text_of(house: Path, name: str) -> str:
    return (house / "site_data" / name).read_text(encoding="utf-8")


def changes(house: Path, before: dict[str, bytes]) -> list[str]:
    """The lines of all files that went and came."""
    found = []
    for name, now in bytes_below(house / "site_data").items():
        found += lines_changed(before[name].decode(), now.decode())
    return found


@pytest.fixture
def us(tmp_path: Path) -> Path:
    return new_house(tmp_path, us=True)


def test_a_us_house_types_as_it_reads_off_tape_and_label(us: Path) -> None:
    before = bytes_below(us / "site_data")
    answers = ["", "30 1/2", "22 in", "16", "", "q"]
    told = Sitting(us, answers, Asked("reservoir"), us=True).told
    assert changes(us, before) == [
        '-      inside_length: "24 in"',
        '+      inside_length: "30 1/2 in"  # checked',
        '-      inside_width: "16 in"',
        '+      inside_width: "22 in"  # checked',
        '-      inside_height: "16 in"',
        '+      inside_height: "16 in"  # checked',
    ]
    assert "That is 30.5 in." in told
    assert "Stands now: 24 in (assumed)." in told
    assert 'Measure it and write for example "32 in".' in told


def test_a_bare_percent_is_asked_for_its_basis_and_ppm_is_read(us: Path) -> None:
    told = Sitting(us, ["", "", "", "8.25 %", "8.25 % w/w", "q"], Asked("chemicals"), us=True).told
    assert '"8.25 %" does not say its basis.' in told
    assert 'strength: "8.25 % w/w"  # checked' in text_of(us, "chemicals.yml")
    told = Sitting(us, lambda asked: "20 ppm" if "residue" in asked else "", Asked("rinse"), us=True).told
    assert "That is 20 mg/L." in told


def test_an_answer_that_does_not_go_with_an_earlier_one_is_asked_with_it(us: Path) -> None:
    """A tank of 10 in cannot be filled to 12.5 in: both are written in one stroke, or neither."""
    before = bytes_below(us / "site_data")
    answers = ["", "", "", "10", "u", "q"]
    told = Sitting(us, answers, Asked("reservoir"), us=True).told
    assert "So system A, reservoir: fill mark height is asked with it." in told
    assert "Nothing was written." in told
    assert bytes_below(us / "site_data") == before
    Sitting(us, ["", "", "", "10", "8.5", "q"], Asked("reservoir"), us=True)
    assert [line for line in changes(us, before) if line.startswith("+")] == [
        '+      inside_height: "10 in"  # checked',
        '+      fill_mark_height: "8.5 in"  # checked',
    ]


def test_another_shape_switches_the_sizes_of_the_old_one_off(us: Path) -> None:
    before = bytes_below(us / "site_data")
    told = Sitting(us, ["cylinder", "24 in", "q"], Asked("reservoir"), us=True).told
    assert "Switched off with it: inside length, inside width." in told
    assert set(changes(us, before)) == {
        "-      shape: box",
        "+      shape: cylinder  # checked",
        '-      inside_length: "24 in"',
        '+      #inside_length: "24 in"',
        '-      inside_width: "16 in"',
        '+      #inside_width: "16 in"',
        '+      inside_diameter: "24 in"  # checked',
    }
    house, problems = load_house(us)
    assert house is not None, [str(one) for one in problems]


def test_the_last_answers_are_taken_back(us: Path) -> None:
    before = bytes_below(us / "site_data")
    told = Sitting(us, ["", "30", "20", "u", "u", "u", "q"], Asked("reservoir"), us=True).told
    assert bytes_below(us / "site_data") == before
    assert told.count("Taken back. The files are as they were before that answer.") == 2
    assert "There is no answer of this run to take back." in told


def test_right_as_it_stands_and_nothing_of_the_kind(us: Path) -> None:
    before = bytes_below(us / "site_data")
    basis = iter(["none", "q"])

    def answer(asked: str) -> str:
        if "where from" in asked:
            return next(basis)
        return "ok" if "inside length" in asked else "none" if "left after" in asked else ""

    said = Sitting(us, answer, Asked("reservoir"), us=True).told
    assert changes(us, before) == [
        '-      inside_length: "24 in"',
        '+      inside_length: "24 in"  # checked',
        '-      left_after_draining: "0.4 gal"',
        '+      #left_after_draining: "0.4 gal"',
    ]
    assert (
        '"none" is not one of the words for this.' in said
    )  # without its basis a tank would pass for measured


def test_what_waits_to_be_filled_in_is_not_right_as_it_stands(us: Path) -> None:
    told = Sitting(us, ["ok", "q"], Asked("poison_line"), us=True).told
    assert "It still waits to be filled in." in told


def test_a_number_of_help_is_text_and_a_command_in_quotes_is_a_word(us: Path) -> None:
    Sitting(us, ["911", "q"], Asked("ambulance"), us=True)
    Sitting(us, ['"u"', "q"], Asked("owner_phone"), us=True)
    text = text_of(us, "house.yml")
    assert "    ambulance_fire: 911\n" in text
    assert "    owner_phone: u\n" in text


def test_a_record_that_was_missing_and_one_more_chemical(us: Path) -> None:
    Sitting(us, ["y", "13", "10 ft", "q"], Asked("room"), us=True)
    room = text_of(us, "optional.yml")
    assert "\nroom:\n" in room
    assert '\n  length: "13 ft"\n' in room
    assert '\n  width: "10 ft"\n' in room

    typed = iter(["ph_up", "pH up", "base", "potassium hydroxide", "10 % w/v", "1", "1 gal", "2", "q"])
    asked: list[str] = []

    def answer(question: str) -> str:
        asked.append(question)
        if "One more chemical?" in question:
            return "y"
        return next(typed) if any("One more chemical?" in one for one in asked) else ""

    told = Sitting(us, answer, Asked("chemicals"), us=True).told
    source, _ = read_yaml(us / "site_data" / "chemicals.yml", "chemicals.yml")
    assert source is not None
    assert source.data["chemicals"][2]["id"] == "ph_up", told


def test_a_file_changed_meanwhile_is_not_overwritten(us: Path) -> None:
    file = us / "site_data" / "systems.yml"
    edited = file.read_text(encoding="utf-8").replace('"Rack A"', '"North rack"')
    calls = iter(["", "edit", "30", "q"])

    def answer(question: str) -> str:
        word = next(calls)
        if word != "edit":
            return word
        file.write_text(edited, encoding="utf-8")
        return "30"

    told = Sitting(us, answer, Asked("reservoir"), us=True).told
    assert "site_data/systems.yml was changed by somebody else since it was read." in told
    assert file.read_text(encoding="utf-8") == edited.replace(
        '_length: "24 in"', '_length: "30 in"  # checked'
    )


def test_files_that_changed_are_told_before_a_byte_is_written(us: Path) -> None:
    files = HouseFiles(us)
    file = us / "site_data" / "water.yml"
    file.write_bytes(b"# mine\n")
    with pytest.raises(ChangedMeanwhile, match=r"^site_data/water\.yml was changed by somebody else"):
        files.write({"water.yml": "x"})
    assert file.read_bytes() == b"# mine\n"


def test_the_mark_and_line_ends_of_a_windows_file_stay(us: Path) -> None:
    file = us / "site_data" / "systems.yml"
    old = b"\xef\xbb\xbf" + file.read_bytes().replace(b"\n", b"\r\n")
    file.write_bytes(old)
    Sitting(us, ["", "30", "q"], Asked("reservoir"), us=True)
    assert file.read_bytes() == old.replace(b'_length: "24 in"', b'_length: "30 in"  # checked', 1)


def test_all_of_a_tank_makes_its_pages_the_owners(us: Path) -> None:
    """Where all that is first is given, some pages are own; the count is told."""
    sitting = Sitting(us, ["q"], us=True)
    first = {item.what.name for item in sitting.dialogue.queue if item.tier == "first"}
    own = sitting.dialogue.rests.own(set(sitting.dialogue.now.open) - first)
    assert 0 < len(own) < len(sitting.dialogue.rests.pages)
    assert re.search(
        r"^0 of \d+ facts are yours\. 0 of \d+ pages are your own\.$", sitting.told, re.MULTILINE
    )


SCALED = {"0.9": 0.9, "1.1": 1.1}


def test_random_answers_equal_the_same_edit_by_hand(tmp_path: Path) -> None:
    """100 facts of a new house a little larger or smaller: what is saved is the old text with that value put in."""
    house = new_house(tmp_path)
    source, _ = sections_of(house)
    assert source is not None
    numbers = [
        fact
        for fact in facts_of(source)
        if isinstance(fact, Fact)
        and isinstance(fact.value, str)
        and re.fullmatch(r"\d+(\.\d+)? \S+", fact.value)
    ]
    draw = random.Random(22)
    files = HouseFiles(house)
    for _ in range(100):
        fact = draw.choice(numbers)
        number, _, unit = str(fact.value).partition(" ")
        answer = f"{float(number) * draw.choice(list(SCALED.values())):.4g} {unit}"
        name, line = files.file_of(str(fact.path[0])), source.place(fact.path).line - 1
        lines = files.texts[name].split("\n")
        assert lines[line].count(f'{fact.field}: "{fact.value}"') == 1
        lines[line] = lines[line].replace(f'{fact.field}: "{fact.value}"', f'{fact.field}: "{answer}"')
        assert files.with_stroke({fact.path: answer}) == {name: "\n".join(lines)}


def test_another_sanitizer_asks_for_what_changes_with_it_and_nothing_is_lost(us: Path) -> None:
    """A bottle of bleach in place of peroxide: names follow, strips are bought anew with their pads, 200 ppm is chlorine."""
    answers = [
        "bleach",
        "Household bleach",
        "sodium hypochlorite",
        "1.11",
        *["200 ppm", "400 ppm"],
        "400 ppm",
        "200 ppm",
    ]
    answers += ["200 ppm", "400 ppm", "100 ppm", "", "200 ppm", "free_chlorine", "free_chlorine"]
    answers += ["0 25 50 100 200 ppm", "0, 0.5, 1, 3, 10", "0.5 ppm", "q"]
    told = Sitting(us, answers, Asked("chemicals"), us=True).told
    assert "That is 200 mg/L of what the label counts, for chlorine bleach the available chlorine." in told
    assert "This goes with the answers before it: type what it is now. u gives them all up." in told
    assert "bleach: name" in told  # what follows a renamed thing is still asked
    assert text_of(us, "sanitizing.yml").count("chemical: bleach") == 4
    chemicals = text_of(us, "chemicals.yml")
    assert chemicals.count("measures: free_chlorine") == 2
    assert 'pads: ["0 ppm", "25 ppm", "50 ppm", "100 ppm", "200 ppm"]' in chemicals
    house, problems = load_house(us)
    assert house is not None, problems
    assert house.sanitizing is not None
    spray = house.sanitizing.tasks["tray_spray"]
    assert spray.target.percent == pytest.approx(0.0209974, rel=1e-5)  # 200 x 74.442 / 70.906 mg/L of NaOCl
    assert "is of hydrogen peroxide, and the house uses chlorine bleach" in "\n".join(map(str, problems))


def test_varieties_come_before_the_plan_and_another_tank_before_both(us: Path) -> None:
    queue = Sitting(us, ["q"], us=True).dialogue.queue
    names = [item.what.name for item in queue]
    assert names.index("systems") < names.index("varieties") < names.index("crop_plan")
    assert names.index("chemicals[peroxide].active") < names.index("chemicals[peroxide].strength")


@pytest.mark.parametrize("us", [False, True], ids=["metric", "us"])
def test_each_optional_fact_finds_its_place(tmp_path: Path, us: bool) -> None:
    """None is in the way of another: they stand as the starter has them, typed one by one or, as an addition, at once."""
    house = new_house(tmp_path, us)
    files = HouseFiles(house)
    blocks = switched_off_blocks(us).values()
    for block in blocks:
        for stroke in [dict(_leaves(block.value, block.path))] if us else strokes(block):
            files.write(files.with_stroke(stroke))
    source, problems = sections_of(house)
    assert problems == []
    assert source is not None
    assert source.data == data_of(facts_with(blocks, us)["house.yml"])
    for block in blocks:
        alone = len(block.path) == 1
        told = source.place(block.path).file.removeprefix("site_data/")
        assert (told == OPTIONAL) is alone, block.path
    assert load_house(house)[0] is not None


def strokes(block: Block) -> list[dict[Path_, Value | None]]:
    """The facts of a block as they are typed: those of a new list entry at once, any other by itself."""
    found: dict[Path_, dict[Path_, Value | None]] = {}
    for path, value in _leaves(block.value, block.path):
        entry = [n for n, step in enumerate(path) if isinstance(step, int) and n >= len(block.path) - 1]
        found.setdefault(path[: entry[-1] + 1] if entry else path, {})[path] = value
    return list(found.values())


def _leaves(value: Any, path: Path_) -> Iterator[tuple[Path_, Value]]:
    if isinstance(value, dict):
        for name, one in value.items():
            yield from _leaves(one, (*path, name))
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for number, one in enumerate(value):
            yield from _leaves(one, (*path, number))
    else:
        yield path, tuple(value) if isinstance(value, list) else value
