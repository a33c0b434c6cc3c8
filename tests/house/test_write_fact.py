"""Facts written into a house file: what an owner would do by hand, and every other byte as it was."""

from __future__ import annotations

import difflib

import pytest

from macros.ground.yaml_source import Path_, read_yaml_text
from macros.house.files.starter_explanations import starter_facts
from macros.house.files.write_fact import NotChanged, as_yaml, with_entry, with_facts


def lines_changed(old: str, new: str) -> list[str]:
    """The lines that went and came, with - and +."""
    diff = difflib.unified_diff(old.splitlines(), new.splitlines(), n=0, lineterm="")
    return [line for line in diff if not line.startswith(("---", "+++", "@@"))]


@pytest.mark.quick
def test_a_value_is_written_over_another_and_its_comment_stays() -> None:
    text = 'a:\n  long: "1 m"   # twice\n  list: [one, "two 2"]\n'
    assert with_facts(text, {("a", "long"): "2 m"}) == text.replace('"1 m"', '"2 m"')
    assert with_facts(text, {("a", "list"): ("3 m", "b")}) == text.replace('[one, "two 2"]', '["3 m", b]')


def test_a_fact_that_is_switched_off_is_switched_on_where_it_stands() -> None:
    stones = '      #air_stones:\n        # How many.\n        #count: 1\n        # Each.\n        #airflow_each: "3 L/min"\n'
    text = f"systems:\n  - id: A\n    reservoir:\n      shape: box\n{stones}    pump:\n      derate: 0.80\n"
    tank: Path_ = ("systems", 0, "reservoir")
    facts = {(*tank, "air_stones", "count"): "2", (*tank, "air_stones", "airflow_each"): "4 L/min"}
    assert lines_changed(text, with_facts(text, facts)) == [
        "-      #air_stones:",
        "+      air_stones:",
        "-        #count: 1",
        "+        count: 2",
        '-        #airflow_each: "3 L/min"',
        '+        airflow_each: "4 L/min"',
    ]


def test_a_whole_section_is_switched_on() -> None:
    text = starter_facts()["optional.yml"]
    assert lines_changed(text, with_facts(text, {("room", "width"): "3.1 m"})) == [
        "-#room:",
        "+room:",
        '-  #width: "3.0 m"',
        '+  width: "3.1 m"',
    ]


def test_a_fact_that_stands_nowhere_comes_behind_the_last_of_its_record() -> None:
    text = "a:\n  b:\n    c: 1  # one\n    # about nothing\n  d: 2\n"
    assert with_facts(text, {("a", "b", "e"): "5"}) == text.replace("# one\n", "# one\n    e: 5\n")


def test_a_fact_is_switched_off_and_on_again() -> None:
    text = 'a:\n  b: 1  # one\n  c: "2 m"\n'
    off = with_facts(text, {("a", "c"): None})
    assert off == text.replace("  c:", "  #c:")
    assert with_facts(off, {("a", "c"): "2 m"}) == text


def test_lists_and_records_in_brackets() -> None:
    text = 'a:\n- {id: low, pads: ["0 m", "1 m"]}   # tube\n'
    assert with_facts(text, {("a", 0, "name"): "low strip"}) == text.replace(
        '"1 m"]}', '"1 m"], name: "low strip"}'
    )
    assert with_facts(text, {("a", 0, "pads"): ("2 m",)}) == text.replace('["0 m", "1 m"]', '["2 m"]')


def test_an_entry_comes_behind_the_last_with_its_switched_off_facts() -> None:
    text = "a:\n  - id: one\n    #more: 1\nb: 2\n"
    entry = {"id": "two", "of": {"x": "1 m"}}
    wanted = '    #more: 1\n  - id: two\n    of:\n      x: "1 m"\nb: 2\n'
    assert with_entry(text, ("a",), entry) == text.replace("    #more: 1\nb: 2\n", wanted)
    assert with_entry("a: [{id: one}]\n", ("a",), entry) == 'a: [{id: one}, {id: two, of: {x: "1 m"}}]\n'
    assert with_entry("#a:\n  #- id: x\n", ("a",), {"id": "y"}) == "a:\n  - id: y\n  #- id: x\n"


def test_line_ends_of_windows_stay() -> None:
    text = 'a:\r\n  b: "1 m"  # b\r\n  #c: 1\r\n'
    assert with_facts(text, {("a", "b"): "2 m", ("a", "c"): "3", ("a", "d"): "4"}) == (
        'a:\r\n  b: "2 m"  # b\r\n  c: 3\r\n  d: 4\r\n'
    )


@pytest.mark.parametrize(
    "value",
    ["1", "1.50", "2026-01-31", "leafy", "null", "true", "on #1: x", 'a "b" \\ c', "'", "- x", "", "=1", "é"],
)
def test_any_text_is_read_back_as_it_was(value: str) -> None:
    source, problems = read_yaml_text(f"a: {as_yaml(value)}\n", "x")
    assert problems == []
    assert source is not None
    assert source.data == {"a": value}


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("a:\n  - one\n  # why\n  - two\n", ("a",)),
        ("a:\n  b: 1\n", ("a",)),
        ("a: [1]\n", ("a", 3, "b")),
    ],
)
def test_what_is_written_otherwise_is_refused(text: str, path: Path_) -> None:
    with pytest.raises(
        NotChanged, match=r"line 2 is written in a form|no entry|form that is not changed here"
    ):
        with_facts(text, {path: "9"})
