"""120 slips of people: the first message names the line and the cure, and the cure followed ends the problem."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from macros.ground.problems import errors_in, in_order
from macros.house import load_house
from tests.broken.slips import CSV_SLIPS, MENDED, MENDED_LOG, ROWS, YAML_SLIPS
from tests.making import HOUSES

HOUSE = "site_data/house.yml"
GOOD = (HOUSES / "second" / HOUSE).read_text(encoding="utf-8")


def told(folder: Path, text: str, log: str = "") -> list[str]:
    """The errors of the second house with this text and this log, in the order a command tells them."""
    (folder / "site_data" / "log").mkdir(parents=True)
    (folder / HOUSE).write_text(text, encoding="utf-8")
    if log:
        (folder / "site_data" / "log" / "2032.csv").write_text(log, encoding="utf-8")
    return [str(problem) for problem in in_order(errors_in(load_house(folder)[1]))]


def first_line_that_differs(one: str, other: str) -> int:
    pairs = zip(one.split("\n"), other.split("\n"), strict=False)
    return next(number for number, (left, right) in enumerate(pairs, start=1) if left != right)


def mended_text(meant: str, typed: str) -> str:
    """What is written by somebody who does what the message says: its own words, else what was meant."""
    return MENDED.get(typed, meant)


@pytest.mark.parametrize(
    ("meant", "typed", "cure"), YAML_SLIPS, ids=[typed[:40] for _, typed, _ in YAML_SLIPS]
)
def test_a_slip_in_yaml(tmp_path: Path, meant: str, typed: str, cure: str) -> None:
    assert meant in GOOD, meant
    text = GOOD.replace(meant, typed, 1)
    messages = told(tmp_path, text)
    line = first_line_that_differs(GOOD, text)
    assert messages, "nothing is told"
    assert messages[0].startswith(f"{HOUSE}:{line}: "), messages
    assert cure in messages[0], messages
    assert len(messages) <= 3, messages
    mended = GOOD.replace(meant, mended_text(meant, typed), 1)
    left = [one for one in told(tmp_path / "mended", mended) if one.startswith(f"{HOUSE}:{line}: ")]
    assert left == [], f"the cure was followed, and this is told: {left}"


@pytest.mark.parametrize(("name", "log", "line", "cure"), CSV_SLIPS, ids=[one[0] for one in CSV_SLIPS])
def test_a_slip_in_csv(tmp_path: Path, name: str, log: str, line: int, cure: str) -> None:
    messages = told(tmp_path, GOOD, log)
    assert messages, "nothing is told"
    assert messages[0].startswith(f"site_data/log/2032.csv:{line}: "), messages
    assert cure in messages[0], messages
    left = told(tmp_path / "mended", GOOD, MENDED_LOG.get(name, ROWS))
    assert left == [], f"the cure was followed, and this is told: {left}"


def test_what_was_meant_is_read(tmp_path: Path) -> None:
    assert told(tmp_path, GOOD, ROWS) == []


def test_there_are_enough_slips() -> None:
    assert set(MENDED) <= {typed for _, typed, _ in YAML_SLIPS}
    assert set(MENDED_LOG) <= {name for name, _, _, _ in CSV_SLIPS}
    assert len(set(YAML_SLIPS)) >= 80
    assert len({log for _, log, _, _ in CSV_SLIPS}) >= 40


def test_no_message_speaks_as_a_program_or_in_other_units(tmp_path: Path) -> None:
    """All messages of all slips, made in a US house: no words of the program, no long numbers, none of the metric units."""
    texts = [(GOOD.replace(meant, typed, 1), "") for meant, typed, _ in YAML_SLIPS]
    texts += [(GOOD, log) for _, log, _, _ in CSV_SLIPS]
    of_program = re.compile(r"Quantity\(|\bfloat\b|\bNone\b|\bdict\b|Traceback|token|\d\.?\d*e[+-]\d")
    metric = re.compile(r"\d (?:m|cm|mm|L|kg|degC|L/min|L/h|K)\b")
    for number, (text, log) in enumerate(texts):
        for message in told(tmp_path / str(number), text, log):
            said = re.sub(r'"[^"]*"', "", message.partition(": ")[2])  # what was typed is told as it was
            assert of_program.search(message) is None, message
            assert re.search(r"\d{7}|\d\.\d{6}", said) is None, message
            if " degC (" not in said and "1.5 mS/cm" not in said:
                assert metric.search(said) is None, message
