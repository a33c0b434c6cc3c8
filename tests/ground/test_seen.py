"""What an eye sees of a text, and words of others made fit to be shown."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.ground.problems import Place, Problem
from macros.ground.seen import as_seen, shows_nothing, visible, visible_line
from macros.ground.yaml_source import read_yaml_text
from macros.house import load_house
from tests.making import made_house


@pytest.mark.parametrize(
    "text", ["", " ", "\u00a0", "\u200b", "\u200d\u200c", "\u3164", "\u2800", "\u0301", " \n\t", "\ufe0f"]
)
def test_texts_that_show_nothing(text: str) -> None:
    assert shows_nothing(text)


@pytest.mark.parametrize("text", ["a", "0", "-", "…", "é", "名", "ع", "🙂", " x "])
def test_texts_that_show_something(text: str) -> None:
    assert not shows_nothing(text)


@pytest.mark.parametrize(
    ("one", "other"),
    [("Nitric acid", "nitric  acid "), ("Acid", "A\u200dcid"), ("Acid 1", "Acid\u00a01"), ("ｐＨ", "pH")],
)
def test_texts_that_look_alike(one: str, other: str) -> None:
    assert as_seen(one) == as_seen(other)
    assert as_seen(one) != as_seen("Base")


@pytest.mark.parametrize("unseen", ["\u200b", "\u200e", "\u200f", "\u061c", "\u00ad", "\u2060", "\ufeff"])
def test_a_character_nobody_sees_is_refused_in_facts(unseen: str) -> None:
    _, problems = read_yaml_text(f'a: "10{unseen} - 20 mL"\n', "x.yml")
    assert [str(one) for one in problems] == [
        str(one) for one in problems if f"U+{ord(unseen):04X}" in str(one)
    ]
    assert str(problems[0]).startswith("x.yml:1: a: the text holds U+")
    assert "which is not seen and can turn the order of numbers" in str(problems[0])


def test_words_of_others_are_made_visible_and_kept_short() -> None:
    assert visible("a\x1b[2Jb\u202e\nc\td") == "a<U+001B>[2Jb<U+202E>\nc\td"
    assert visible_line("a\nb") == "a b"
    assert visible("x" * 50, 10) == "xxxxx ... xxxxx"
    problem = Problem(Place("\x1b[2J.yml", 3), "k\x07", "\x9b0m" + "y" * 10_000, "\u2066", "\x00")
    assert all(one.isprintable() for one in str(problem))
    assert len(str(problem)) < 1_000


def test_a_tag_or_a_column_turns_no_terminal(tmp_path: Path) -> None:
    """A tag can hold any byte as %1B, a header of a log as it is."""
    house = made_house(tmp_path)
    (house / "site_data" / "zz.yml").write_text("a: !%1B%5B2J x\n", encoding="utf-8")
    (house / "site_data" / "log").mkdir(exist_ok=True)
    (house / "site_data" / "log" / "a.csv").write_text("date,system,\x1b]0;no error\x07\n", encoding="utf-8")
    told = [str(one) for one in load_house(house)[1]]
    assert all(line.isprintable() for line in told)
    assert any("zz.yml:1: a: the YAML tag !<U+001B>[2J is used." in line for line in told)
    assert any("<U+001B>]0;no error<U+0007> is no column of a log" in line for line in told)
